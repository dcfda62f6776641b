import type { Bounds, Point } from '../geometry';
import { blur, type Grid, type Plane } from '../raster';
import { backward, cholesky, forward } from '../surface';
import { boxOf } from './segment';

/**
 * How far the wood of one picture lies off that of another over the part that both show: what calibrations leave, which is a millimetre
 * or two where the wood is warped. A smooth shift that makes the figures of both lie on each other, found from coarse to fine by Lucas and
 * Kanade's (1981) method for a field of few parameters (Bergen and others 1992). Lines that run along the slab tell only of shifts across
 * them; knots, cracks and the figure's ends tell of the rest, and what nothing tells of stays small.
 */
export interface Shift {
  /** Wood at a spot of the first picture is found at this spot of the second, mm. */
  to(spot: Point<'face'>): Point<'face'>;
  /** How alike the wood is once it lies on each other: correlation of the finer figure, 1 at best; the median over patches. */
  readonly likeness: number;
  /** Figure of the wood, against the light it is seen in: under a hundredth there is nothing to compare. */
  readonly figure: number;
  /** Root of the mean square shift over the wood, mm. */
  readonly size: number;
}

/** Spreads of the figure that is compared, mm, one after the other. */
const LEVELS = [4, 2, 1];
/** What varies slower than so many spreads is light, not figure. */
const SLOW = 6;
/** Figure is brought to one strength over so much wood, mm. */
const STRENGTH = 25;
const ROUNDS = 10;
/** Spots that differ by more than this, in strengths of the figure, say nothing (Tukey's weight). */
const ODD = 2.5;
/** Shifts are believed to be about so large, mm, in each of their parts. */
const USUAL = 2;
/** Neighbouring spots tell the same: of so many, one counts. */
const ALIKE = 60;
/** Side of the patches whose likeness is told, mm. */
const PATCH = 40;
/** Spots so far apart are looked at, mm or pixels, whichever is more. */
const STRIDE = 2;
/** A figure whose spread is so many pixels is as well seen at half the detail. */
const PLENTY = 2;
const TERMS = 6;

/** @param wood 1 where both pictures show bare wood; @param first, second lightness (log of linear light) on the same grid */
export function shiftBetween(grid: Grid, first: Float32Array, second: Float32Array, wood: Uint8Array): Shift {
  const box = boxOf({ ...grid, data: wood });
  const terms = termsOver(box);
  const fine = smoothOver({ grid, wood, lights: [first, second] });
  const coarse = smoothOver(halved(fine));
  let p = new Float64Array(2 * TERMS);
  let likeness = 0;
  let figure = 0;
  for (const spread of LEVELS) {
    const seen = spread >= PLENTY * grid.mmPerPx ? coarse : fine;
    const { width, height, mmPerPx, x0, y0 } = seen.grid;
    const stride = seen === fine ? STRIDE : STRIDE / 2;
    const [a, b] = seen.lights.map((light) => figureOf(seen, light, spread)) as [Figure, Figure];
    figure = Math.min(a.strength, b.strength);
    for (let round = 0; round < ROUNDS; round++) {
      const normal = new Float64Array(4 * TERMS * TERMS);
      const right = new Float64Array(2 * TERMS);
      for (let r = stride; r < height - stride; r += stride) {
        for (let c = stride; c < width - stride; c += stride) {
          const i = r * width + c;
          if (!seen.wood[i]) continue;
          const f = terms(x0 + (c + 0.5) * mmPerPx, y0 + (r + 0.5) * mmPerPx);
          const [dx, dy] = sum(p, f);
          const there = at(b.data, seen.grid, c + dx / mmPerPx, r + dy / mmPerPx);
          if (Number.isNaN(there)) continue;
          const e = there - (a.data[i] as number);
          if (Math.abs(e) >= ODD) continue;
          const w = (1 - (e / ODD) ** 2) ** 2 / ALIKE;
          const gx = ((a.data[i + 1] as number) - (a.data[i - 1] as number)) / (2 * mmPerPx);
          const gy = ((a.data[i + width] as number) - (a.data[i - width] as number)) / (2 * mmPerPx);
          accumulate(normal, right, f, gx, gy, e, w);
        }
      }
      for (let k = 0; k < 2 * TERMS; k++) {
        normal[k * 2 * TERMS + k] = (normal[k * 2 * TERMS + k] as number) + 1 / USUAL ** 2;
        right[k] = (right[k] as number) + (p[k] as number) / USUAL ** 2;
      }
      const lower = cholesky(normal, 2 * TERMS);
      const step = backward(lower, 2 * TERMS, forward(lower, 2 * TERMS, right));
      p = p.map((value, k) => value - (step[k] as number));
      if (step.every((value) => Math.abs(value) < 0.003)) break;
    }
    likeness = likenessOf(seen.grid, a.data, b.data, seen.wood, (x, y) => sum(p, terms(x, y)));
  }
  return {
    to: ([x, y]) => {
      const [dx, dy] = sum(p, terms(x, y));
      return [x + dx, y + dy];
    },
    likeness,
    figure,
    size: sizeOf(grid, wood, (x, y) => sum(p, terms(x, y))),
  };
}

