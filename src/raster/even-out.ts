import type { Region } from '../geometry';
import { linearLight, srgbByte } from './lab';
import { maskOf } from './mask';
import type { FacePicture } from './raster';

/** A face to be evened out: its picture, and the wood in it without defects. */
export interface LitFace {
  readonly picture: FacePicture;
  readonly wood: readonly Region<'face'>[];
}

/**
 * Large-scale light over a face: log of luminance as a polynomial of the place. Cubic along the slab, where lamps and windows
 * stand off its length, and square across. More would start to even out the wood itself.
 */
const TERMS = 8;
function terms(x: number, y: number, out: Float64Array): void {
  out[0] = 1;
  out[1] = x;
  out[2] = y;
  out[3] = x * x;
  out[4] = x * y;
  out[5] = y * y;
  out[6] = x * x * x;
  out[7] = x * x * y;
}

/**
 * The faces as if under one even light: in each, large-scale lightness is taken out of linear RGB, then one gain per RGB channel
 * brings all to a common colour (their geometric mean). In trials shifts in Lab instead made true continuations look false
 * (blend fell to .27), since light multiplies. The fit is robust, so sapwood and knots do not count as light.
 * @returns pictures in the same order, RGB
 */
export function evenOut(faces: readonly LitFace[]): FacePicture[] {
  const lights = faces.map(lightOf);
  const common = [0, 1, 2].map((k) => lights.reduce((s, light) => s + (light.colour[k] as number), 0) / faces.length);
  return faces.map((face, i) => relit(face.picture, lights[i] as Light, common));
}

interface Light {
  /** Coefficients of log luminance over (x, y) scaled to -1..1 over the picture, the constant left out. */
  readonly surface: Float64Array;
  /** Mean log of each linear channel of the typical wood. */
  readonly colour: readonly number[];
}

/** The wood's pixels that the fit looks at: about this many are plenty for eight numbers. */
const WANTED = 20_000;

function lightOf({ picture, wood }: LitFace): Light {
  const { raster, mmPerPx, x0, y0 } = picture;
  const { width, height, channels, data } = raster;
  const mask = maskOf({ width, height, mmPerPx, x0, y0 }, wood);
  const inside = mask.reduce((s, m) => s + m, 0);
  const step = Math.max(1, Math.floor(Math.sqrt(inside / WANTED)));
  const places: Float64Array[] = [];
  const logs: [number, number, number, number][] = [];
  const [second, third] = channels === 1 ? [0, 0] : [1, 2];
  for (let r = step >> 1; r < height; r += step) {
    for (let c = step >> 1; c < width; c += step) {
      if (mask[r * width + c] === 0) continue;
      const at = (r * width + c) * channels;
      const [red, green, blue] = [at, at + second, at + third].map((i) =>
        Math.max(linearLight(data[i] as number), 1e-4),
      ) as [number, number, number];
      const place = new Float64Array(TERMS);
      terms((2 * c) / width - 1, (2 * r) / height - 1, place);
      places.push(place);
      logs.push([
        Math.log(0.2126 * red + 0.7152 * green + 0.0722 * blue),
        Math.log(red),
        Math.log(green),
        Math.log(blue),
      ]);
    }
  }
  if (places.length < 4 * TERMS) return { surface: new Float64Array(TERMS), colour: [0, 0, 0] };
  return robustLight(places, logs);
}

