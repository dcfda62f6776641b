import type { Region } from '../geometry';
import { byteOfRoot, linearLight } from './lab';
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
  let inside = 0;
  for (let i = 0; i < mask.length; i++) inside += mask[i] as number;
  const step = Math.max(1, Math.floor(Math.sqrt(inside / WANTED)));
  const most = Math.ceil(width / step) * Math.ceil(height / step);
  const [places, logs] = [new Float64Array(most * TERMS), new Float64Array(most * LOGS)];
  const place = new Float64Array(TERMS);
  const [second, third] = channels === 1 ? [0, 0] : [1, 2];
  let n = 0;
  for (let r = step >> 1; r < height; r += step) {
    for (let c = step >> 1; c < width; c += step) {
      if (mask[r * width + c] === 0) continue;
      const at = (r * width + c) * channels;
      const red = Math.max(linearLight(data[at] as number), 1e-4);
      const green = Math.max(linearLight(data[at + second] as number), 1e-4);
      const blue = Math.max(linearLight(data[at + third] as number), 1e-4);
      terms((2 * c) / width - 1, (2 * r) / height - 1, place);
      places.set(place, n * TERMS);
      logs[n * LOGS] = Math.log(0.2126 * red + 0.7152 * green + 0.0722 * blue);
      logs[n * LOGS + 1] = Math.log(red);
      logs[n * LOGS + 2] = Math.log(green);
      logs[n * LOGS + 3] = Math.log(blue);
      n++;
    }
  }
  if (n < 4 * TERMS) return { surface: new Float64Array(TERMS), colour: [0, 0, 0] };
  return robustLight(places, logs, n);
}

/** Of each place the logs of luminance, red, green and blue. */
const LOGS = 4;

/**
 * Least squares with Tukey's biweight (Beaton and Tukey 1974), its reach tied to the median residual, eight rounds.
 * @param places,logs TERMS and LOGS numbers for each of the n places
 */
function robustLight(places: Float64Array, logs: Float64Array, n: number): Light {
  const weights = new Float64Array(n).fill(1);
  let fit = new Float64Array(TERMS);
  const off = new Float64Array(n);
  for (let round = 0; round < 8; round++) {
    fit = leastSquares(places, logs, weights);
    for (let i = 0; i < n; i++) off[i] = Math.abs((logs[i * LOGS] as number) - dot(fit, places, i * TERMS));
    const median = off.slice().sort()[n >> 1] as number;
    const reach = Math.max(4.685 * 1.4826 * median, 1e-6);
    for (let i = 0; i < n; i++) weights[i] = Math.max(0, 1 - ((off[i] as number) / reach) ** 2) ** 2;
  }
  const surface = Float64Array.from(fit);
  surface[0] = 0;
  const colour = [0, 0, 0];
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const w = weights[i] as number;
    const light = dot(surface, places, i * TERMS);
    sum += w;
    for (let k = 0; k < 3; k++) colour[k] = (colour[k] as number) + w * ((logs[i * LOGS + k + 1] as number) - light);
  }
  return { surface, colour: colour.map((c) => c / sum) };
}

/** Of a surface's terms with those of a place, which stand in `places` from `at`. */
function dot(surface: Float64Array, places: Float64Array, at = 0): number {
  let s = 0;
  for (let k = 0; k < TERMS; k++) s += (surface[k] as number) * (places[at + k] as number);
  return s;
}

/** Weighted normal equations, a trace of ridge so that a face one pixel wide still has an answer; Gauss without pivoting (positive definite). */
function leastSquares(places: Float64Array, logs: Float64Array, weights: Float64Array): Float64Array<ArrayBuffer> {
  const wide = TERMS + 1;
  const m = new Float64Array(TERMS * wide);
  for (let i = 0; i < weights.length; i++) {
    const [w, at, log] = [weights[i] as number, i * TERMS, logs[i * LOGS] as number];
    for (let r = 0; r < TERMS; r++) {
      const wr = w * (places[at + r] as number);
      for (let c = r; c < TERMS; c++) m[r * wide + c] = (m[r * wide + c] as number) + wr * (places[at + c] as number);
      m[r * wide + TERMS] = (m[r * wide + TERMS] as number) + wr * log;
    }
  }
  for (let r = 0; r < TERMS; r++) {
    for (let c = 0; c < r; c++) m[r * wide + c] = m[c * wide + r] as number;
    m[r * wide + r] = (m[r * wide + r] as number) * (1 + 1e-9) + 1e-9;
  }
  for (let r = 0; r < TERMS; r++) {
    for (let q = r + 1; q < TERMS; q++) {
      const f = (m[q * wide + r] as number) / (m[r * wide + r] as number);
      for (let c = r; c <= TERMS; c++) m[q * wide + c] = (m[q * wide + c] as number) - f * (m[r * wide + c] as number);
    }
  }
  const x = new Float64Array(TERMS);
  for (let r = TERMS - 1; r >= 0; r--) {
    let s = m[r * wide + TERMS] as number;
    for (let c = r + 1; c < TERMS; c++) s -= (m[r * wide + c] as number) * (x[c] as number);
    x[r] = s / (m[r * wide + r] as number);
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
  const gains = common.map((c, k) => Math.exp((c - (colour[k] as number)) / 2)) as [number, number, number];
  const [, x1, y1, x2, xy, y2, x3, x2y] = surface as unknown as Eight;
  const [second, third] = channels === 1 ? [0, 0] : [1, 2];
  for (let r = 0; r < height; r++) {
    // Along a row the surface is a cubic in x.
    const y = (2 * r) / height - 1;
    const [p0, p1, p2] = [y * (y1 + y * y2), x1 + xy * y, x2 + x2y * y];
    for (let c = 0, at = r * width * channels, to = 3 * r * width; c < width; c++, at += channels, to += 3) {
      const x = (2 * c) / width - 1;
      // Roots all along: the table from linear light back to sRGB is asked by them.
      const even = Math.exp((p0 + x * (p1 + x * (p2 + x * x3))) / -2);
      out[to] = byteOfRoot(even * gains[0] * (ROOTS[data[at] as number] as number));
      out[to + 1] = byteOfRoot(even * gains[1] * (ROOTS[data[at + second] as number] as number));
      out[to + 2] = byteOfRoot(even * gains[2] * (ROOTS[data[at + third] as number] as number));
    }
  }
  return { raster: { width, height, channels: 3, data: out }, mmPerPx, x0, y0 };
}

type Eight = readonly [number, number, number, number, number, number, number, number];

/** Root of the linear light of each byte. */
const ROOTS = Float64Array.from({ length: 256 }, (_, byte) => Math.sqrt(linearLight(byte)));