interface Figure {
  readonly data: Float32Array;
  /** Root of the mean square before it was brought to one strength. */
  readonly strength: number;
}

/** What is held against each other: lightness in both pictures, and where both show bare wood. */
interface Seen {
  readonly grid: Grid;
  readonly wood: Uint8Array;
  readonly lights: readonly [Float32Array, Float32Array];
}

interface Smoothed extends Seen {
  /** Mean over so many mm, of the wood only. */
  smooth(data: Float32Array, mm: number): Float32Array;
}

function smoothOver(seen: Seen): Smoothed {
  const { grid, wood } = seen;
  const { width, height, mmPerPx } = grid;
  const blurred = (data: Float32Array, mm: number) => blur({ width, height, data } satisfies Plane, mm / mmPerPx).data;
  const mask = Float32Array.from(wood);
  const known = new Map<number, Float32Array>();
  return {
    ...seen,
    smooth: (data, mm) => {
      const shares = known.get(mm) ?? blurred(mask, mm);
      known.set(mm, shares);
      const sums = blurred(
        data.map((v, i) => (wood[i] ? v : 0)),
        mm,
      );
      return sums.map((v, i) => v / Math.max(shares[i] as number, 1e-3));
    },
  };
}

/** The same at half the detail; wood is where all four pixels are. */
function halved({ grid, wood, lights }: Seen): Seen {
  const [width, height] = [Math.max(1, grid.width >> 1), Math.max(1, grid.height >> 1)];
  const four = (data: ArrayLike<number>, i: number) => {
    const from = 2 * (Math.floor(i / width) * grid.width + (i % width));
    const [a, b] = [data[from] as number, data[from + 1] as number];
    return [a, b, data[from + grid.width] as number, data[from + grid.width + 1] as number] as const;
  };
  const half = (light: Float32Array) =>
    Float32Array.from({ length: width * height }, (_, i) => {
      const [a, b, c, d] = four(light, i);
      return (a + b + c + d) / 4;
    });
  return {
    grid: { ...grid, width, height, mmPerPx: 2 * grid.mmPerPx },
    wood: Uint8Array.from({ length: width * height }, (_, i) => Math.min(...four(wood, i))),
    lights: [half(lights[0]), half(lights[1])],
  };
}

/** Lightness without light: what varies over `spread` mm, at one strength everywhere; 0 off the wood. */
function figureOf({ wood, smooth }: Smoothed, light: Float32Array, spread: number): Figure {
  const [fine, slow] = [smooth(light, spread), smooth(light, SLOW * spread)];
  const band = fine.map((v, i) => (wood[i] ? v - (slow[i] as number) : 0));
  const strength = smooth(
    band.map((v) => v * v),
    STRENGTH,
  );
  let [squares, count] = [0, 1e-9];
  band.forEach((v, i) => {
    if (!wood[i]) return;
    squares += v * v;
    count++;
  });
  const overall = Math.sqrt(squares / count);
  return {
    data: band.map((v, i) => v / Math.max(Math.sqrt(strength[i] as number), 0.25 * overall, 1e-6)),
    strength: overall,
  };
}

