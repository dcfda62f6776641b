import { distanceToSegment, type Point, type Segment } from '../geometry';
import { defectLetters, type Job, type Placement } from '../job';
import { formatLength } from '../units';
import type { Work } from '../wood';
import type { TopReport, WorkStep } from './report';

/** What a joint is besides two strips glued edge to edge, for the report, and in words. */

type Made = Pick<TopReport['seams'][number], 'made' | 'ripped'>;

/** How the joint behind the `i`th strip is made. */
export function jointMade(job: Job, { joints, strips }: Placement, i: number): Made {
  const { made = null, ripped } = joints[i] ?? {};
  const [front, back] = [strips[i], strips[i + 1]];
  if (made !== 'reglued' || !front?.jointBack || !back?.jointFront) return { made, ripped: null };
  const slab = job.flitches[front.flitch]?.slabs[front.slab];
  const face = slab?.faces[front.face];
  const letter = face && defectLetters(Object.values(face.defects)).get(ripped ?? '');
  const what =
    ripped === 'pith' ? 'the pith' : `${face?.defects[ripped ?? '']?.kind ?? 'crack'} ${letter ?? ''}`.trim();
  const [p, q] = front.jointBack as Segment<'face'>;
  const gap = distanceToSegment((back.jointFront as readonly Point<'face'>[])[0] as Point<'face'>, [p, q]);
  return { made, ripped: { name: `${what} of ${slab?.name ?? front.slab}`, gap } };
}

/** A seam in words, its look told apart: "seam 2, where crack b of Slab 1 is ripped out". */
export function seamName({ made, ripped }: Made, i: number): string {
  if (made === 'book') return `seam ${i + 1}, opened like a book,`;
  return ripped ? `seam ${i + 1}, where ${ripped.name} is ripped out,` : `seam ${i + 1}`;
}

/** Where the tape has moved strips since their seam was judged, that it has; else null. */
export function judgedBefore(tops: readonly Pick<TopReport, 'name' | 'seams'>[]): string | null {
  const names = tops.flatMap(({ name, seams }) => (seams.some(({ before, word }) => before && word) ? [name] : []));
  if (names.length === 0) return null;
  return `The tape has moved ${names.join(' and ')} on the slab since the seam was judged: how it looks is of before.`;
}

/** Steps of the order of work for joints that are more than a seam: ripping out before flattening, turning over before gluing. */
export function madeSteps(
  job: Job,
  tops: readonly TopReport[],
): { readonly ripping: WorkStep[]; readonly opening: WorkStep[] } {
  const say = (mm: number): string => formatLength(mm, job.units, { unit: true, decimals: 0, denominator: 8 });
  const step = (name: string, detail: string, ...cautions: Work[]): WorkStep => ({ step: name, detail, cautions });
  const ripped = tops.flatMap(({ name, seams }) =>
    seams.flatMap(({ ripped: what }) =>
      what ? [`${name}: ${what.name}, ${say(what.gap)} between the two finished edges`] : [],
    ),
  );
  const books = tops.flatMap(({ name, seams }) => (seams.some(({ made }) => made === 'book') ? [name] : []));
  const through = ripped.some((words) => words.includes('pith')) ? 'Rip out the pith' : 'Rip out the crack';
  return {
    ripping:
      ripped.length > 0
        ? [
            step(
              through,
              `${ripped.join('; ')}. Rip along it between the two blanks; what is left of it goes when both edges are jointed. Wedge the kerf open: a cracked slab may close on the blade or spring apart.`,
              'rip',
            ),
          ]
        : [],
    opening:
      books.length > 0
        ? [
            step(
              'Open the book',
              `${books.join(', ')}: lay the two halves as they were sawn, turn one over, and slide it until the figure meets at the joint. The faces that were one saw cut are the ones that show.`,
            ),
          ]
        : [],
  };
}
