import type { Point } from '../geometry';
import { type FacePicture, labPlanes, rasterOf, sample } from '../raster';

/**
 * A strip of the picture along a line, pulled straight: one row for each station of the line, one column for each offset along the
 * line's normal, negative inwards. Edges that roughly follow the line become upright, and a path through the rows follows them.
 */
export interface Band {
  readonly stations: readonly Station[];
  /** Offset of the first column and between columns, mm. */
  readonly from: number;
  readonly step: number;
  readonly columns: number;
  /** CIELAB, row by row. */
  readonly L: Float32Array;
  readonly a: Float32Array;
  readonly b: Float32Array;
  /** 0 where a sample shows no wood or floor: beyond the photo, or a thing laid over it. */
  readonly valid: Uint8Array;
}

/** A place of the line and its outward unit normal. */
export interface Station {
  readonly at: Point<'face'>;
  readonly normal: readonly [number, number];
}

/** @param hides 1 for each pixel of the picture that shows neither wood nor floor */
export function sampleBand(
  picture: FacePicture,
  hides: Uint8Array,
  stations: readonly Station[],
  from: number,
  to: number,
  step: number,
): Band {
  const { raster, mmPerPx, x0, y0 } = picture;
  const columns = Math.round((to - from) / step) + 1;
  const data = new Uint8ClampedArray(stations.length * columns * 3);
  const valid = new Uint8Array(stations.length * columns);
  const { width, height, channels } = raster;
  // Between pixels only where the band is finer than they are.
  const between = step < mmPerPx;
  const one = new Float32Array(4);
  const [green, blue] = channels === 1 ? [0, 0] : [1, 2];
  for (let row = 0; row < stations.length; row++) {
    const { at, normal } = stations[row] as Station;
    const [u0, v0] = [(at[0] - x0) / mmPerPx - 0.5, (at[1] - y0) / mmPerPx - 0.5];
    const [perU, perV] = [normal[0] / mmPerPx, normal[1] / mmPerPx];
    for (let c = 0, k = row * columns; c < columns; c++, k++) {
      const t = from + c * step;
      const [u, v] = [u0 + t * perU, v0 + t * perV];
      const [i, j] = [Math.round(u), Math.round(v)];
      if (i < 0 || j < 0 || i >= width || j >= height) continue;
      valid[k] = hides[j * width + i] ? 0 : 1;
      if (between) {
        sample(raster, u, v, one);
        data[k * 3] = one[0] as number;
        data[k * 3 + 1] = one[green] as number;
        data[k * 3 + 2] = one[blue] as number;
      } else {
        const pixel = (j * width + i) * channels;
        data[k * 3] = raster.data[pixel] as number;
        data[k * 3 + 1] = raster.data[pixel + green] as number;
        data[k * 3 + 2] = raster.data[pixel + blue] as number;
      }
    }
  }
  const lab = labPlanes(rasterOf(columns, stations.length, 3, data));
  return { stations, from, step, columns, L: lab.L.data, a: lab.a.data, b: lab.b.data, valid };
}

/** The point of the face at an offset (columns, fractions allowed) from a station. */
export function pointAt({ from, step }: Band, { at, normal }: Station, column: number): Point<'face'> {
  const t = from + column * step;
  return [at[0] + t * normal[0], at[1] + t * normal[1]];
}

/**
 * How much lighter (or redder, yellower) the wood is within `reach` mm inwards of each sample than outwards of it, as mean differences
 * over that width, so that a dark ring is not taken for an edge. 0 where either side has fewer than half its samples.
 */
export function stepAcross({ columns, step, valid }: Band, plane: Float32Array, reach: number): Float32Array {
  const n = Math.max(1, Math.round(reach / step));
  const out = new Float32Array(plane.length);
  const sum = new Float64Array(columns + 1);
  const count = new Float64Array(columns + 1);
  for (let row = 0; row < plane.length; row += columns) {
    for (let c = 0; c < columns; c++) {
      const ok = valid[row + c] as number;
      sum[c + 1] = (sum[c] as number) + (ok ? (plane[row + c] as number) : 0);
      count[c + 1] = (count[c] as number) + ok;
    }
    for (let c = 0; c < columns; c++) {
      // The sample at the edge itself is of neither side.
      const [lo, hi] = [Math.max(0, c - n), Math.min(columns, c + 1 + n)];
      const [ni, no] = [(count[c] as number) - (count[lo] as number), (count[hi] as number) - (count[c + 1] as number)];
      if (2 * ni < n || 2 * no < n) continue;
      out[row + c] =
        ((sum[c] as number) - (sum[lo] as number)) / ni - ((sum[hi] as number) - (sum[c + 1] as number)) / no;
    }
  }
  return out;
}

/**
 * The path of least cost through all rows of a band, one column a row, moving at most `most` columns from one row to the next, each
 * column moved costing `bend` (dynamic programming).
 * @returns column of every row
 */
export function shortestPath(
  cost: Float32Array,
  columns: number,
  { most, bend }: { most: number; bend: number },
): Int32Array {
  const rows = cost.length / columns;
  const from = new Int16Array(cost.length);
  let [best, next] = [Float64Array.from(cost.subarray(0, columns)), new Float64Array(columns)];
  for (let row = 1; row < rows; row++) {
    for (let c = 0, i = row * columns; c < columns; c++, i++) {
      let [least, by] = [Infinity, 0];
      for (let k = Math.max(0, c - most); k <= Math.min(columns - 1, c + most); k++) {
        const total = (best[k] as number) + bend * Math.abs(k - c);
        if (total < least) [least, by] = [total, k];
      }
      next[c] = least + (cost[i] as number);
      from[i] = by;
    }
    [best, next] = [next, best];
  }
  const path = new Int32Array(rows);
  let c = best.indexOf(Math.min(...best));
  for (let row = rows - 1; row >= 0; row--) {
    path[row] = c;
    c = from[row * columns + c] as number;
  }
  return path;
}

/** A change of colour (CIELAB) that leaves no doubt. */
const CLEAR = 30;
/** How much less an edge to something lighter counts where dark bark is expected. */
const LESS = 0.6;
/** What kind of edge is sought: `dark` light wood with dark beyond it, `either` any change of colour, `both` any, but rather dark beyond. */
export type Kind = 'dark' | 'either' | 'both';

/** Minus the clearness of an edge through each sample, 1 being beyond doubt. */
export function edgeCost(band: Band, kind: Kind, reach: number): Float32Array {
  const L = stepAcross(band, band.L, reach);
  if (kind === 'dark') return L.map((v) => -Math.max(0, v / CLEAR));
  const a = stepAcross(band, band.a, reach);
  const b = stepAcross(band, band.b, reach);
  const change = L.map((v, i) => -Math.hypot(v, a[i] as number, b[i] as number) / CLEAR);
  return kind === 'either' ? change : change.map((v, i) => ((L[i] as number) > 0 ? v : LESS * v));
}

/** Stations at the points of a line, their normals (to the left of the way for -1, the right for 1) smoothed over 20 mm. */
export function stationsAlong(line: readonly Point<'face'>[], sign: -1 | 1): Station[] {
  return line.map((at, i) => {
    const p = line[Math.max(0, i - 10)] as Point<'face'>;
    const q = line[Math.min(line.length - 1, i + 10)] as Point<'face'>;
    const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
    const length = Math.hypot(dx, dy) || 1;
    return { at, normal: [(-sign * dy) / length, (sign * dx) / length] };
  });
}
