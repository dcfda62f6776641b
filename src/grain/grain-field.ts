import { offset, type Region } from '../geometry';
import { blur, type FacePicture, labPlanes, maskOf, type Plane, resample } from '../raster';
import type { GrainField } from './joint-types';

/** Working resolution, mm per pixel: rings under 2 mm cannot be told from pores in a photo of a whole slab anyway. */
const WORK = 1;
/** Gradients are taken at this scale, mm, and their tensor is averaged over that one (Bigün and Granlund 1987). */
const GRADIENT_SIGMA = 1;
const WINDOW_SIGMA = 8;
/** Wood this near its edge is left out: bark and background bleed into it. mm */
const EDGE_MARGIN = 3;

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
  const { L } = labPlanes(even.raster);
  const smooth = maskedBlur(L, mask, GRADIENT_SIGMA);
  const tensor = averagedTensor(smooth, mask);
  const crossings = ringCrossings(L, mask);

  const columns = Math.floor((width * WORK) / step);
  const rows = Math.floor((height * WORK) / step);
  const angles = new Float32Array(columns * rows).fill(Number.NaN);
  const coherence = new Float32Array(columns * rows);
  const spacing = new Float32Array(columns * rows).fill(Number.NaN);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const at = Math.floor(((r + 0.5) * step) / WORK) * width + Math.floor(((c + 0.5) * step) / WORK);
      const w = tensor.weight[at] as number;
      if (mask[at] === 0 || w < 0.05) continue;
      const [xx, xy, yy] = [tensor.xx[at], tensor.xy[at], tensor.yy[at]] as [number, number, number];
      const node = r * columns + c;
      // The tensor's main axis runs across the lines; the grain runs square to it.
      const across = 0.5 * Math.atan2(2 * xy, xx - yy);
      const along = (across * 180) / Math.PI + 90;
      angles[node] = along > 90 ? along - 180 : along;
      coherence[node] = xx + yy > 1e-9 ? Math.hypot(xx - yy, 2 * xy) / (xx + yy) : 0;
      const rate = crossings.rate(at, Math.cos(across), Math.sin(across));
      if (rate > 0) spacing[node] = WORK / rate;
    }
  }
  return { step, x0: even.x0 + step / 2, y0: even.y0 + step / 2, columns, rows, angles, coherence, spacing };
}

/** Blur that does not let what is outside the mask bleed in. */
function maskedBlur({ width, height, data }: Plane, mask: Float32Array, sigma: number): Plane {
  const sum = blur({ width, height, data: data.map((x, i) => x * (mask[i] as number)) }, sigma).data;
  const weight = blur({ width, height, data: mask }, sigma).data;
  return { width, height, data: sum.map((s, i) => ((weight[i] as number) > 1e-3 ? s / (weight[i] as number) : 0)) };
}

function averagedTensor({ width, height, data }: Plane, mask: Float32Array) {
  const n = width * height;
  const [xx, xy, yy, known] = [0, 0, 0, 0].map(() => new Float32Array(n)) as [
    Float32Array,
    Float32Array,
    Float32Array,
    Float32Array,
  ];
  for (let r = 1; r < height - 1; r++) {
    for (let c = 1; c < width - 1; c++) {
      const i = r * width + c;
      if (!(mask[i] && mask[i - 1] && mask[i + 1] && mask[i - width] && mask[i + width])) continue;
      const gx = ((data[i + 1] as number) - (data[i - 1] as number)) / 2;
      const gy = ((data[i + width] as number) - (data[i - width] as number)) / 2;
      xx[i] = gx * gx;
      xy[i] = gx * gy;
      yy[i] = gy * gy;
      known[i] = 1;
    }
  }
  const spread = (plane: Float32Array) => blur({ width, height, data: plane }, WINDOW_SIGMA / WORK).data;
  return { xx: spread(xx), xy: spread(xy), yy: spread(yy), weight: spread(known) };
}

/**
 * How often lines are crossed: a ring is one rise and one fall through the local mean, so the density of sign changes of the
 * high-passed lightness along x and y, halved, gives rings a pixel along each axis (Rice 1944), and their root of squares across the grain.
 */
function ringCrossings(L: Plane, mask: Float32Array) {
  const { width, height } = L;
  const fine = maskedBlur(L, mask, 1).data;
  const broad = maskedBlur(L, mask, 12).data;
  const high = fine.map((x, i) => x - (broad[i] as number));
  const [acrossX, acrossY, known] = [0, 0, 0].map(() => new Float32Array(width * height)) as [
    Float32Array,
    Float32Array,
    Float32Array,
  ];
  for (let r = 0; r < height - 1; r++) {
    for (let c = 0; c < width - 1; c++) {
      const i = r * width + c;
      if (!(mask[i] && mask[i + 1] && mask[i + width])) continue;
      known[i] = 1;
      const here = (high[i] as number) > 0;
      if (here !== (high[i + 1] as number) > 0) acrossX[i] = 0.5;
      if (here !== (high[i + width] as number) > 0) acrossY[i] = 0.5;
    }
  }
  const spread = (plane: Float32Array) => blur({ width, height, data: plane }, 12).data;
  const [x, y, weight] = [spread(acrossX), spread(acrossY), spread(known)];
  return {
    /** Rings a pixel, measured square to lines whose normal is (cos, sin). */
    rate(i: number, cos: number, sin: number): number {
      const w = weight[i] as number;
      if (w < 0.05) return 0;
      // Along an axis at an angle to the normal, crossings thin out by its cosine; take the axis nearer the normal.
      return Math.abs(cos) > Math.abs(sin)
        ? (x[i] as number) / w / Math.abs(cos)
        : (y[i] as number) / w / Math.abs(sin);
    },
  };
}
