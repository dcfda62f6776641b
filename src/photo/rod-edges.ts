import type { Point } from '../geometry';
import { type Raster, sample } from '../raster';
import { toLight } from './edges';
import { type Local, type SeenEdge, UNCERTAIN_LINES } from './marks';
import { type Corners, squareOff, squareTo } from './quad';

/** Spots sought along long edges and short ones, and the share of the edge that they keep off its ends. */
const SPOTS = { long: 24, short: 8 };
const OFF_ENDS = { long: 0.03, short: 0.12 };
/** How far across the edge colours are read, and their spacing, px. */
const ACROSS = 8;
const STEP = 0.25;
/** How far from the clicked line the edge may lie, px: the lens bows it, and a click is off; and from the curve once that is found. */
const REACH = [4, 1.5] as const;
/** Where the colour on either side of an edge is read, px from it: beyond its blur, and before the rod's own side shows its foot. */
const BESIDE = [1.75, 3.25] as const;
/** Colours must differ by this much light, as a share of white. */
const LEAST_CONTRAST = 0.05;
/** An edge is believed when so many of its spots lie within so many px of one even curve. */
const BELIEVED = { share: 0.6, px: 0.35 };

/**
 * The edges of a rod's top face in a photo: where colour passes half way, in light, from the top to what lies beside it. Clicks tell the
 * width of a rod to a pixel, its edges to a tenth of that, and how the width shrinks along it tells how the camera leans; that they are
 * straight tells the lens (plumb-line method: Brown 1971). An edge without contrast is left out.
 * @param corners of the top face, clockwise from its drawing's top left
 * @param rod its number: one long edge and one end lie on an uncertain line of its own (SeenEdge), for a typed width is not exact, and the
 *   side of a rod that the camera sees beside its top shifts an edge by tenths of a pixel
 * @returns spots on a drawing whose origin is amid the rod, x along it, mm
 */
export function rodEdges(photo: Raster, corners: Corners, length: number, width: number, rod: number): SeenEdge[] {
  const map = squareTo(corners);
  return SIDES.flatMap(([side, kind]) => {
    const on = (t: number): Local => (kind === 'long' ? [t, side / 2] : [side / 2, t]);
    const inwards: Local = kind === 'long' ? [0, -side] : [-side, 0];
    return evenSpots(photo, map, on, inwards, kind).map(({ t, px, lighter }): SeenEdge => {
      const [x, y] = on(t);
      return {
        at: [x * length, y * width],
        towards: lighter ? inwards : [-inwards[0], -inwards[1]],
        px,
        outer: true,
        ...(side > 0 && { line: (kind === 'long' ? UNCERTAIN_LINES / 2 : 0) + (rod % (UNCERTAIN_LINES / 2)) }),
      };
    });
  });
}

const SIDES = [
  [-1, 'long'],
  [1, 'long'],
  [-1, 'short'],
  [1, 'short'],
] as const;

/** Spots of one edge that lie on one even curve; none where there are too few. */
function evenSpots(
  photo: Raster,
  map: (local: Local) => Point<'photo'>,
  on: (t: number) => Local,
  inwards: Local,
  kind: 'long' | 'short',
): Spot[] {
  const step = (1 - 2 * OFF_ENDS[kind]) / SPOTS[kind];
  const places = Array.from({ length: SPOTS[kind] }, (_, k) => OFF_ENDS[kind] + step * (k + 0.5) - 0.5);
  const least = BELIEVED.share * SPOTS[kind];
  let bow: (t: number) => number = () => 0;
  let spots: Spot[] = [];
  for (const reach of REACH) {
    const found = places.flatMap((t): Spot[] => {
      const [from, to] = [on(t - 0.4 * step), on(t + 0.4 * step)];
      const ends = [map(from), map(to)] as const;
      const normal = squareOff(ends, [from, to], inwards);
      const across = edgeAcross(photo, ends, normal, bow(t), reach);
      if (!across) return [];
      const [u, v] = map(on(t));
      return [{ ...across, t, px: [u + normal[0] * across.off, v + normal[1] * across.off] }];
    });
    const curve = evenCurve(found, least);
    if (!curve) return [];
    ({ bow, spots } = curve);
  }
  return spots.length < least ? [] : spots;
}

interface Spot {
  /** Where along the edge, from -1/2 to 1/2. */
  readonly t: number;
  /** Offset from the clicked line, px inwards. */
  readonly off: number;
  readonly px: Point<'photo'>;
  /** Whether the rod is lighter than what lies beside it. */
  readonly lighter: boolean;
}

