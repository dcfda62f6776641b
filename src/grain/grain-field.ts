import { offset, type Region } from '../geometry';
import { blur, type FacePicture, lightness, maskOf, type Plane, resample } from '../raster';
import type { GrainField } from './joint-types';

/** Working resolution, mm per pixel: rings under 2 mm cannot be told from pores in a photo of a whole slab anyway. */
const WORK = 1;
/** Lines are read at this scale, mm, and the tensor of their slopes is averaged over that one (Bigün and Granlund 1987). */
const FINE_SIGMA = 0.7;
const WINDOW_SIGMA = 8;
/** Rings are what is finer than this, mm, and they are counted over that. On photos rings of 3 mm are read two and a half times as wide, of 4 mm twice, of 8 mm right. */
const BROAD_SIGMA = 4;
const COUNT_SIGMA = 12;
/** Averages over a window are taken of cells of so many pixels: nothing in them is finer. */
const CELL = 4;
/** Wood this near its edge is left out: bark and background bleed into it. mm */
const EDGE_MARGIN = 3;
/** Share of a window that must be wood for its average to count. */
const LEAST_WOOD = 0.05;

export interface GrainOptions {
  /** Distance between nodes, mm. */
  readonly step?: number;
  /** Areas without grain of their own to read (knots, cracks): left out. */
  readonly without?: readonly Region<'face'>[];
}

/**
 * Direction and ring spacing of the grain over a face, from the structure tensor of its lightness.
 * @param region the wood, bark left out
 */
export function grainField(
  picture: FacePicture,
  region: Region<'face'>,
  { step = 10, without = [] }: GrainOptions = {},
): GrainField {
  const even = resample(picture, WORK);
  const { width, height } = even.raster;
  const grid = { width, height, mmPerPx: even.mmPerPx, x0: even.x0, y0: even.y0 };
  const wood = maskOf(grid, offset([region], -EDGE_MARGIN));
  const gaps = without.length > 0 ? maskOf(grid, offset(without, EDGE_MARGIN)) : null;
  const mask = Float32Array.from(wood, (w, i) => (w && !gaps?.[i] ? 1 : 0));
  const L = lightness(even.raster);
  const fine = smoothed(L, mask, FINE_SIGMA);
  const tensor = tensorOf(fine, mask, width, height);
  const crossings = crossingsOf(fine, smoothed(L, mask, BROAD_SIGMA), mask, width, height);

  const columns = Math.floor((width * WORK) / step);
  const rows = Math.floor((height * WORK) / step);
  const angles = new Float32Array(columns * rows).fill(Number.NaN);
  const coherence = new Float32Array(columns * rows);
  const spacing = new Float32Array(columns * rows).fill(Number.NaN);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const [x, y] = [((c + 0.5) * step) / WORK, ((r + 0.5) * step) / WORK];
      if (mask[Math.floor(y) * width + Math.floor(x)] === 0) continue;
      const at = mixOf(tensor.cells, x, y);
      if (at(tensor.known) < LEAST_WOOD) continue;
      const [xx, xy, yy] = [at(tensor.xx), at(tensor.xy), at(tensor.yy)];
      const node = r * columns + c;
      // The tensor's main axis runs across the lines; the grain runs square to it.
      const across = 0.5 * Math.atan2(2 * xy, xx - yy);
      const along = (across * 180) / Math.PI + 90;
      angles[node] = along > 90 ? along - 180 : along;
      coherence[node] = xx + yy > 1e-9 ? Math.hypot(xx - yy, 2 * xy) / (xx + yy) : 0;
      const known = at(crossings.known);
      // Along an axis at an angle to the normal, crossings thin out by its cosine; take the axis nearer the normal.
      const [cos, sin] = [Math.abs(Math.cos(across)), Math.abs(Math.sin(across))];
      const rate = cos > sin ? at(crossings.x) / cos : at(crossings.y) / sin;
      if (known >= LEAST_WOOD && rate > 0) spacing[node] = (WORK * known) / rate;
    }
  }
  return { step, x0: even.x0 + step / 2, y0: even.y0 + step / 2, columns, rows, angles, coherence, spacing };
}

/** Blur that does not let what is outside the mask bleed in. */
function smoothed({ width, height, data }: Plane, mask: Float32Array, sigma: number): Float32Array {
  const { data: sum } = blur({ width, height, data: data.map((x, i) => x * (mask[i] as number)) }, sigma);
  const { data: weight } = blur({ width, height, data: mask }, sigma);
  for (let i = 0; i < sum.length; i++)
    sum[i] = (weight[i] as number) > 1e-3 ? (sum[i] as number) / (weight[i] as number) : 0;
  return sum;
}

