import { bounds, contains, distance, nearestOnSegment, type Point, type Polygon, type Region } from '../geometry';
import type { Reading, Spot3, Surface } from './reading';
import { roughness } from './roughness';
import { type Triangle, type Triangulation, triangulate } from './triangulation';

type At = Point<'face'>;

/** Readings nearer to each other than this stand at one place, mm. */
const SAME_PLACE = 1e-6;

/**
 * A surface of flat facets over the triangulation of its readings; beyond their hull the height of the nearest hull point. One
 * reading gives a level surface, readings on one line a surface that is level across it.
 * @throws RangeError without readings
 */
export function linearSurface(given: readonly Reading[]): Surface {
  if (given.length === 0) throw new RangeError('A surface needs at least one reading.');
  return new LinearSurface(withoutRepeats(given));
}

/** Readings of one place made one, each weighted by how sure it is. */
function withoutRepeats(given: readonly Reading[]): Reading[] {
  const places = new Map<string, Reading[]>();
  for (const reading of given) {
    const name = reading.at.map((u) => Math.round(u / SAME_PLACE)).join();
    places.set(name, [...(places.get(name) ?? []), reading]);
  }
  return [...places.values()].map((same) => {
    const [first] = same as [Reading];
    if (same.length === 1) return first;
    const weights = same.map(({ sigma }) => 1 / Math.max(sigma, 1e-6) ** 2);
    const sum = weights.reduce((a, b) => a + b);
    const z = same.reduce((total, reading, i) => total + (reading.z * (weights[i] as number)) / sum, 0);
    return { at: first.at, z, sigma: Math.sqrt(1 / sum) };
  });
}

/** A point as a mean of readings: the indices and their shares, which add up to 1; and how far from the hull it lies. */
interface Mean {
  readonly of: readonly (readonly [index: number, share: number])[];
  readonly beyond: number;
}

class LinearSurface implements Surface {
  readonly readings: readonly Reading[];
  readonly #at: readonly At[];
  readonly #mesh: Triangulation;
  readonly #finder: Finder;
  readonly #slope: number;

  constructor(readings: readonly Reading[]) {
    this.readings = readings;
    this.#at = readings.map(({ at }) => at);
    this.#mesh = triangulate(this.#at);
    this.#finder = new Finder(this.#at, this.#mesh.triangles);
    this.#slope = roughness(readings);
  }

