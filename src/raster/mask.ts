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
  const crossings: number[][] = Array.from({ length: height }, () => []);
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [xi, yi] = ring[i] as Polygon<F>[number];
      const [xj, yj] = ring[j] as Polygon<F>[number];
      if (yi === yj) continue;
      const first = Math.max(0, Math.ceil((Math.min(yi, yj) - y0) / mmPerPx - 0.5));
      const last = Math.min(height - 1, Math.ceil((Math.max(yi, yj) - y0) / mmPerPx - 0.5) - 1);
      for (let r = first; r <= last; r++) {
        const y = y0 + (r + 0.5) * mmPerPx;
        crossings[r]?.push(xi + ((y - yi) * (xj - xi)) / (yj - yi));
      }
    }
  }
  for (let r = 0; r < height; r++) {
    const xs = (crossings[r] as number[]).sort((p, q) => p - q);
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
