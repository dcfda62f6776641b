import { type Affine, apply, bounds, invert } from '../geometry';
import { blur, maskOf, type Plane, sample } from '../raster';
import type { FaceStock } from './stock';

/**
 * How one face lies mirrored on another: the two faces of one saw cut show the same figure, one the mirror image of the other, so that
 * two slabs can be opened like a book.
 */

/** A face laid on another, and how alike they look there: correlation of their figure, -1..1; null without pictures of both. */
export interface Mirrored {
  /** From the second face onto the first: a mirror, a turn and a shift. */
  readonly map: Affine<'face', 'face'>;
  readonly match: number | null;
}

/**
 * One level of the search: pixels are long along the grain, where the figure hardly changes, and short across it; mm. Then the steps of
 * shift along, shift across and turn.
 */
interface Level {
  readonly along: number;
  readonly across: number;
}
const LEVELS: readonly Level[] = [
  { along: 32, across: 6 },
  { along: 16, across: 3 },
  { along: 8, across: 1.5 },
  { along: 4, across: 1 },
];
/** How far the outlines may mislead, mm and degrees: slabs differ by their bark and by where their ends were cut. */
const REACH = { along: 120, across: 48, degrees: 3 } as const;
const TURN = 0.5;
/** So many of the first level are followed to the last. */
const FOLLOWED = 6;
/** A match over less of the smaller face says nothing. */
const OVERLAP = 0.5;
/** Pixels that are smoothed over along the grain. */
const ALONG = 2;
/** The figure is what is left when its mean over about this many pixels to each side is taken away. */
const MEAN_OVER = 6;
/** Steps as parts of a level's own; at the finest pixels wide ones too, since shift and turn may pull on each other. */
const LOWER = [1, 0.5] as const;
const LAST = [4, 2, 1, 0.5, 0.25] as const;
/** Lays nearer than this are one: shift along and across (mm), turn (degrees). */
const APART = [12, 3, 0.2] as const;

/** A face at one level: its figure, evened to mean 0, and where there is wood. */
interface Figure {
  readonly plane: Plane;
  readonly wood: Uint8Array;
  readonly x0: number;
  readonly y0: number;
  readonly level: Level;
  readonly count: number;
}

function figureOf(stock: FaceStock, level: Level): Figure | null {
  const { picture } = stock;
  if (!picture) return null;
  const { along, across } = level;
  const { minX, minY, maxX, maxY } = bounds(stock.outline.outer);
  const [width, height] = [Math.ceil((maxX - minX) / along), Math.ceil((maxY - minY) / across)];
  // The mask's pixels are square: its frame is squeezed along instead.
  const squeezed = stock.inside.map(({ outer, holes }) => ({
    outer: outer.map(([x, y]) => [((x - minX) / along) * across, y] as const),
    holes: holes.map((ring) => ring.map(([x, y]) => [((x - minX) / along) * across, y] as const)),
  }));
  const wood = maskOf({ width, height, mmPerPx: across, x0: 0, y0: minY }, squeezed);
  const data = new Float32Array(width * height);
  const out = [0, 0, 0, 0];
  const looks = Math.max(1, Math.round(along / 4));
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      const i = r * width + c;
      if (!wood[i]) continue;
      const y = minY + (r + 0.5) * across;
      for (let k = 0; k < looks; k++) {
        const x = minX + (c + (k + 0.5) / looks) * along;
        sample(picture.raster, (x - picture.x0) / picture.mmPerPx - 0.5, (y - picture.y0) / picture.mmPerPx - 0.5, out);
        data[i] = (data[i] as number) + ((out[0] as number) + (out[1] ?? 0) + (out[2] ?? 0)) / looks;
      }
    }
  }
  // Smoothed a little, or shifts by whole pixels would look best; less the mean around.
  const [fine, broad] = [1, MEAN_OVER].map((across) => evened({ width, height, data }, wood, across)) as [Plane, Plane];
  let count = 0;
  for (let i = 0; i < data.length; i++) {
    data[i] = wood[i] ? (fine.data[i] as number) - (broad.data[i] as number) : 0;
    count += wood[i] as number;
  }
  return { plane: { width, height, data }, wood, x0: minX, y0: minY, level, count };
}

/** The mean around each pixel of wood, over some along the grain and some across it. */
function evened({ width, height, data }: Plane, wood: Uint8Array, across: number): Plane {
  const sums = blur({ width, height, data }, ALONG, across);
  const weights = blur({ width, height, data: Float32Array.from(wood) }, ALONG, across);
  return { width, height, data: sums.data.map((sum, i) => sum / Math.max(1e-6, weights.data[i] as number)) };
}

/** The mirror by what is searched: which way it turns over, the shifts from where the outlines' middles meet, the turn. */
interface Lay {
  readonly over: 1 | -1;
  readonly along: number;
  readonly across: number;
  readonly degrees: number;
}

const middleOf = (stock: FaceStock): readonly [number, number] => {
  const { minX, minY, maxX, maxY } = bounds(stock.outline.outer);
  return [(minX + maxX) / 2, (minY + maxY) / 2];
};

/** `over` 1 turns over about the length, -1 about the width. */
function mapOf(first: FaceStock, second: FaceStock, { over, along, across, degrees }: Lay): Affine<'face', 'face'> {
  const t = (degrees * Math.PI) / 180;
  const [cos, sin] = [over * Math.cos(t), over * Math.sin(t)];
  const [[ax, ay], [bx, by]] = [middleOf(first), middleOf(second)];
  return {
    m: [cos, sin, sin, -cos, ax + along - cos * bx - sin * by, ay + across - sin * bx + cos * by],
  };
}