/** Least squares with Tukey's biweight (Beaton and Tukey 1974), its reach tied to the median residual, eight rounds. */
function robustLight(places: readonly Float64Array[], logs: readonly (readonly number[])[]): Light {
  const n = places.length;
  const weights = new Float64Array(n).fill(1);
  let fit = new Float64Array(TERMS);
  const off = new Float64Array(n);
  for (let round = 0; round < 8; round++) {
    fit = leastSquares(places, logs, weights);
    for (let i = 0; i < n; i++) off[i] = (logs[i]?.[0] as number) - dot(fit, places[i] as Float64Array);
    const median = [...off].map(Math.abs).sort((p, q) => p - q)[n >> 1] as number;
    const reach = Math.max(4.685 * 1.4826 * median, 1e-6);
    for (let i = 0; i < n; i++) weights[i] = Math.max(0, 1 - ((off[i] as number) / reach) ** 2) ** 2;
  }
  const surface = Float64Array.from(fit);
  surface[0] = 0;
  const colour = [0, 0, 0];
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const w = weights[i] as number;
    const light = dot(surface, places[i] as Float64Array);
    sum += w;
    for (let k = 0; k < 3; k++) colour[k] = (colour[k] as number) + w * ((logs[i]?.[k + 1] as number) - light);
  }
  return { surface, colour: colour.map((c) => c / sum) };
}

function dot(p: Float64Array, q: Float64Array): number {
  let s = 0;
  for (let k = 0; k < p.length; k++) s += (p[k] as number) * (q[k] as number);
  return s;
}

/** Weighted normal equations, a trace of ridge so that a face one pixel wide still has an answer; Gauss without pivoting (positive definite). */
function leastSquares(places: readonly Float64Array[], logs: readonly (readonly number[])[], weights: Float64Array) {
  const m = Array.from({ length: TERMS }, () => new Float64Array(TERMS + 1));
  for (let i = 0; i < places.length; i++) {
    const p = places[i] as Float64Array;
    const w = weights[i] as number;
    for (let r = 0; r < TERMS; r++) {
      const row = m[r] as Float64Array;
      const wr = w * (p[r] as number);
      for (let c = r; c < TERMS; c++) row[c] = (row[c] as number) + wr * (p[c] as number);
      row[TERMS] = (row[TERMS] as number) + wr * (logs[i]?.[0] as number);
    }
  }
  for (let r = 0; r < TERMS; r++) {
    const row = m[r] as Float64Array;
    for (let c = 0; c < r; c++) row[c] = m[c]?.[r] as number;
    row[r] = (row[r] as number) * (1 + 1e-9) + 1e-9;
  }
  for (let r = 0; r < TERMS; r++) {
    const pivot = m[r] as Float64Array;
    for (let q = r + 1; q < TERMS; q++) {
      const row = m[q] as Float64Array;
      const f = (row[r] as number) / (pivot[r] as number);
      for (let c = r; c <= TERMS; c++) row[c] = (row[c] as number) - f * (pivot[c] as number);
    }
  }
  const x = new Float64Array(TERMS);
  for (let r = TERMS - 1; r >= 0; r--) {
    const row = m[r] as Float64Array;
    let s = row[TERMS] as number;
    for (let c = r + 1; c < TERMS; c++) s -= (row[c] as number) * (x[c] as number);
    x[r] = s / (row[r] as number);
  }
  return x;
}

function relit(
  { raster, mmPerPx, x0, y0 }: FacePicture,
  { surface, colour }: Light,
  common: readonly number[],
): FacePicture {
  const { width, height, channels, data } = raster;
  const out = new Uint8ClampedArray(width * height * 3);
  const gains = common.map((c, k) => Math.exp(c - (colour[k] as number)));
  const place = new Float64Array(TERMS);
  const [second, third] = channels === 1 ? [0, 0] : [1, 2];
  for (let r = 0; r < height; r++) {
    for (let c = 0, i = r * width; c < width; c++, i++) {
      terms((2 * c) / width - 1, (2 * r) / height - 1, place);
      const even = Math.exp(-dot(surface, place));
      const at = i * channels;
      out[3 * i] = srgbByte(even * (gains[0] as number) * linearLight(data[at] as number));
      out[3 * i + 1] = srgbByte(even * (gains[1] as number) * linearLight(data[at + second] as number));
      out[3 * i + 2] = srgbByte(even * (gains[2] as number) * linearLight(data[at + third] as number));
    }
  }
  return { raster: { width, height, channels: 3, data: out }, mmPerPx, x0, y0 };
}
