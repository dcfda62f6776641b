import { type FacePicture, type Grid, linearLight, srgbByte } from '../raster';
import { backward, cholesky, forward } from '../surface';
import type { PaperLight } from './paper-light';
import { boxOf } from './segment';

/** What a picture's linear light is multiplied by at a spot of the face (natural log), for red, green and blue. */
export type Tone = (x: number, y: number) => readonly [number, number, number];

export const NO_TONE: Tone = () => [0, 0, 0];

/** The tone that brings paper to one white. */
export const paperTone =
  ({ at, channels }: PaperLight): Tone =>
  (x, y) => {
    const log = (k: 0 | 1 | 2) => {
      const [base, perX, perY] = channels[k] as readonly [number, number, number];
      return base + perX * (x - at[0]) + perY * (y - at[1]);
    };
    return [log(0), log(1), log(2)];
  };

export const bothTones =
  (a: Tone, b: Tone): Tone =>
  (x, y) => {
    const [p, q] = [a(x, y), b(x, y)];
    return [p[0] + q[0], p[1] + q[1], p[2] + q[2]];
  };

/** Every so many pixels a tone is reckoned; between them it is as good as straight. */
const CELL = 16;

/** Linear light is looked up in so many steps: finer than a byte of sRGB in the dark. */
const LEVELS = 8192;

/** An RGBA picture in another tone; where it is transparent it stays as it is. */
export function toned(picture: FacePicture, tone: Tone): FacePicture {
  const { raster, mmPerPx, x0, y0 } = picture;
  const { width, height } = raster;
  const linear = Float64Array.from({ length: 256 }, (_, byte) => LEVELS * linearLight(byte));
  const bytes = Uint8ClampedArray.from({ length: LEVELS + 1 }, (_, level) => srgbByte(level / LEVELS));
  const data = Uint8ClampedArray.from(raster.data);
  const cells = Math.ceil(width / CELL) + 1;
  const lineAt = (row: number): Float64Array => {
    const gains = new Float64Array(3 * cells);
    for (let k = 0; k < cells; k++) {
      const [red, green, blue] = tone(x0 + (k * CELL + 0.5) * mmPerPx, y0 + (row + 0.5) * mmPerPx);
      gains.set([Math.exp(red), Math.exp(green), Math.exp(blue)], 3 * k);
    }
    return gains;
  };
  let [upper, lower] = [lineAt(0), lineAt(CELL)];
  const gains = new Float64Array(3 * cells);
  for (let r = 0; r < height; r++) {
    if (r > 0 && r % CELL === 0) [upper, lower] = [lower, lineAt(r + CELL)];
    const t = (r % CELL) / CELL;
    for (let k = 0; k < gains.length; k++) gains[k] = (upper[k] as number) * (1 - t) + (lower[k] as number) * t;
    for (let c = 0, i = 4 * r * width; c < width; c++, i += 4) {
      if (data[i + 3] === 0) continue;
      const cell = 3 * Math.floor(c / CELL);
      const s = (c % CELL) / CELL;
      for (let k = 0; k < 3; k++) {
        const gain = (gains[cell + k] as number) * (1 - s) + (gains[cell + 3 + k] as number) * s;
        const level = gain * (linear[data[i + k] as number] as number) + 0.5;
        data[i + k] = bytes[level < LEVELS ? level | 0 : LEVELS] as number;
      }
    }
  }
  return { ...picture, raster: { ...raster, data } };
}

/** Side of the squares over which light is compared, mm. */
const SQUARE = 25;
/** Squares this much darker or lighter than the rest say, natural log, are something else: a reflex, a shadow's edge. */
const ODD = 0.15;
const TERMS = 4;

/**
 * How much lighter the first of two pictures of the same wood is than the second: log of the ratio of linear light as a plane over the
 * part that both show, bent across it.
 * @param first, second RGBA on one grid, figure on figure
 */
export function lightBetween(
  grid: Grid,
  first: Uint8ClampedArray | Uint8Array,
  second: typeof first,
  wood: Uint8Array,
): Tone {
  const { width, height, mmPerPx, x0, y0 } = grid;
  const { minX, minY, maxX, maxY } = boxOf({ ...grid, data: wood });
  const hold = (v: number) => Math.max(-1, Math.min(1, v));
  const terms = (x: number, y: number) => {
    const u = hold((2 * (x - minX)) / (maxX - minX) - 1);
    const v = hold((2 * (y - minY)) / (maxY - minY) - 1);
    return [1, u, v, v * v];
  };
  const side = Math.max(2, Math.round(SQUARE / mmPerPx));
  const squares: { terms: number[]; logs: number[] }[] = [];
  for (let top = 0; top + side <= height; top += side) {
    for (let left = 0; left + side <= width; left += side) {
      const sums = new Float64Array(6);
      let n = 0;
      for (let r = top; r < top + side; r++) {
        for (let i = r * width + left; i < r * width + left + side; i++) {
          if (!wood[i]) continue;
          n++;
          for (let k = 0; k < 3; k++) {
            sums[k] = (sums[k] as number) + linearLight(first[4 * i + k] as number);
            sums[3 + k] = (sums[3 + k] as number) + linearLight(second[4 * i + k] as number);
          }
        }
      }
      if (n < 0.5 * side * side) continue;
      const at = terms(x0 + (left + side / 2) * mmPerPx, y0 + (top + side / 2) * mmPerPx);
      const log = (k: number) => Math.log(((sums[k] as number) / n + 1e-3) / ((sums[3 + k] as number) / n + 1e-3));
      squares.push({ terms: at, logs: [log(0), log(1), log(2)] });
    }
  }
  const fits = [0, 1, 2].map((k) =>
    smoothFit(squares.map((square) => [square.terms, square.logs[k] as number] as const)),
  );
  return (x, y) => {
    const at = terms(x, y);
    const log = (k: number) => at.reduce((total, f, j) => total + f * (fits[k]?.[j] as number), 0);
    return [log(0), log(1), log(2)];
  };
}

/** Least squares in a few terms, odd values weighed down (Tukey 1977), held near a constant where little tells. */
function smoothFit(values: readonly (readonly [terms: readonly number[], value: number])[]): Float64Array {
  const sorted = values.map(([, value]) => value).sort((p, q) => p - q);
  let p = Float64Array.of(sorted[sorted.length >> 1] ?? 0, 0, 0, 0);
  for (let round = 0; round < 8; round++) {
    const normal = new Float64Array(TERMS * TERMS);
    const right = new Float64Array(TERMS);
    for (const [terms, value] of values) {
      const off = value - terms.reduce((total, f, k) => total + f * (p[k] as number), 0);
      if (Math.abs(off) >= 3 * ODD) continue;
      const w = (1 - (off / (3 * ODD)) ** 2) ** 2;
      for (let i = 0; i < TERMS; i++) {
        right[i] = (right[i] as number) + w * (terms[i] as number) * value;
        for (let j = 0; j < TERMS; j++)
          normal[i * TERMS + j] = (normal[i * TERMS + j] as number) + w * (terms[i] as number) * (terms[j] as number);
      }
    }
    for (let k = 0; k < TERMS; k++) normal[k * TERMS + k] = (normal[k * TERMS + k] as number) + (k === 0 ? 1e-6 : 0.5);
    const lower = cholesky(normal, TERMS);
    p = backward(lower, TERMS, forward(lower, TERMS, right)) as typeof p;
  }
  return p;
}
