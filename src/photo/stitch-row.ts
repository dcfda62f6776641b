import { type Bounds, bounds, type Point } from '../geometry';
import type { Calibration } from '../job';
import { WHOLE_PX } from './read-face';
import type { Cut } from './stitch-cut';
import { seenBy } from './stitch-picture';

/** Photos over one frame of the face, in the order in which they follow each other along it. */
export interface Row {
  /** Along which of the face's axes they follow each other: 0 is x, 1 is y. */
  readonly axis: 0 | 1;
  /** Which photo is the first, the next and so on. */
  readonly order: readonly number[];
  /** All that they show, mm, and the detail in which all of it is looked at. */
  readonly box: Bounds;
  readonly mmPerPx: number;
  /** What the k-th in order and the next both show, mm. */
  overlap(k: number): Bounds;
  /** Cuts through the middles of the overlaps. */
  readonly middles: readonly Cut[];
}

export function rowOf(calibrations: readonly Calibration[]): Row {
  const seen = calibrations.map(seenBy);
  const middles = seen.map((box): Point<'face'> => [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2]);
  const spread = (k: 0 | 1) => Math.max(...middles.map((p) => p[k])) - Math.min(...middles.map((p) => p[k]));
  const axis = spread(0) >= spread(1) ? 0 : 1;
  const order = calibrations
    .map((_, i) => i)
    .sort((i, j) => (middles[i] as Point<'face'>)[axis] - (middles[j] as Point<'face'>)[axis]);
  const box = bounds(
    seen.flatMap(({ minX, minY, maxX, maxY }): Point<'face'>[] => [
      [minX, minY],
      [maxX, maxY],
    ]),
  );
  const overlap = (k: number): Bounds => {
    const [a, b] = [seen[order[k] as number] as Bounds, seen[order[k + 1] as number] as Bounds];
    return {
      minX: Math.max(a.minX, b.minX),
      minY: Math.max(a.minY, b.minY),
      maxX: Math.min(a.maxX, b.maxX),
      maxY: Math.min(a.maxY, b.maxY),
    };
  };
  return {
    axis,
    order,
    box,
    mmPerPx: Math.max(box.maxX - box.minX, box.maxY - box.minY) / WHOLE_PX,
    overlap,
    middles: order.slice(1).map((_, k): Cut => {
      const { minX, minY, maxX, maxY } = overlap(k);
      return { axis, at: () => (axis === 0 ? (minX + maxX) / 2 : (minY + maxY) / 2) };
    }),
  };
}