/** Correlation of the figures where both have wood; -1 where they share too little. */
function correlation(a: Figure, b: Figure, onto: Affine<'face', 'face'>): number {
  const back = invert(onto);
  const { along, across } = a.level;
  const { width, height } = b.plane;
  const [m0, m1, m2, m3, m4, m5] = back.m;
  let [n, sa, sb, saa, sbb, sab] = [0, 0, 0, 0, 0, 0];
  for (let r = 0; r < a.plane.height; r++) {
    const y = a.y0 + (r + 0.5) * across;
    for (let c = 0; c < a.plane.width; c++) {
      const i = r * a.plane.width + c;
      if (!a.wood[i]) continue;
      const x = a.x0 + (c + 0.5) * along;
      const u = (m0 * x + m2 * y + m4 - b.x0) / along - 0.5;
      const v = (m1 * x + m3 * y + m5 - b.y0) / across - 0.5;
      const [col, row] = [Math.floor(u), Math.floor(v)];
      if (col < 0 || row < 0 || col + 1 >= width || row + 1 >= height) continue;
      const j = row * width + col;
      if (!b.wood[j] || !b.wood[j + 1] || !b.wood[j + width] || !b.wood[j + width + 1]) continue;
      // Read between pixels, or a step within one would tell nothing.
      const [e, f] = [u - col, v - row];
      const [d, w] = [b.plane.data, width];
      const above = (1 - e) * (d[j] as number) + e * (d[j + 1] as number);
      const below = (1 - e) * (d[j + w] as number) + e * (d[j + w + 1] as number);
      const q = (1 - f) * above + f * below;
      const p = a.plane.data[i] as number;
      n++;
      sa += p;
      sb += q;
      saa += p * p;
      sbb += q * q;
      sab += p * q;
    }
  }
  if (n < OVERLAP * Math.min(a.count, b.count)) return -1;
  const [va, vb] = [saa - (sa * sa) / n, sbb - (sb * sb) / n];
  return va <= 0 || vb <= 0 ? -1 : (sab - (sa * sb) / n) / Math.sqrt(va * vb);
}

interface Found extends Lay {
  readonly match: number;
}

const spread = (reach: number, step: number): number[] => {
  const count = Math.round(reach / step);
  return Array.from({ length: 2 * count + 1 }, (_, i) => (i - count) * step);
};

/** Uphill by steps of each freedom, and of a turn with the shift that it brings, until none helps. */
function uphill(
  start: Found,
  steps: { along: number; across: number; degrees: number },
  of: (lay: Lay) => number,
): Found {
  let best = start;
  for (let round = 0; round < 20; round++) {
    const from = best;
    for (const [a, c, d] of MOVES) {
      const lay: Lay = {
        over: from.over,
        along: from.along + (a as number) * steps.along,
        across: from.across + (c as number) * steps.across,
        degrees: from.degrees + (d as number) * steps.degrees,
      };
      const match = of(lay);
      if (match > best.match) best = { ...lay, match };
    }
    if (best === from) break;
  }
  return best;
}

const MOVES: readonly (readonly number[])[] = [-1, 0, 1]
  .flatMap((a) => [-1, 0, 1].flatMap((c) => [-1, 0, 1].map((d) => [a, c, d])))
  .filter((move) => move.some((by) => by !== 0));

/** The best first, none near a better one. */
function distinct(found: readonly Found[]): Found[] {
  const kept: Found[] = [];
  for (const one of [...found].sort((p, q) => q.match - p.match)) {
    const known = kept.some(
      (other) =>
        other.over === one.over &&
        Math.abs(other.along - one.along) < APART[0] &&
        Math.abs(other.across - one.across) < APART[1] &&
        Math.abs(other.degrees - one.degrees) < APART[2],
    );
    if (!known) kept.push(one);
    if (kept.length === FOLLOWED) break;
  }
  return kept;
}

/** How the second face lies mirrored on the first: by their pictures, else with the middles of their outlines one on the other. */
export function mirrorOf(first: FaceStock, second: FaceStock): Mirrored {
  const plain: Lay = { over: 1, along: 0, across: 0, degrees: 0 };
  let found: Found[] = [];
  for (const [k, level] of LEVELS.entries()) {
    const [a, b] = [figureOf(first, level), figureOf(second, level)];
    if (!a || !b) return { map: mapOf(first, second, plain), match: null };
    const of = (lay: Lay): number => correlation(a, b, mapOf(first, second, lay));
    if (k === 0) {
      for (const over of [1, -1] as const)
        for (const along of spread(REACH.along, level.along))
          for (const across of spread(REACH.across, level.across))
            for (const degrees of spread(REACH.degrees, TURN)) {
              const lay: Lay = { over, along, across, degrees };
              found.push({ ...lay, match: of(lay) });
            }
      found = distinct(found).slice(0, FOLLOWED);
    }
    const turn = TURN * 2 ** -k;
    const parts = k === LEVELS.length - 1 ? LAST : LOWER;
    found = found.map((start) => {
      let best: Found = { ...start, match: of(start) };
      for (const part of parts)
        best = uphill(best, { along: level.along * part, across: level.across * part, degrees: turn * part }, of);
      return best;
    });
    found = distinct(found).slice(0, Math.max(2, FOLLOWED >> k));
  }
  const [best] = found as [Found];
  return { map: mapOf(first, second, best), match: best.match };
}

/** The same mirror from the first face onto the second. */
export const turnedOver = ({ map, match }: Mirrored): Mirrored => ({ map: invert(map), match });

/** A line carried by a mirror. */
export const mirroredLine = (
  map: Affine<'face', 'face'>,
  [p, q]: readonly [readonly [number, number], readonly [number, number]],
) => [apply(map, p), apply(map, q)] as const;
