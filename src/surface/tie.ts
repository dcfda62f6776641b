import type { Point } from '../geometry';
import type { Slab, Spot } from '../job';
import { linearSurface } from './linear';
import { solve } from './matrix';
import type { Reading } from './reading';

/**
 * The plane that ties the readings of a slab's two faces when each was read by itself, the slab turned over in between. A height `r` of the
 * underside, upward out of it, lies at plane(x, y) - r over the upper face's own plane.
 */
export interface Tie {
  /** Height of the underside's plane, mm, in the upper face's frame. */
  height(at: Point<'face'>): number;
  /** One standard deviation of that height, mm. */
  sigma(at: Point<'face'>): number;
  /** Thicknesses against the tie: how far each is off, mm. */
  readonly off: readonly { readonly spot: string; readonly mm: number }[];
}

/** A slab is of even thickness to so much, mm, at its ends and edges, as far as nobody measured it (practice, no source). */
const WEDGE = 2;
/** A slab whose thickness is only said of the whole is of it to so much, mm (practice, no source). */
const NOMINAL = 1;
/** How far a thickness rises or falls over the slab without being a wedge, mm (practice, no source). */
const WAVES = 0.5;

interface Told {
  readonly at: Point<'face'>;
  readonly value: number;
  readonly sigma: number;
}

/**
 * Ties the faces by the thicknesses that were measured: least squares with their sigmas, with the expectation that a slab is of nearly even
 * thickness where fewer than three of them tell otherwise. Null where neither a thickness nor readings of both faces are there.
 */
export function tieFaces(slab: Slab): Tie | null {
  const spots = Object.values(slab.spots);
  const read = (key: 'top' | 'bottom'): Reading[] =>
    spots.flatMap(({ at, sigma, [key]: z }) => (z === null ? [] : [{ at, z, sigma }]));
  const [top, bottom] = [read('top'), read('bottom')];
  if (top.length === 0 || bottom.length === 0) return null;
  const [upper, lower] = [linearSurface(top), linearSurface(bottom)];
  const measured = spots.filter((spot): spot is Spot & { thickness: number } => spot.thickness !== null);
  const mean =
    measured.length > 0
      ? measured.reduce((sum, { thickness }) => sum + thickness, 0) / measured.length
      : slab.thickness;
  if (mean === null) return null;
  const known = measured.map(({ at, thickness, sigma }): Told => {
    const doubt = Math.hypot(sigma, upper.sigma(at), lower.sigma(at), WAVES);
    return { at, value: upper.height(at) + lower.height(at) - thickness, sigma: doubt };
  });
  const level = top.map(({ at, z, sigma }): Told => {
    const doubt = Math.hypot(sigma, lower.sigma(at), WAVES);
    return { at, value: z + lower.height(at) - mean, sigma: doubt };
  });
  const frame = frameOf(level.map(({ at }) => at));
  // First the plane of even thickness; then what the thicknesses say of it, held to it by what a wedge may be.
  const even = fitted(level, frame, null);
  const held = [NOMINAL, WEDGE, WEDGE].map((mm) => (measured.length > 0 ? Math.max(mm, WEDGE) : mm));
  const { plane, spread } = fitted(known, frame, { plane: even.plane, held });
  const height = (at: Point<'face'>): number => dot(plane, frame(at));
  return {
    height,
    sigma: (at) => Math.sqrt(Math.max(0, quadratic(spread, frame(at)))),
    off: measured.map(({ id, at, thickness }) => ({
      spot: id,
      mm: thickness - (upper.height(at) + lower.height(at) - height(at)),
    })),
  };
}

type Three = readonly [number, number, number];
type InFrame = (at: Point<'face'>) => Three;

/** 1 and the place, of order one over the readings. */
function frameOf(at: readonly Point<'face'>[]): InFrame {
  const [xs, ys] = [at.map(([x]) => x), at.map(([, y]) => y)];
  const middle = (us: number[]): number => (Math.min(...us) + Math.max(...us)) / 2;
  const half = (us: number[]): number => Math.max(1, (Math.max(...us) - Math.min(...us)) / 2);
  const [x0, y0, hx, hy] = [middle(xs), middle(ys), half(xs), half(ys)];
  return ([x, y]) => [1, (x - x0) / hx, (y - y0) / hy];
}

const dot = (p: Three, q: Three): number => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];

/** The plane of least squares, held to another within standard deviations where one is given; and its covariance. */
function fitted(
  told: readonly Told[],
  frame: InFrame,
  prior: { readonly plane: Three; readonly held: readonly number[] } | null,
): { plane: Three; spread: Float64Array } {
  const normal = new Float64Array(9);
  const right = new Float64Array(3);
  for (const { at, value, sigma } of told) {
    const row = frame(at);
    const weight = 1 / sigma ** 2;
    for (let i = 0; i < 3; i++) {
      right[i] = (right[i] as number) + weight * row[i as 0] * value;
      for (let k = 0; k < 3; k++)
        normal[3 * i + k] = (normal[3 * i + k] as number) + weight * row[i as 0] * row[k as 0];
    }
  }
  for (let i = 0; i < 3; i++) {
    // Without another plane a faint pull to level keeps readings on one line from leaving it loose.
    const weight = 1 / (prior ? (prior.held[i] as number) : 100) ** 2;
    normal[4 * i] = (normal[4 * i] as number) + weight;
    right[i] = (right[i] as number) + weight * (prior?.plane[i as 0] ?? 0);
  }
  const column = (k: number): Float64Array =>
    solve(
      normal,
      3,
      Float64Array.from([0, 1, 2], (i) => (i === k ? 1 : 0)),
    );
  const spread = new Float64Array([...column(0), ...column(1), ...column(2)]);
  return { plane: [...solve(normal, 3, right)] as unknown as Three, spread };
}

function quadratic(spread: Float64Array, at: Three): number {
  let sum = 0;
  for (let i = 0; i < 3; i++)
    for (let k = 0; k < 3; k++) sum += at[i as 0] * at[k as 0] * (spread[3 * i + k] as number);
  return sum;
}
