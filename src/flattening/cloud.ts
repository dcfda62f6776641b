import type { Spot3 } from '../surface';

/** Spots as columns, about a centre near them: the solvers run over them thousands of times. */
export interface Cloud {
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

/** Where a cloud's own origin lies. */
export type Centre = Spot3;

/** A spot's hold on a board. */
export interface Holding {
  readonly face: 'top' | 'bottom';
  /** Index among the spots of its face. */
  readonly spot: number;
  /** What the board would gain, mm, were the face one mm farther out here: the shares of a face add up to 1. */
  readonly share: number;
}

/** The spots as columns about `centre`. @throws RangeError when a coordinate is not finite, or there is no spot */
export function cloudOf(spots: readonly Spot3[], [x0, y0, z0]: Centre): Cloud {
  const count = spots.length;
  if (count === 0) throw new RangeError('A face needs at least one spot.');
  const cloud = { count, x: new Float64Array(count), y: new Float64Array(count), z: new Float64Array(count) };
  for (let i = 0; i < count; i++) {
    const [x, y, z] = spots[i] as Spot3;
    if (!Number.isFinite(x + y + z)) throw new RangeError('A spot has a coordinate that is not a finite number.');
    cloud.x[i] = x - x0;
    cloud.y[i] = y - y0;
    cloud.z[i] = z - z0;
  }
  return cloud;
}

/** A spot near the middle of the list: any spot will do, for it only keeps the numbers small. */
export function centreOf(spots: readonly Spot3[]): Centre {
  const spot = spots[spots.length >> 1];
  if (spot === undefined) throw new RangeError('A face needs at least one spot.');
  return spot;
}

/** Index of the spot that reaches least far along a direction. */
export function lowest(cloud: Cloud, nx: number, ny: number, nz: number): number {
  let at = 0;
  let least = Number.POSITIVE_INFINITY;
  const { count, x, y, z } = cloud;
  for (let i = 0; i < count; i++) {
    const reach = nx * (x[i] as number) + ny * (y[i] as number) + nz * (z[i] as number);
    if (reach < least) {
      least = reach;
      at = i;
    }
  }
  return at;
}

/** Index of the spot that reaches farthest along a direction. */
export const highest = (cloud: Cloud, nx: number, ny: number, nz: number): number => lowest(cloud, -nx, -ny, -nz);

/** How far the spot reaches along a direction. */
export function reach({ x, y, z }: Cloud, i: number, nx: number, ny: number, nz: number): number {
  return nx * (x[i] as number) + ny * (y[i] as number) + nz * (z[i] as number);
}
