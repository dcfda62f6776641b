import { offset } from '../geometry';
import { type FacePicture, type Grid, labPlanes, maskOf } from '../raster';
import { convexHull, laidMask, strokeMask } from './hints';
import { cellsOf, ratherOne, sharesOf } from './likeness';
import { gridOf, seenMask } from './pictures';
import type { TraceOptions } from './trace-types';

/**
 * What leaves are told from: the bench they lie on. It is seen around the cards, which lie on it, and outside of them; between leaves it shows in
 * strips a finger wide, which a cut through the picture as a whole (GrabCut) closes. So every pixel is asked by itself.
 */

/** Around what lies on the bench so much of it shows, mm, its rim of shadow left out. */
const RIM = 4;
const BESIDE = 30;
/** The bench right beside the cards counts as much as all the rest of the picture around them. */
const CARDS = 0.5;
/** The bench lies in the leaves' shadow near them: its colours at these shares of their light, and what share of it that may be. */
const SHADES = [0.75, 0.55, 0.38];
const SHADED = 0.06;
/** Pixels from which colours can be learnt. */
const ENOUGH = 500;
const ROUNDS = 3;
/** Without marks around the leaves, the bench is what shows along the picture's rim, this share of its lesser side. */
const BORDER = 0.06;

/** CIELAB of every pixel. */
type Colours = Parameters<typeof cellsOf>[0];

/** How much rather each pixel of a picture is wood than what it lies on, -1..1; null where too little of either is seen to learn from. */
export function woodLikeness(picture: FacePicture, hints: TraceOptions): Float32Array | null {
  const grid = gridOf(picture);
  const seen = seenMask(picture);
  const laid = laidMask(grid, hints, 'all', RIM);
  const [drawn, off] = [strokeMask(grid, hints, 'wood'), strokeMask(grid, hints, 'not wood')];
  const open = seen.map((v, i) => (v && !laid[i] ? 1 : 0));
  const about = aboutCards(grid, hints).map((v, i) => ((v && open[i] && !drawn[i]) || (off[i] && seen[i]) ? 1 : 0));
  const lab = labPlanes(picture.raster);
  const colours: Colours = { L: lab.L.data, a: lab.a.data, b: lab.b.data };
  const cells = cellsOf(colours);
  const shaded = SHADES.map((share) => cellsOf(darkened(colours, share)));
  let ground = outside(grid, hints, seen).map((v, i) => (v && open[i] && !drawn[i] ? 1 : 0));
  let wood = ground.map((v, i) => (!v && open[i] && !about[i] ? 1 : 0));
  let like: Float32Array | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    const one = sharesOf(cells, wood, ENOUGH);
    const other = groundShares(cells, shaded, ground, about);
    if (!one || !other) return like;
    like = averaged(ratherOne(cells, one, other), grid.width);
    const told = like;
    wood = open.map((v, i) => (v && !about[i] && ((told[i] as number) > 0 || drawn[i]) ? 1 : 0));
    ground = open.map((v, i) => (v && !wood[i] && !drawn[i] ? 1 : 0));
  }
  return like?.map((v, i) => (drawn[i] ? 1 : off[i] || laid[i] || !seen[i] ? -1 : v)) ?? null;
}

/** Shares of the bench's colours, in the light and in the leaves' shadow. */
function groundShares(
  cells: Int32Array,
  shaded: readonly Int32Array[],
  ground: Uint8Array,
  about: Uint8Array,
): Float32Array | null {
  const mixed = (at: Int32Array): Float32Array | null => {
    const [all, near] = [sharesOf(at, ground, ENOUGH), sharesOf(at, about, ENOUGH)];
    return all && near ? all.map((v, k) => (1 - CARDS) * v + CARDS * (near[k] as number)) : (all ?? near);
  };
  const bright = mixed(cells);
  if (!bright) return null;
  const dark = shaded.map(mixed).filter((one) => one !== null);
  return bright.map((v, k) =>
    dark.reduce((sum, one) => sum + SHADED * (one[k] as number), (1 - SHADED * dark.length) * v),
  );
}

/** CIELAB of a colour in so much of its light: its three functions of X, Y and Z go by the cube root of it, but for black (CIE 15). */
function darkened({ L, a, b }: Colours, share: number): Colours {
  const by = Math.cbrt(share);
  return { L: L.map((v) => (v + 16) * by - 16), a: a.map((v) => v * by), b: b.map((v) => v * by) };
}

/** The bench right around what lies on it. */
function aboutCards(grid: Grid, { laid = [] }: TraceOptions): Uint8Array {
  const cards = laid.filter(({ onWood }) => !onWood).map(({ polygon }) => ({ outer: polygon, holes: [] }));
  return cards.length > 0 ? maskOf(grid, offset(cards, BESIDE)) : new Uint8Array(grid.width * grid.height);
}

/** Outside of all marks; where they do not lie around anything, along the rim of what the photo shows. */
function outside(grid: Grid, { laid = [], points = [] }: TraceOptions, seen: Uint8Array): Uint8Array {
  if (laid.length + points.length <= 2) return rimOf(seen, grid);
  const hull = convexHull([...laid.flatMap(({ polygon }) => polygon), ...points]);
  return maskOf(grid, [{ outer: hull, holes: [] }]).map((v) => (v ? 0 : 1));
}

function rimOf(seen: Uint8Array, { width, height }: Grid): Uint8Array {
  const far = Math.round(BORDER * Math.min(width, height));
  return seen.map((_, i) => {
    const column = i % width;
    const ends = column < far || column >= width - far || !seen[i - far] || !seen[i + far];
    return ends || !seen[i - far * width] || !seen[i + far * width] ? 1 : 0;
  });
}

/** Mean over each pixel and its neighbours along the row and the column. */
function averaged(values: Float32Array, width: number): Float32Array {
  const along = (from: Float32Array, by: number): Float32Array =>
    from.map((v, i) => (v + (from[i - by] ?? v) + (from[i + by] ?? v)) / 3);
  return along(along(values, 1), width);
}
