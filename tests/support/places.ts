import type { Job, Placement, Plan, Top } from '../../src/job';
import { wantedTop } from '../../src/job';
import type { Candidate } from '../../src/layout/candidate';
import { stripPlaces } from '../../src/layout/columns';
import { fitted, isFit } from '../../src/layout/fitted';
import { onePiece, seamed } from '../../src/layout/placement';
import { searchedTop } from '../../src/layout/sawn';
import { shapeSeams } from '../../src/layout/shape-seams';
import { prepareStock } from '../../src/layout/stock';
import type { Unfit } from '../../src/layout/unfit';

/** The top of a job that wants one. */
export function onlyTop(job: Job): Top {
  const top = wantedTop(job, Object.keys(job.tops)[0] ?? '');
  if (!top) throw new Error('The job wants no top.');
  return top;
}

/** Every place of the job's one top by shape alone, of one piece or with one seam as it wants, and why others are not what is wanted. */
export function placesOf(job: Job): { fit: Candidate[]; unfit: Unfit[] } {
  const wanted = onlyTop(job);
  const top = searchedTop(wanted);
  const stock = prepareStock(job, new Map());
  const { length, depth, front } = top;
  const found =
    top.seams === 0
      ? stock.flatMap((face) =>
          stripPlaces(face, { length, depth, front, angle: job.shop.seam.angle }).flatMap(
            (place) => onePiece(place, top, job.shop) ?? [],
          ),
        )
      : stock.flatMap((a) =>
          stock
            .filter((b) => b.slab !== a.slab)
            .flatMap((b) => shapeSeams(a, b, top, job.shop))
            .flatMap((seam) => {
              const made = seamed(seam, top, job.shop);
              return typeof made === 'string' ? [] : [made];
            }),
        );
  const made = found.map((one) => fitted(one, wanted, job.shop));
  return { fit: made.filter(isFit), unfit: made.flatMap((one) => (isFit(one) ? [] : [one])) };
}

/** A plan of one placement. */
export const planWith = (placement: Placement): Plan => ({
  id: 'plan-1',
  name: 'Plan 1',
  placements: { [placement.top]: placement },
  misses: [],
  waste: 0,
  cost: null,
  gap: 0,
});
