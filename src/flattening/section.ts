import type { Point, Segment } from '../geometry';
import type { Faces, Surface } from '../surface';
import type { BlankFlattening } from './io';
import type { Plane } from './planes';

/** A slab seen from the side along a line, for drawing: heights in mm, z up, at the distances `along` from the line's start. */
export interface Section {
  readonly along: readonly number[];
  readonly top: readonly number[];
  readonly bottom: readonly number[];
  /** One standard deviation of both. */
  readonly topSigma: readonly number[];
  readonly bottomSigma: readonly number[];
  /** The planes that the first flattening leaves. */
  readonly upper: readonly number[];
  readonly under: readonly number[];
  /** How far over the upper plane each pass of the upper face stops, and under the lower one each of the underside, from the first to the last: 0. */
  readonly stops: { readonly top: readonly number[]; readonly bottom: readonly number[] };
}

const STATIONS = 200;
/** Of the stations, every so many are asked for their uncertainty, which changes slowly. */
const SIGMA_EVERY = 10;

/** Both faces and both planes of a flattened blank along a line on the slab. */
export function sectionOf(faces: Faces, blank: BlankFlattening, [from, to]: Segment<'face'>): Section {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const { under, upper } = blank.finish;
  const along = Array.from({ length: STATIONS + 1 }, (_, i) => (length * i) / STATIONS);
  const points = along.map((_, i): Point<'face'> => {
    const share = i / STATIONS;
    return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
  });
  const on = ({ a, b, c }: Plane): number[] => points.map(([x, y]) => a * x + b * y + c);
  return {
    along,
    top: [...faces.top.heights(points)],
    bottom: [...faces.bottom.heights(points)],
    topSigma: sigmas(faces.top, points),
    bottomSigma: sigmas(faces.bottom, points),
    upper: on(upper),
    under: on(under),
    stops: { top: stopsOf(blank, 'top'), bottom: stopsOf(blank, 'bottom') },
  };
}

/** One standard deviation at each point, between those asked for on a straight line. */
function sigmas(surface: Surface, points: readonly Point<'face'>[]): number[] {
  const known = points.map((p, i) => (i % SIGMA_EVERY === 0 ? surface.sigma(p) : 0));
  return known.map((_, i) => {
    const before = i - (i % SIGMA_EVERY);
    const after = Math.min(points.length - 1, before + SIGMA_EVERY);
    const share = after === before ? 0 : (i - before) / (after - before);
    return (1 - share) * (known[before] as number) + share * (known[after] as number);
  });
}

function stopsOf({ faces }: BlankFlattening, face: 'top' | 'bottom'): number[] {
  const passes = faces.find((each) => each.face === face)?.passes ?? [];
  let left = passes.reduce((sum, { depth }) => sum + depth, 0);
  return passes.map(({ depth }) => {
    left -= depth;
    return Math.max(0, left);
  });
}
