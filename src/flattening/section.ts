import type { Point, Segment } from '../geometry';
import type { Faces } from '../surface';
import type { BlankFlattening } from './io';
import { lifted, type Plane } from './planes';

/** A slab seen from the side along a line, for drawing: heights in mm, z up, at the distances `along` from the line's start. */
export interface Section {
  readonly along: readonly number[];
  readonly top: readonly number[];
  readonly bottom: readonly number[];
  /** The planes that the first flattening leaves. */
  readonly upper: readonly number[];
  readonly under: readonly number[];
}

const STATIONS = 200;

/** Both faces and both planes of a flattened blank along a line on the slab. */
export function sectionOf(faces: Faces, blank: BlankFlattening, [from, to]: Segment<'face'>): Section {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const { under, upper } = planesOf(blank);
  const along = Array.from({ length: STATIONS + 1 }, (_, i) => (length * i) / STATIONS);
  const points = along.map((_, i): Point<'face'> => {
    const share = i / STATIONS;
    return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
  });
  const on = ({ a, b, c }: Plane): number[] => points.map(([x, y]) => a * x + b * y + c);
  return {
    along,
    top: points.map((p) => faces.top.height(p)),
    bottom: points.map((p) => faces.bottom.height(p)),
    upper: on(upper),
    under: on(under),
  };
}

/** The planes that the passes end at: thinner than the thickest board where less was wanted, as much off each side. */
function planesOf({ plane, thickest, budget }: BlankFlattening): { under: Plane; upper: Plane } {
  const mm = (item: string): number => budget.find((entry) => entry.item === item)?.mm ?? 0;
  const flat = mm('rough') - mm('lost under') - mm('lost over');
  const under = lifted(plane, (thickest - flat) / 2);
  return { under, upper: lifted(under, flat) };
}