/** Offset (px, inwards) at which colour passes half way from the rod to its surroundings. */
function edgeAcross(
  photo: Raster,
  [a, b]: readonly [Point<'photo'>, Point<'photo'>],
  inwards: readonly [number, number],
  expected: number,
  reach: number,
): Pick<Spot, 'off' | 'lighter'> | null {
  const { channels } = photo;
  const n = 2 * Math.round(ACROSS / STEP) + 1;
  const offset = (i: number) => expected + (i - (n - 1) / 2) * STEP;
  const rows = Math.max(3, Math.round(Math.hypot(b[0] - a[0], b[1] - a[1])));
  const colour = new Array<number>(channels).fill(0);
  const light = Array.from({ length: n }, (_, i): number[] => {
    const mean = new Array<number>(channels).fill(0);
    for (let k = 0; k < rows; k++) {
      const t = k / (rows - 1);
      const [u, v] = [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
      sample(photo, u + inwards[0] * offset(i), v + inwards[1] * offset(i), colour);
      for (let c = 0; c < channels; c++) mean[c] = (mean[c] as number) + (colour[c] as number) / rows;
    }
    return mean.map((grey) => toLight(grey) / 255);
  });
  const steep = (i: number) => distance(light[i + 2] as number[], light[i - 2] as number[]);
  let best = -1;
  for (let i = 2; i < n - 2; i++) {
    const off = offset(i) - expected;
    if (Math.abs(off) > reach) continue;
    const near = Math.exp(-0.5 * (off / reach) ** 2);
    if (best < 0 || steep(i) * near > steep(best) * Math.exp(-0.5 * ((offset(best) - expected) / reach) ** 2)) best = i;
  }
  const beside = (sign: number) => {
    const [from, to] = BESIDE.map((d) => best + sign * Math.round(d / STEP)) as [number, number];
    const part = light.slice(Math.max(0, Math.min(from, to)), Math.max(from, to) + 1);
    return colour.map((_, c) => part.reduce((sum, spot) => sum + (spot[c] as number) / part.length, 0));
  };
  const [inside, outside] = [beside(1), beside(-1)];
  const square = distance(inside, outside) ** 2;
  if (!(square > LEAST_CONTRAST ** 2)) return null;
  const share = (i: number) =>
    (light[i] as number[]).reduce(
      (sum, value, c) =>
        sum + ((value - (outside[c] as number)) * ((inside[c] as number) - (outside[c] as number))) / square,
      0,
    );
  const wide = Math.round(1.25 / STEP);
  for (let step = 0; step <= wide; step++) {
    for (const i of [best - step, best + step]) {
      if (i < 1 || i >= n) continue;
      const [before, now] = [share(i - 1), share(i)];
      if (before < 0.5 && now >= 0.5) {
        const sum = (spot: readonly number[]) => spot.reduce((s, value) => s + value, 0);
        return { off: offset(i - 1) + (STEP * (0.5 - before)) / (now - before), lighter: sum(inside) > sum(outside) };
      }
    }
  }
  return null;
}

function distance(a: readonly number[], b: readonly number[]): number {
  return Math.sqrt(a.reduce((sum, value, c) => sum + (value - (b[c] as number)) ** 2, 0));
}

/** The parabola that most spots lie on, and those that do; null where there are too few. */
function evenCurve(found: readonly Spot[], least: number): { bow: (t: number) => number; spots: Spot[] } | null {
  let spots = [...found];
  for (let round = 0; ; round++) {
    if (spots.length < least) return null;
    const bow = parabola(spots);
    if (round === 4) return { bow, spots: spots.filter(({ t, off }) => Math.abs(off - bow(t)) < BELIEVED.px) };
    const misses = spots.map(({ t, off }) => Math.abs(off - bow(t))).sort((p, q) => p - q);
    const limit = Math.max(BELIEVED.px, 2.5 * 1.4826 * (misses[misses.length >> 1] as number));
    spots = spots.filter(({ t, off }) => Math.abs(off - bow(t)) < limit);
  }
}

/** Least squares in powers of t, by its orthogonal polynomials on the spots. */
function parabola(spots: readonly Spot[]): (t: number) => number {
  const mean = (of: (spot: Spot) => number) => spots.reduce((sum, spot) => sum + of(spot), 0) / spots.length;
  const middle = mean(({ t }) => t);
  const square = mean(({ t }) => (t - middle) ** 2);
  const skew = mean(({ t }) => (t - middle) ** 3) / square;
  const second = (t: number) => (t - middle) ** 2 - skew * (t - middle) - square;
  const level = mean(({ off }) => off);
  const slope = mean(({ t, off }) => off * (t - middle)) / square;
  const bend = mean(({ t, off }) => off * second(t)) / mean(({ t }) => second(t) ** 2);
  return (t) => level + slope * (t - middle) + bend * second(t);
}
