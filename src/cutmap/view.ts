import { type Affine, apply, applyAll, type Bounds, bounds, compose, type Frame, type Point } from '../geometry';
import type { Element, Group, Image } from './drawing';
import { PAPERS, type PaperName } from './papers';
import { type LaidPicture, toFrame } from './request';

/** How a frame of wood is laid on paper: its map, and the denominator of its scale. */
export interface View<F extends Frame> {
  readonly map: Affine<F, 'paper'>;
  readonly scale: number;
}

/** Scales that a rule has or a head can divide by. */
const SCALES = [1, 2, 2.5, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200];

/**
 * The largest usual scale at which points fit an area, centred in it.
 * @param turned half a turn, so that a top's front (y = 0) lies at the bottom, as one stands before it
 * @param any as large as fits, at a scale that no rule has: for a small picture
 * @param paper that it is laid out for: it is the printed drawing whose scale is usual
 */
export function viewOf<F extends Frame>(
  points: readonly Point<F>[],
  area: Bounds,
  { turned = false, any = false, paper }: { turned?: boolean; any?: boolean; paper?: PaperName } = {},
): View<F> {
  const { minX, minY, maxX, maxY } = bounds(points);
  const [width, height] = [area.maxX - area.minX, area.maxY - area.minY];
  const least = Math.max((maxX - minX) / width, (maxY - minY) / height);
  const { times } = PAPERS[paper ?? 'A4'];
  const printed = SCALES.find((usual) => usual * times >= least) ?? Math.ceil(least / times / 100) * 100;
  const scale = any ? least : printed * times;
  const k = (turned ? -1 : 1) / scale;
  const [x, y] = [(area.minX + area.maxX) / 2, (area.minY + area.maxY) / 2];
  return { map: { m: [k, 0, 0, k, x - (k * (minX + maxX)) / 2, y - (k * (minY + maxY)) / 2] }, scale };
}

/** Points of the frame on the paper. */
export const onPaper = <F extends Frame>(view: View<F>, points: readonly Point<F>[]): Point<'paper'>[] =>
  applyAll(view.map, points);

/** One point of the frame on the paper. */
export const pointOnPaper = <F extends Frame>(view: View<F>, p: Point<F>): Point<'paper'> => apply(view.map, p);

/** A picture laid in the view. */
export function laid<F extends 'face' | 'top' | 'panel'>(picture: LaidPicture, view: View<F>, opacity: number): Image {
  return { is: 'image', image: picture.image, place: compose(view.map, toFrame<F>(picture)), opacity };
}

/** The same drawing `times` larger about the corner of the sheet: from a drawing to scale to one of true size. */
export function enlarged(groups: readonly Group[], times: number): Group[] {
  const grow = ([x, y]: Point<'paper'>): Point<'paper'> => [x * times, y * times];
  const element = (one: Element): Element => {
    switch (one.is) {
      case 'path':
        return { ...one, points: one.points.map(grow) };
      case 'arc':
        return { ...one, centre: grow(one.centre), radius: one.radius * times };
      case 'text':
        return { ...one, at: grow(one.at), size: one.size * times };
      case 'image':
        return { ...one, place: compose({ m: [times, 0, 0, times, 0, 0] }, one.place) };
    }
  };
  return groups.map((group) => ({
    ...group,
    ...(group.clip ? { clip: group.clip.map(grow) } : {}),
    elements: group.elements.map(element),
  }));
}
