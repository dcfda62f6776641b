import type { Point } from '../geometry';
import { solve } from './matrix';

/** A plane under readings, and how sure it is. */
export interface Plane {
  height(at: Point<'face'>): number;
  /** One standard deviation of that height, mm. */
  sigma(at: Point<'face'>): number;
}

/** What one place says of a plane: its height there, one standard deviation of that, mm. */
export interface Told {
  readonly at: Point<'face'>;
  readonly value: number;
  readonly sigma: number;
}

/** Rails and bearers lie level with a slab to so much, mm a mm, one standard deviation, as far as readings do not tell (practice, no source). */
const LEVEL = 0.05;
/** So faint a pull only keeps a plane of readings on one line from being loose, mm. */
const FAINT = 100;

type Three = readonly [number, number, number];

/**
 * The plane of least squares through what was told. Across readings that hardly spread it lies level, since their noise would tilt it: what
 * they cannot tell is no reason to take a slab's edge for metres away.
 */
export function meanPlane(told: readonly Told[]): Plane {
  const mean = told.reduce((sum, { value }) => sum + value, 0) / Math.max(1, told.length);
  const frame = frameOf(told.map(({ at }) => at));
  const off = told.map((one) => ({ ...one, value: one.value - mean }));
  const plane = fitted(off, frame, [0, 0, 0], [FAINT, LEVEL * frame.halfX, LEVEL * frame.halfY]);
  return { height: (at) => mean + plane.height(at), sigma: plane.sigma };
}

/** The plane of least squares through what was told, held to another within standard deviations at the frame's ends and edges, mm. */
export function planeNear(
  told: readonly Told[],
  other: { readonly told: readonly Told[]; readonly held: Three },
): Plane {
  const frame = frameOf(other.told.map(({ at }) => at));
  const { plane } = fitted(other.told, frame, [0, 0, 0], [FAINT, FAINT, FAINT]);
  return fitted(told, frame, plane, other.held);
}

/** 1 and the place, of order one over the readings. */
interface Frame {
  row(at: Point<'face'>): Three;
  readonly halfX: number;
  readonly halfY: number;
}

function frameOf(at: readonly Point<'face'>[]): Frame {
  const [xs, ys] = [at.map(([x]) => x), at.map(([, y]) => y)];
  const middle = (us: number[]): number => (Math.min(...us) + Math.max(...us)) / 2;
  const half = (us: number[]): number => Math.max(1, (Math.max(...us) - Math.min(...us)) / 2);
  const [x0, y0, halfX, halfY] = [middle(xs), middle(ys), half(xs), half(ys)];
  return { row: ([x, y]) => [1, (x - x0) / halfX, (y - y0) / halfY], halfX, halfY };
}

/** @param held standard deviations of the three numbers of the plane about those expected, mm */
function fitted(told: readonly Told[], frame: Frame, expected: Three, held: Three): Plane & { readonly plane: Three } {
  const normal = new Float64Array(9);
  const right = new Float64Array(3);
  for (const { at, value, sigma } of told) {
    const row = frame.row(at);
    const weight = 1 / sigma ** 2;
    for (let i = 0; i < 3; i++) {
      right[i] = (right[i] as number) + weight * row[i as 0] * value;
      for (let k = 0; k < 3; k++)
        normal[3 * i + k] = (normal[3 * i + k] as number) + weight * row[i as 0] * row[k as 0];
    }
  }
  for (let i = 0; i < 3; i++) {
    const weight = 1 / held[i as 0] ** 2;
    normal[4 * i] = (normal[4 * i] as number) + weight;
    right[i] = (right[i] as number) + weight * expected[i as 0];
  }
  const plane = [...solve(normal, 3, right)] as unknown as Three;
  return {
    plane,
    height: (at) => dot(plane, frame.row(at)),
    // Of the plane at a place: the place's own combination of its three numbers.
    sigma: (at) => {
      const row = frame.row(at);
      return Math.sqrt(dot(row, [...solve(normal, 3, Float64Array.from(row))] as unknown as Three));
    },
  };
}

const dot = (p: Three, q: Three): number => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
