import type { Polygon, Region, Segment } from '../geometry';
import { SWING_WITHIN } from '../job';
import { swingsOver } from './live-edge';

/** A slab as the search for a seam sees it, mm on its face. */
export interface SeamWood {
  /** The wood's edge. */
  readonly outline: Region<'face'>;
  /** The wood less its margin: where straight edges may run. */
  readonly inside: readonly Region<'face'>[];
  /** What must be kept off. */
  readonly forbidden: readonly Region<'face'>[];
}

/** What the strips of a top on a seam must come to. */
export interface SeamWish {
  readonly length: number;
  /** Least and most depth of the whole top. */
  readonly depth: readonly [least: number, most: number];
  readonly front: 'live' | 'straight';
  readonly leastStrip: number;
  /** Most that a live front may swing within `SWING_WITHIN`, mm. */
  readonly swing?: number | null;
  /** Where no seam may run: from and to how far behind the front edge, mm. */
  readonly noSeam?: readonly (readonly [from: number, to: number])[] | undefined;
  /** Forbidden areas must stay off the whole strip, or off the joint line only. */
  readonly keepOff: 'strip' | 'line';
}

/** A joint line by its middle, its angle against x, and which way it runs: 1 with x, -1 against it. */
export interface LinePlace {
  readonly x: number;
  readonly y: number;
  readonly degrees: number;
  readonly way: 1 | -1;
}

/** The line itself, `length` long. */
export function lineAt({ x, y, degrees, way }: LinePlace, length: number): Segment<'face'> {
  const t = (degrees * Math.PI) / 180;
  const [dx, dy] = [(way * Math.cos(t) * length) / 2, (way * Math.sin(t) * length) / 2];
  return [
    [x - dx, y - dy],
    [x + dx, y + dy],
  ];
}

/** Columns of wood lie this far apart, mm. */
const COLUMN = 5;

type Stretches = readonly (readonly [from: number, to: number])[];

interface Column {
  readonly edges: Stretches;
  readonly inside: Stretches;
  readonly forbidden: Stretches;
}

/** How much wood a line leaves: room[0] at its narrowest and room[1] at its widest. */
export type Depths = readonly [least: number, most: number];

/** Wood beside joint lines, looked up in upright columns. */
export class SeamRoom {
  readonly #minX: number;
  readonly #columns: readonly Column[];
  /** Columns of one stretch of wood with nothing to keep off: where it begins and ends inside its margin, and at its edge; else NaN. */
  readonly #plain: Float64Array;
  readonly minX: number;
  readonly maxX: number;
  readonly minY: number;
  readonly maxY: number;