  get reach(): readonly At[] {
    const next = new Map(this.#mesh.triangles.length > 0 ? this.#mesh.rim : []);
    const ring: At[] = [];
    const first = next.keys().next().value;
    for (let i = first; i !== undefined; i = next.get(i)) {
      ring.push(this.#at[i] as At);
      if (next.get(i) === first) break;
    }
    return ring;
  }

  height(p: At): number {
    return this.#mean(p).of.reduce((sum, [i, share]) => sum + share * (this.readings[i] as Reading).z, 0);
  }

  /** Of the readings, and on top what such a slab does over the way to the nearest of them. */
  sigma(p: At): number {
    const { of, beyond } = this.#mean(p);
    const read = of.reduce((sum, [i, share]) => sum + (share * (this.readings[i] as Reading).sigma) ** 2, 0);
    const away = beyond + Math.min(...of.map(([i]) => distance(p, this.#at[i] as At)));
    return Math.sqrt(read + (this.#slope * away) ** 2);
  }

  /** Readings inside the region, its corners, and where its edges cross the triangulation: between these all is flat. */
  spotsOver(region: Region<'face'>): Spot3[] {
    const rings = [region.outer, ...region.holes];
    const spots: Spot3[] = [];
    this.readings.forEach(({ at, z }) => {
      if (within(region, at)) spots.push([at[0], at[1], z]);
    });
    for (const ring of rings) {
      ring.forEach((corner, i) => {
        spots.push([corner[0], corner[1], this.height(corner)]);
        this.#crossings(corner, ring[(i + 1) % ring.length] as At, spots);
      });
    }
    return spots;
  }

  #crossings(p: At, q: At, into: Spot3[]): void {
    const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
    for (const [i, j] of this.#mesh.edges) {
      const [a, b] = [this.readings[i] as Reading, this.readings[j] as Reading];
      const sideA = dx * (a.at[1] - p[1]) - dy * (a.at[0] - p[0]);
      const sideB = dx * (b.at[1] - p[1]) - dy * (b.at[0] - p[0]);
      if (sideA > 0 === sideB > 0 || sideA === sideB) continue;
      const t = sideA / (sideA - sideB);
      const [x, y] = [a.at[0] + t * (b.at[0] - a.at[0]), a.at[1] + t * (b.at[1] - a.at[1])];
      const along = (x - p[0]) * dx + (y - p[1]) * dy;
      if (along >= 0 && along <= dx * dx + dy * dy) into.push([x, y, a.z + t * (b.z - a.z)]);
    }
  }

  #mean(p: At): Mean {
    const inside = this.#finder.find(p);
    if (inside) return { of: inside, beyond: 0 };
    let best: Mean = { of: [[0, 1]], beyond: distance(p, this.#at[0] as At) };
    for (const [i, j] of this.#mesh.rim) {
      const [a, b] = [this.#at[i] as At, this.#at[j] as At];
      const q = nearestOnSegment(p, [a, b]);
      const beyond = distance(p, q);
      if (beyond >= best.beyond) continue;
      const share = distance(a, q) / distance(a, b);
      best = {
        of: [
          [i, 1 - share],
          [j, share],
        ],
        beyond,
      };
    }
    return best;
  }
}

/** Inside the region or on its edge, so that a blank cut along a row of readings is held by them. */
function within(region: Region<'face'>, p: At): boolean {
  const onEdge = (ring: Polygon<'face'>): boolean =>
    ring.some((a, i) => {
      const q = nearestOnSegment(p, [a, ring[(i + 1) % ring.length] as At]);
      return distance(p, q) < SAME_PLACE;
    });
  if (onEdge(region.outer) || region.holes.some(onEdge)) return true;
  return contains(region.outer, p) && !region.holes.some((hole) => contains(hole, p));
}

/** Finds the triangle that holds a point: a grid of boxes, each with the triangles that touch it. */
class Finder {
  readonly #at: readonly At[];
  readonly #triangles: readonly Triangle[];
  readonly #boxes = new Map<number, number[]>();
  readonly #x0: number;
  readonly #y0: number;
  readonly #size: number;

  constructor(at: readonly At[], triangles: readonly Triangle[]) {
    this.#at = at;
    this.#triangles = triangles;
    const { minX, minY, maxX, maxY } = bounds(at);
    this.#x0 = minX;
    this.#y0 = minY;
    this.#size = Math.max(1e-3, Math.sqrt(((maxX - minX) * (maxY - minY)) / Math.max(1, triangles.length)));
    triangles.forEach((triangle, t) => {
      const box = bounds(triangle.map((i) => at[i] as At));
      for (let column = this.#column(box.minX); column <= this.#column(box.maxX); column++) {
        for (let row = this.#row(box.minY); row <= this.#row(box.maxY); row++) {
          const name = column * 2 ** 20 + row;
          const held = this.#boxes.get(name);
          if (held) held.push(t);
          else this.#boxes.set(name, [t]);
        }
      }
    });
  }

  #column = (x: number): number => Math.floor((x - this.#x0) / this.#size);
  #row = (y: number): number => Math.floor((y - this.#y0) / this.#size);

  /** Corners of the triangle around `p` and their shares at it; nothing outside the hull. */
  find([x, y]: At): (readonly [number, number])[] | undefined {
    for (const t of this.#boxes.get(this.#column(x) * 2 ** 20 + this.#row(y)) ?? []) {
      const [i, j, k] = this.#triangles[t] as Triangle;
      const [a, b, c] = [this.#at[i] as At, this.#at[j] as At, this.#at[k] as At];
      const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
      const shareB = ((x - a[0]) * (c[1] - a[1]) - (y - a[1]) * (c[0] - a[0])) / area;
      const shareC = ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / area;
      const shareA = 1 - shareB - shareC;
      if (shareA >= -1e-12 && shareB >= -1e-12 && shareC >= -1e-12)
        return [
          [i, shareA],
          [j, shareB],
          [k, shareC],
        ];
    }
    return undefined;
  }
}