/** Sums over cells of CELL by CELL pixels, a cell's centre at (c + .5) CELL. */
interface Cells {
  readonly width: number;
  readonly height: number;
}

/** Averages about a place, pixels, of sums that were spread over their window: linear between cells. */
function mixOf({ width, height }: Cells, x: number, y: number): (sums: Float32Array) => number {
  const [u, v] = [x / CELL - 0.5, y / CELL - 0.5];
  const [c, r] = [Math.floor(u), Math.floor(v)];
  const [left, right] = [Math.max(0, c), Math.min(width - 1, c + 1)];
  const [upper, lower] = [Math.max(0, r) * width, Math.min(height - 1, r + 1) * width];
  const [p, q] = [u - c, v - r];
  return (sums) => {
    const at = (i: number) => sums[i] as number;
    const above = (1 - p) * at(upper + left) + p * at(upper + right);
    return (1 - q) * above + q * ((1 - p) * at(lower + left) + p * at(lower + right));
  };
}

/** As many sums over cells as are asked for, and the cells. */
function cellsOf(width: number, height: number) {
  const cells: Cells = { width: Math.ceil(width / CELL), height: Math.ceil(height / CELL) };
  const sums = () => new Float32Array(cells.width * cells.height);
  const spread = (data: Float32Array, sigma: number) => {
    const { data: wide } = blur({ ...cells, data }, sigma / CELL / WORK);
    for (let i = 0; i < wide.length; i++) wide[i] = (wide[i] as number) / (CELL * CELL);
    return wide;
  };
  return { cells, sums, spread };
}

/** Structure tensor: squares and product of the slopes of lightness, averaged over WINDOW_SIGMA. */
function tensorOf(fine: Float32Array, mask: Float32Array, width: number, height: number) {
  const { cells, sums, spread } = cellsOf(width, height);
  const [xx, xy, yy, known] = [sums(), sums(), sums(), sums()];
  for (let r = 1; r < height - 1; r++) {
    for (let c = 1; c < width - 1; c++) {
      const i = r * width + c;
      if (!(mask[i] && mask[i - 1] && mask[i + 1] && mask[i - width] && mask[i + width])) continue;
      const gx = ((fine[i + 1] as number) - (fine[i - 1] as number)) / 2;
      const gy = ((fine[i + width] as number) - (fine[i - width] as number)) / 2;
      const cell = Math.floor(r / CELL) * cells.width + Math.floor(c / CELL);
      xx[cell] = (xx[cell] as number) + gx * gx;
      xy[cell] = (xy[cell] as number) + gx * gy;
      yy[cell] = (yy[cell] as number) + gy * gy;
      known[cell] = (known[cell] as number) + 1;
    }
  }
  const window = (of: Float32Array) => spread(of, WINDOW_SIGMA);
  return { cells, xx: window(xx), xy: window(xy), yy: window(yy), known: window(known) };
}

/**
 * How often lines are crossed: a ring is one rise and one fall through the local mean, so the density of sign changes of the
 * high-passed lightness along x and y, halved, gives rings a pixel along each axis (Rice 1944).
 */
function crossingsOf(fine: Float32Array, broad: Float32Array, mask: Float32Array, width: number, height: number) {
  const { sums, spread } = cellsOf(width, height);
  const [x, y, known] = [sums(), sums(), sums()];
  const across = Math.ceil(width / CELL);
  for (let r = 0; r < height - 1; r++) {
    for (let c = 0; c < width - 1; c++) {
      const i = r * width + c;
      if (!(mask[i] && mask[i + 1] && mask[i + width])) continue;
      const cell = Math.floor(r / CELL) * across + Math.floor(c / CELL);
      known[cell] = (known[cell] as number) + 1;
      const here = (fine[i] as number) > (broad[i] as number);
      if (here !== (fine[i + 1] as number) > (broad[i + 1] as number)) x[cell] = (x[cell] as number) + 0.5;
      if (here !== (fine[i + width] as number) > (broad[i + width] as number)) y[cell] = (y[cell] as number) + 0.5;
    }
  }
  const window = (of: Float32Array) => spread(of, COUNT_SIGMA);
  return { x: window(x), y: window(y), known: window(known) };
}
