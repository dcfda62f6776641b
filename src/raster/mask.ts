import type { Frame, Polygon, Region } from '../geometry';

/** A grid of square pixels over a frame: pixel (c, r) has its centre at (x0 + (c + .5) mmPerPx, y0 + (r + .5) mmPerPx). */
export interface Grid {
  readonly width: number;
  readonly height: number;
  readonly mmPerPx: number;
  readonly x0: number;
  readonly y0: number;
}

/** Calls `span(row, from, to)` for every run of pixels [from, to) whose centres lie inside the rings (even-odd). */
function scan<F extends Frame>(
  grid: Grid,
  rings: readonly Polygon<F>[],
  span: (r: number, from: number, to: number) => void,
) {
  const { width, height, mmPerPx, x0, y0 } = grid;
  const rowOf = (y: number) => Math.ceil((y - y0) / mmPerPx - 0.5);
  let [top, end] = [height, 0];
  for (const ring of rings) {
    for (const [, y] of ring) {
      top = Math.min(top, rowOf(y));
      end = Math.max(end, rowOf(y));
    }
  }
  [top, end] = [Math.max(0, top), Math.min(height, end)];
  const crossings: number[][] = Array.from({ length: Math.max(0, end - top) }, () => []);
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [xi, yi] = ring[i] as Polygon<F>[number];
      const [xj, yj] = ring[j] as Polygon<F>[number];
      if (yi === yj) continue;
      const last = Math.min(end, rowOf(Math.max(yi, yj)));
      for (let r = Math.max(top, rowOf(Math.min(yi, yj))); r < last; r++) {
        const y = y0 + (r + 0.5) * mmPerPx;
        crossings[r - top]?.push(xi + ((y - yi) * (xj - xi)) / (yj - yi));
      }
    }
  }
  for (let r = top; r < end; r++) {
    const xs = (crossings[r - top] as number[]).sort((p, q) => p - q);
    for (let i = 0; i + 1 < xs.length; i += 2) {
      const from = Math.max(0, Math.ceil(((xs[i] as number) - x0) / mmPerPx - 0.5));
      const to = Math.min(width, Math.ceil(((xs[i + 1] as number) - x0) / mmPerPx - 0.5));
      if (to > from) span(r, from, to);
    }
  }
}

/** 1 for every pixel whose centre lies in the regions, 0 elsewhere. Regions are painted one over the other. */
export function maskOf<F extends Frame>(grid: Grid, regions: readonly Region<F>[]): Uint8Array {
  const mask = new Uint8Array(grid.width * grid.height);
  for (const { outer, holes } of regions) {
    scan(grid, [outer, ...holes], (r, from, to) => mask.fill(1, r * grid.width + from, r * grid.width + to));
  }
  return mask;
}

/** 1 for every pixel whose centre lies no more than `reach` mm from one of the rings' edges, 0 elsewhere. */
export function nearMask<F extends Frame>(grid: Grid, rings: readonly Polygon<F>[], reach: number): Uint8Array {
  const { width, height, mmPerPx, x0, y0 } = grid;
  const mask = new Uint8Array(width * height);
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [p, q] = [ring[j] as Polygon<F>[number], ring[i] as Polygon<F>[number]];
      const first = Math.max(0, Math.ceil((Math.min(p[1], q[1]) - reach - y0) / mmPerPx - 0.5));
      const last = Math.min(height - 1, Math.floor((Math.max(p[1], q[1]) + reach - y0) / mmPerPx - 0.5));
      for (let r = first; r <= last; r++) {
        const [low, high] = besideEdge(p, q, reach, y0 + (r + 0.5) * mmPerPx);
        const from = Math.max(0, Math.ceil((low - x0) / mmPerPx - 0.5));
        const to = Math.min(width, Math.floor((high - x0) / mmPerPx - 0.5) + 1);
        if (to > from) mask.fill(1, r * width + from, r * width + to);
      }
    }
  }
  return mask;
}

type Span = readonly [low: number, high: number];
const NOTHING: Span = [Infinity, -Infinity];

/** Least and greatest x at height y no more than `reach` from the edge p-q: the wood beside it and the rounds at its ends make one span. */
function besideEdge<F extends Frame>(p: Polygon<F>[number], q: Polygon<F>[number], reach: number, y: number): Span {
  const [atP, atQ] = [halfWidth(reach, y - p[1]), halfWidth(reach, y - q[1])];
  const [low, high] = [Math.min(p[0] - atP, q[0] - atQ), Math.max(p[0] + atP, q[0] + atQ)];
  const [dx, dy, length] = [q[0] - p[0], q[1] - p[1], Math.hypot(q[0] - p[0], q[1] - p[1])];
  if (length === 0) return [low, high];
  // Along the edge 0 to its length, across it no more than reach: two slanted strips, cut at this height.
  const up = y - p[1];
  const along = strip(dx / length, (dy / length) * up, 0, length);
  const across = strip(-dy / length, (dx / length) * up, -reach, reach);
  const [from, to] = [p[0] + Math.max(along[0], across[0]), p[0] + Math.min(along[1], across[1])];
  return from <= to ? [Math.min(low, from), Math.max(high, to)] : [low, high];
}

/** Half the width of a circle so far off its middle; less than nothing beyond it. */
const halfWidth = (radius: number, off: number): number =>
  Math.abs(off) <= radius ? Math.sqrt(radius * radius - off * off) : -Infinity;

/** The x for which least <= slope x + rest <= most. */
function strip(slope: number, rest: number, least: number, most: number): Span {
  if (slope === 0) return rest >= least && rest <= most ? [-Infinity, Infinity] : NOTHING;
  const [a, b] = [(least - rest) / slope, (most - rest) / slope];
  return a < b ? [a, b] : [b, a];
}

/**
 * Share of each pixel that lies inside a ring, 0..1: `fine` x `fine` points a pixel, enough for an edge that looks smooth.
 */
export function coverage<F extends Frame>(grid: Grid, ring: Polygon<F>, fine = 4): Float32Array {
  const share = new Float32Array(grid.width * grid.height);
  const each = 1 / (fine * fine);
  const finer: Grid = { ...grid, width: grid.width * fine, height: grid.height * fine, mmPerPx: grid.mmPerPx / fine };
  scan(finer, [ring], (r, from, to) => {
    const row = Math.floor(r / fine) * grid.width;
    for (let c = from; c < to; c++) {
      const i = row + Math.floor(c / fine);
      share[i] = (share[i] as number) + each;
    }
  });
  return share;
}
