import {
  bounds,
  distance,
  nearestOnSegment,
  type Point,
  type Polygon,
  type Region,
  regionContains,
  type Triangle,
  type Triangulation,
  triangulate,
} from '../geometry';
import type { Reading, Spot3, Surface } from './reading';
import { type Roughness, roughness } from './roughness';

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
  /** x, y, z of both ends of every edge, in a row: each blank runs over all of them for each of its own. */
  readonly #edgeEnds: Float64Array;
  readonly #finder: Finder;
  readonly #rough: Roughness;

  constructor(readings: readonly Reading[]) {
    this.readings = readings;
    this.#at = readings.map(({ at }) => at);
    this.#mesh = triangulate(this.#at);
    const ends = this.#mesh.edges.flat().map((i) => readings[i] as Reading);
    this.#edgeEnds = Float64Array.from(ends.flatMap(({ at, z }) => [at[0], at[1], z]));
    this.#finder = new Finder(this.#at, this.#mesh.triangles);
    this.#rough = roughness(readings);
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

  heights(points: readonly At[]): Float64Array {
    return Float64Array.from(points, (p) => this.height(p));
  }

  /** Of the readings, and on top what such a slab does over the way to the nearest of them. */
  sigma(p: At): number {
    const { of, beyond } = this.#mean(p);
    const read = of.reduce((sum, [i, share]) => sum + (share * (this.readings[i] as Reading).sigma) ** 2, 0);
    const away = beyond + Math.min(...of.map(([i]) => distance(p, this.#at[i] as At)));
    return Math.hypot(Math.sqrt(read), Math.min(this.#rough.slope * away, this.#rough.most));
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
    const [px, py] = p;
    const dx = q[0] - px;
    const dy = q[1] - py;
    const ends = this.#edgeEnds;
    for (let k = 0; k < ends.length; k += 6) {
      const ax = ends[k] as number;
      const ay = ends[k + 1] as number;
      const bx = ends[k + 3] as number;
      const by = ends[k + 4] as number;
      const sideA = dx * (ay - py) - dy * (ax - px);
      const sideB = dx * (by - py) - dy * (bx - px);
      if (sideA > 0 === sideB > 0 || sideA === sideB) continue;
      const t = sideA / (sideA - sideB);
      const x = ax + t * (bx - ax);
      const y = ay + t * (by - ay);
      const along = (x - px) * dx + (y - py) * dy;
      if (along < 0 || along > dx * dx + dy * dy) continue;
      into.push([x, y, (1 - t) * (ends[k + 2] as number) + t * (ends[k + 5] as number)]);
    }
  }

  #mean(p: At): Mean {
    const inside = this.#finder.find(p);
    if (inside) return { of: inside, beyond: 0 };
    let best: Mean = { of: [[0, 1]], beyond: distance(p, this.#at[0] as At) };
    for (const [i, j] of this.#mesh.rim) {
      const a = this.#at[i] as At;
      const b = this.#at[j] as At;
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
  return regionContains(region, p) || [region.outer, ...region.holes].some((ring) => onEdge(ring, p));
}

function onEdge(ring: Polygon<'face'>, [x, y]: At): boolean {
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = ring[j] as At;
    const [bx, by] = ring[i] as At;
    const [dx, dy] = [bx - ax, by - ay];
    const length2 = dx * dx + dy * dy;
    const along = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (length2 || 1)));
    if (Math.hypot(ax + along * dx - x, ay + along * dy - y) < SAME_PLACE) return true;
  }
  return false;
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