/** Products of places over a box, -1 to 1 within it and held at its rim beyond. */
function termsOver({ minX, minY, maxX, maxY }: Bounds): (x: number, y: number) => Float64Array {
  const [cx, cy, w, h] = [(minX + maxX) / 2, (minY + maxY) / 2, (maxX - minX) / 2, (maxY - minY) / 2];
  const hold = (v: number) => Math.max(-1, Math.min(1, v));
  return (x, y) => {
    const [u, v] = [hold((x - cx) / w), hold((y - cy) / h)];
    return Float64Array.of(1, u, v, u * v, u * u, v * v);
  };
}

function sum(p: Float64Array, f: Float64Array): [number, number] {
  let [dx, dy] = [0, 0];
  for (let k = 0; k < TERMS; k++) {
    dx += (p[k] as number) * (f[k] as number);
    dy += (p[TERMS + k] as number) * (f[k] as number);
  }
  return [dx, dy];
}

function accumulate(
  normal: Float64Array,
  right: Float64Array,
  f: Float64Array,
  gx: number,
  gy: number,
  e: number,
  w: number,
): void {
  const n = 2 * TERMS;
  for (let i = 0; i < n; i++) {
    const ji = (i < TERMS ? gx : gy) * (f[i % TERMS] as number) * w;
    right[i] = (right[i] as number) + ji * e;
    for (let j = 0; j < n; j++) {
      const jj = (j < TERMS ? gx : gy) * (f[j % TERMS] as number);
      normal[i * n + j] = (normal[i * n + j] as number) + ji * jj;
    }
  }
}

function at(data: Float32Array, { width, height }: Grid, u: number, v: number): number {
  const [c, r] = [Math.floor(u), Math.floor(v)];
  if (c < 0 || r < 0 || c + 1 >= width || r + 1 >= height) return Number.NaN;
  const [s, t] = [u - c, v - r];
  const i = r * width + c;
  const top = (data[i] as number) * (1 - s) + (data[i + 1] as number) * s;
  const bottom = (data[i + width] as number) * (1 - s) + (data[i + width + 1] as number) * s;
  return top * (1 - t) + bottom * t;
}

/** Median over patches of the correlation of two figures, one of them shifted. */
function likenessOf(
  grid: Grid,
  a: Float32Array,
  b: Float32Array,
  wood: Uint8Array,
  by: (x: number, y: number) => readonly [number, number],
): number {
  const { width, height, mmPerPx, x0, y0 } = grid;
  const side = Math.max(4, Math.round(PATCH / mmPerPx));
  const found: number[] = [];
  for (let top = 0; top + side <= height; top += side) {
    for (let left = 0; left + side <= width; left += side) {
      let [n, aa, bb, ab] = [0, 1e-9, 1e-9, 0];
      for (let r = top; r < top + side; r++) {
        for (let c = left; c < left + side; c++) {
          if (!wood[r * width + c]) continue;
          const [dx, dy] = by(x0 + (c + 0.5) * mmPerPx, y0 + (r + 0.5) * mmPerPx);
          const q = at(b, grid, c + dx / mmPerPx, r + dy / mmPerPx);
          if (Number.isNaN(q)) continue;
          const p = a[r * width + c] as number;
          n++;
          aa += p * p;
          bb += q * q;
          ab += p * q;
        }
      }
      if (n > 0.5 * side * side) found.push(ab / Math.sqrt(aa * bb));
    }
  }
  return found.sort((p, q) => p - q)[found.length >> 1] ?? 0;
}

function sizeOf(
  { width, mmPerPx, x0, y0 }: Grid,
  wood: Uint8Array,
  by: (x: number, y: number) => readonly [number, number],
): number {
  let [squares, count] = [0, 1e-9];
  for (let i = 0; i < wood.length; i += 7) {
    if (!wood[i]) continue;
    const [dx, dy] = by(x0 + ((i % width) + 0.5) * mmPerPx, y0 + (Math.floor(i / width) + 0.5) * mmPerPx);
    squares += dx * dx + dy * dy;
    count++;
  }
  return Math.sqrt(squares / count);
}
