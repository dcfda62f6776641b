import { bounds, type Point } from '../geometry';
import type { Job } from './job';
import type { Top } from './wanted';

/**
 * A wanted top of which several are asked for stands for as many tops, each with a place of its own. The first keeps the id, the others
 * follow as id-2, id-3 ..., so that a plan's placements stay what they were when the number grows.
 */

/** Ids are no longer than 64 letters: room is left for the number. */
const STEM = 58;

/** The id of the `number`th copy; where the job uses that name for another top, an x is put behind it. */
function copyId(job: Pick<Job, 'tops'>, id: string, number: number): string {
  if (number === 1) return id;
  let name = `${id.slice(0, STEM)}-${number}`;
  while (name in job.tops) name += 'x';
  return name;
}

const SQUARE = { edge: 'straight', degrees: 90, short: 40 } as const;

/** A top that is no rectangle, with the length and depth of the box around it, which begins at 0, 0; straight all round, without scribe. */
function boxed(top: Top): Top {
  const { shape } = top;
  if (shape === null) return top;
  const plain = {
    ...top,
    front: 'straight',
    back: 'straight',
    ends: { right: SQUARE, left: SQUARE },
    scribe: { back: 0, right: 0, left: 0 },
    wallBow: 0,
    swing: null,
  } as const;
  if (shape.kind === 'round') return { ...plain, depth: [top.length, top.length] };
  if (shape.kind === 'oval') return { ...plain, depth: [top.depth[1], top.depth[1]] };
  const { minX, minY, maxX, maxY } = bounds(shape.outline);
  const outline = shape.outline.map(([x, y]): Point<'top'> => [x - minX, y - minY]);
  return { ...plain, shape: { ...shape, outline }, length: maxX - minX, depth: [maxY - minY, maxY - minY] };
}

/** Grain within this of the length, degrees, does not keep a top from being seamed along it (ours). */
const ALONG = 2;

/** Whether a top can only be had in one piece: no seam along it leaves it a live end, a live back alone, or grain that runs across. */
export const inOnePiece = ({ front, back, ends, grain, shape }: Top): boolean =>
  (shape === null &&
    ((back === 'live' && front === 'straight') || ends.right.edge === 'live' || ends.left.edge === 'live')) ||
  (grain !== null && (grain.degrees !== 0 || grain.tolerance < ALONG));

/** Every wanted top with its copies, in the order of the job. A copy is a top of its own, asked for once. */
export function topGroups(job: Pick<Job, 'tops'>): Top[][] {
  return Object.values(job.tops)
    .map(boxed)
    .map((top) => (inOnePiece(top) ? { ...top, seams: 0 } : top))
    .map((top) =>
      top.count === 1
        ? [top]
        : Array.from({ length: top.count }, (_, i) => ({
            ...top,
            id: copyId(job, top.id, i + 1),
            name: `${top.name} (${i + 1} of ${top.count})`,
            count: 1,
          })),
    );
}

/** All tops that are to be laid out, copies each for itself, in the order of the job. */
export const wantedTops = (job: Pick<Job, 'tops'>): Top[] => topGroups(job).flat();

/** The top that a placement is for, be it a copy; undefined where the job wants it no more. */
export const wantedTop = (job: Pick<Job, 'tops'>, id: string): Top | undefined =>
  wantedTops(job).find((top) => top.id === id);

/** The top as the job asks for it of which a placement is for one, be it a copy; undefined where the job wants it no more. */
export const askedAs = (job: Pick<Job, 'tops'>, id: string): Top | undefined =>
  Object.values(job.tops)[topGroups(job).findIndex((group) => group.some((top) => top.id === id))];
