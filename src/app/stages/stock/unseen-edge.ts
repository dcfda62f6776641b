import { distanceToSegment, type Point } from '../../../geometry';
import type { Face } from '../../../job';

/** An edge of the outline whose middle lies this near to an unseen line is unseen, mm: points may since have been nudged a little. */
const NEAR = 3;

/** Stretches of an outline that a photo shows, and those that none does. */
export interface Stretches {
  readonly seen: Point<'face'>[][];
  readonly unseen: Point<'face'>[][];
}

/** The outer edge of a face, parted where the slab ran out of the picture. */
export function stretches({ outline, unseen }: Pick<Face, 'outline' | 'unseen'>): Stretches {
  const parts: Stretches = { seen: [], unseen: [] };
  const ring = outline?.outer ?? [];
  let last: boolean | null = null;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length] as Point<'face'>;
    const middle: Point<'face'> = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    const gone = unseen.some((line) =>
      line.slice(1).some((to, k) => distanceToSegment<'face'>(middle, [line[k] as Point<'face'>, to]) < NEAR),
    );
    const into = gone ? parts.unseen : parts.seen;
    if (gone === last) into.at(-1)?.push(b);
    else into.push([a, b]);
    last = gone;
  });
  return parts;
}
