import type { Point } from '../geometry';
import type { Mask } from './segment';

/** A slab's own axis, along the grain: sides and ends are sought along and across it. */

/** Unit vectors along and across the slab, its middle, and how far it reaches along. mm */
export interface Axis {
  readonly middle: Point<'face'>;
  readonly along: readonly [number, number];
  readonly across: readonly [number, number];
  /** How far the mask reaches from the middle along and across, mm. */
  readonly length: number;
  readonly width: number;
}

/** A straight line in that frame: value = at + slope * key, both from the axis's middle. */
export interface Straight {
  readonly at: number;
  readonly slope: number;
}

/** Principal axis of the mask, along pointing to +x. */
export function axisOf({ data, width, mmPerPx, x0, y0 }: Mask): Axis {
  let [n, sx, sy, sxx, sxy, syy] = [0, 0, 0, 0, 0, 0];
  data.forEach((v, i) => {
    if (!v) return;
    const [x, y] = [x0 + ((i % width) + 0.5) * mmPerPx, y0 + (Math.floor(i / width) + 0.5) * mmPerPx];
    n++;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
    syy += y * y;
  });
  const [mx, my] = [sx / n, sy / n];
  const angle = 0.5 * Math.atan2(2 * (sxy / n - mx * my), sxx / n - mx * mx - (syy / n - my * my));
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  let [length, across] = [0, 0];
  data.forEach((v, i) => {
    if (!v) return;
    const [x, y] = [x0 + ((i % width) + 0.5) * mmPerPx - mx, y0 + (Math.floor(i / width) + 0.5) * mmPerPx - my];
    length = Math.max(length, Math.abs(x * c + y * s));
    across = Math.max(across, Math.abs(-x * s + y * c));
  });
  return { middle: [mx, my], along: [c, s], across: [-s, c], length: length + mmPerPx, width: across + mmPerPx };
}

export const place = ({ middle, along, across }: Axis, s: number, t: number): Point<'face'> => [
  middle[0] + s * along[0] + t * across[0],
  middle[1] + s * along[1] + t * across[1],
];

/** First and last place of the mask on a line from `from` along `way`, at most `far` mm from there; null where the line misses it. */
export function extent(
  mask: Mask,
  from: Point<'face'>,
  way: readonly [number, number],
  far: number,
): [number, number] | null {
  const { data, width, height, mmPerPx, x0, y0 } = mask;
  const step = mmPerPx / 2;
  let [first, last] = [Number.NaN, Number.NaN];
  for (let t = -far; t <= far; t += step) {
    const c = Math.floor((from[0] + t * way[0] - x0) / mmPerPx);
    const r = Math.floor((from[1] + t * way[1] - y0) / mmPerPx);
    if (c < 0 || r < 0 || c >= width || r >= height || data[r * width + c] !== 1) continue;
    if (Number.isNaN(first)) first = t;
    last = t;
  }
  return Number.isNaN(first) ? null : [first - step / 2, last + step / 2];
}

/** Numbers from one end to the other, whole steps apart. */
export const steps = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.floor(Math.abs(to - from) / step) + 1 }, (_, i) => from + Math.sign(to - from) * i * step);

/** The line through pairs, by least absolute deviations. */
export function fitLine(pairs: readonly (readonly [key: number, value: number])[]): Straight {
  let [at, slope] = [0, 0];
  for (let round = 0; round < 12; round++) {
    let [sw, sk, sv, skk, skv] = [0, 0, 0, 0, 0];
    for (const [k, v] of pairs) {
      const w = round === 0 ? 1 : 1 / Math.max(0.5, Math.abs(v - at - slope * k));
      sw += w;
      sk += w * k;
      sv += w * v;
      skk += w * k * k;
      skv += w * k * v;
    }
    const det = sw * skk - sk * sk;
    slope = det > 1e-9 ? (sw * skv - sk * sv) / det : 0;
    at = (sv - slope * sk) / sw;
  }
  return { at, slope };
}

/** Whether a point lies between a slab's two straight ends. */
export function within(
  { middle, along, across }: Axis,
  [left, right]: readonly [Straight, Straight],
  p: Point<'face'>,
): boolean {
  const [dx, dy] = [p[0] - middle[0], p[1] - middle[1]];
  const [s, t] = [dx * along[0] + dy * along[1], dx * across[0] + dy * across[1]];
  return s >= left.at + left.slope * t && s <= right.at + right.slope * t;
}