  constructor(
    { outline, inside, forbidden }: SeamWood,
    readonly wish: SeamWish,
  ) {
    const xs = outline.outer.map(([x]) => x);
    const ys = outline.outer.map(([, y]) => y);
    [this.minX, this.maxX] = [Math.min(...xs), Math.max(...xs)];
    [this.minY, this.maxY] = [Math.min(...ys), Math.max(...ys)];
    this.#minX = this.minX;
    const count = Math.max(1, Math.ceil((this.maxX - this.minX) / COLUMN));
    const edges = stretchesOf([outline], this.#minX, count);
    const safe = stretchesOf(inside, this.#minX, count);
    const off = stretchesOf(forbidden, this.#minX, count);
    this.#columns = edges.map((e, i) => ({
      edges: e,
      inside: safe[i] as Stretches,
      forbidden: off[i] as Stretches,
    }));
    this.#plain = Float64Array.from(
      this.#columns.flatMap(({ edges: [edge, ...more], inside: [wood, ...others], forbidden: [kept] }) =>
        edge && wood && !kept && more.length + others.length === 0 ? [...wood, ...edge] : [NaN, NaN, NaN, NaN],
      ),
    );
  }

  /**
   * Depth of the wood on the kept side of a line, square to it; null where the line leaves the wood or meets what must be kept off.
   * @param more whether the wood at more y is kept; @param live whether that strip ends in the wood's own edge
   */
  depths(place: LinePlace, more: boolean, live: boolean): Depths | null {
    const { length, keepOff, swing = null } = this.wish;
    const t = (place.degrees * Math.PI) / 180;
    const [cos, tan] = [Math.cos(t), Math.tan(t)];
    const half = (length * cos) / 2;
    // From the column before the line's one end to that after its other, so that both ends are between wood.
    const first = Math.floor((place.x - half - this.#minX) / COLUMN - 0.5);
    const last = Math.ceil((place.x + half - this.#minX) / COLUMN - 0.5);
    if (first < 0 || last >= this.#columns.length) return null;
    let [least, most] = [Infinity, 0];
    const edge = live && swing !== null ? new Float64Array(last - first + 1) : null;
    for (let i = first; i <= last; i++) {
      const x = this.#minX + (i + 0.5) * COLUMN;
      const y = place.y + (x - place.x) * tan;
      const low = this.#plain[4 * i] as number;
      if (!Number.isNaN(low)) {
        if (!(low < y && y < (this.#plain[4 * i + 1] as number))) return null;
        const end = this.#plain[4 * i + (live ? 2 : 0) + (more ? 1 : 0)] as number;
        const deep = Math.abs(end - y);
        if (deep < least) least = deep;
        if (deep > most) most = deep;
        if (edge) edge[i - first] = deep * cos;
        continue;
      }
      const deep = kept(this.#columns[i] as Column, y, more, live, keepOff);
      if (deep === null) return null;
      if (deep < least) least = deep;
      if (deep > most) most = deep;
      if (edge) edge[i - first] = deep * cos;
    }
    // The columns beyond both ends are not of the top.
    if (edge && swingsOver(edge.subarray(1, -1), Math.floor(SWING_WITHIN / COLUMN), swing ?? 0)) return null;
    return [least * cos, most * cos];
  }
}

function kept(
  { edges, inside, forbidden }: Column,
  y: number,
  more: boolean,
  live: boolean,
  keepOff: 'strip' | 'line',
): number | null {
  const safe = around(inside, y);
  const wood = live && safe ? around(edges, y) : safe;
  if (!wood) return null;
  let end = more ? wood[1] : wood[0];
  for (const [from, to] of forbidden) {
    if (from < y && y < to) return null;
    if (keepOff === 'line') continue;
    const [near, beyond] = more ? [from, from > y && from < end] : [to, to < y && to > end];
    if (!beyond) continue;
    if (live) return null;
    end = near;
  }
  return Math.abs(end - y);
}

/** The stretch that y lies in. */
function around(stretches: Stretches, y: number): readonly [number, number] | null {
  for (const stretch of stretches) if (stretch[0] < y && y < stretch[1]) return stretch;
  return null;
}

/** Where upright lines in the middle of each column run inside the regions. */
function stretchesOf(regions: readonly Region<'face'>[], minX: number, count: number): Stretches[] {
  const all = Array.from({ length: count }, (): [number, number][] => []);
  for (const { outer, holes } of regions) {
    const ys = Array.from({ length: count }, (): number[] => []);
    for (const ring of [outer, ...holes]) crossColumns(ring, minX, ys);
    ys.forEach((column, i) => {
      column.sort((a, b) => a - b);
      for (let k = 0; k + 1 < column.length; k += 2) all[i]?.push([column[k] as number, column[k + 1] as number]);
    });
  }
  return all;
}

function crossColumns(ring: Polygon<'face'>, minX: number, ys: number[][]): void {
  ring.forEach(([qx, qy], i) => {
    const [px, py] = ring[(i + ring.length - 1) % ring.length] as Polygon<'face'>[number];
    const [from, to] = [Math.min(px, qx), Math.max(px, qx)];
    for (let k = Math.max(0, Math.ceil((from - minX) / COLUMN - 0.5)); k < ys.length; k++) {
      const x = minX + (k + 0.5) * COLUMN;
      if (x >= to) break;
      if (x >= from) ys[k]?.push(py + ((x - px) / (qx - px)) * (qy - py));
    }
  });
}

/** Whether strips of these depths make the wished top, its seam off where none may run. A straight strip may be ripped narrower than its wood. */
export function makesTop(
  front: Depths,
  back: Depths,
  { depth: [least, most], leastStrip, front: edge, noSeam = [] }: SeamWish,
): boolean {
  if (front[0] < leastStrip || back[0] < leastStrip) return false;
  if (edge === 'live') {
    if (noSeam.some(([from, to]) => from < front[1] && front[1] < to)) return false;
    return Math.max(leastStrip, least - front[0]) <= Math.min(back[0], most - front[1]);
  }
  // The seam may lie anywhere from `near` to `far` behind the front edge.
  const [near, far] = [Math.max(leastStrip, least - back[0]), Math.min(front[0], most - leastStrip)];
  if (near > far) return false;
  return [near, ...noSeam.map(([, to]) => to)].some(
    (y) => y >= near && y <= far && !noSeam.some(([from, to]) => from < y && y < to),
  );
}
