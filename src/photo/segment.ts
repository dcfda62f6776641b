import type { Mat } from 'opencv.js';
import type { Bounds, Polygon, Region } from '../geometry';
import { type FacePicture, type Grid, maskOf } from '../raster';
import { type Cv, type Own, scope } from './cv';
import { evenLight } from './even-light';
import { laidMask, seedMask, strokeMask } from './hints';
import { crop, gridOf, longerAs, seenMask, shrink } from './pictures';
import { allPieces, isGround, markedGround, type Piece, theOneMeant, tidied } from './pieces';
import { roughRing } from './rough';
import { taught } from './teaching';
import type { TraceOptions } from './trace-types';

/**
 * Where the wood roughly is: colour models of wood and surroundings that sharpen each other (GrabCut: Rother, Kolmogorov and Blake
 * 2004), twice: over the whole picture, and again near what the first pass found, where the surroundings are what borders the wood.
 */

/** A yes (1) or no (0) for every pixel of a grid. */
export interface Mask extends Grid {
  readonly data: Uint8Array;
}

/** Longer side at which colours are told apart; 1,000 px was no better in trials and six times slower. */
const SEGMENT_PX = 600;
/** Floor kept around the first pass's wood, mm. */
const SURROUNDINGS = 200;
const ROUNDS = 4;

/** The wood sought, and roughly where other pieces of like size lie. */
export interface Segmented {
  readonly wood: Mask;
  readonly others: readonly Polygon<'face'>[];
}

/**
 * @returns null where nothing in the picture stands out as the wood that the hints point at
 * @throws InputProblem when the hints point at two pieces alike, or strokes at what the wood lies on
 */
export function findWood(cv: Cv, picture: FacePicture, hints: TraceOptions): Segmented | null {
  const whole = evenLight(shrink(cv, picture, coarse(picture)));
  const grid = gridOf(whole);
  const seeds = seedMask(grid, hints);
  const pieces = pass(cv, whole, hints, taught(whole, hints, seeds));
  if (pieces.length === 0) return null;
  const { piece, others } = theOneMeant(pieces, seeds, strokeMask(grid, hints, 'wood'));
  if (hints.strokes?.length && isGround(piece, seenMask(whole), grid.width)) throw markedGround();
  const first = { ...grid, data: piece.data };
  hints.rough?.(roughRing(cv, first));
  const near = crop(picture, grown(boxOf(first), SURROUNDINGS));
  const closer = evenLight(shrink(cv, near, coarse(near)));
  // Another slab is neither this wood nor what it lies on: its colours would teach the wrong thing.
  const aside = others.map(({ ring }) => ({ polygon: ring, onWood: false }));
  const seen = { ...hints, laid: [...(hints.laid ?? []), ...aside] };
  const fine = gridOf(closer);
  const again = pass(cv, closer, seen, taught(closer, seen, regrid(first, fine)));
  if (again.length === 0) return null;
  // Two that the first pass took for one come apart in the second.
  const last = theOneMeant(again, seedMask(fine, seen), strokeMask(fine, seen, 'wood'));
  return {
    wood: { ...fine, data: last.piece.data },
    others: [...others, ...last.others].map(({ ring }) => ring),
  };
}

/** The wood alone, without a word of others. */
export const segment = (cv: Cv, picture: FacePicture, hints: TraceOptions): Mask | null =>
  findWood(cv, picture, hints)?.wood ?? null;

/** The same from a first guess: the outline as it was traced or drawn before. */
export function segmentAgain(cv: Cv, picture: FacePicture, hints: TraceOptions, outline: Region<'face'>): Mask | null {
  const whole = evenLight(shrink(cv, picture, coarse(picture)));
  const [best] = pass(cv, whole, hints, taught(whole, hints, maskOf(gridOf(whole), [outline])));
  return best ? { ...gridOf(whole), data: best.data } : null;
}

const coarse = (picture: FacePicture) => longerAs(picture, SEGMENT_PX);

/** One run of GrabCut from a first guess; the piece that holds most of the guess, tidied, then others of like size. */
function pass(cv: Cv, picture: FacePicture, hints: TraceOptions, guess: Uint8Array): Piece[] {
  const grid = gridOf(picture);
  return scope(cv, (own) => {
    const told = toldApart(cv, own, picture, hints, guess);
    if (!told) return [];
    const tidy = tidied(cv, own, told.wood, guess, grid.mmPerPx);
    return enough(tidy.data, (v) => v > 0) ? allPieces(cv, own, grid, told.image, tidy, told.seen) : [];
  });
}

/** What colours alone say of a picture. */
interface ToldApart {
  /** 255 for all that looks like wood. */
  readonly wood: Mat;
  /** The picture that was looked at: cards painted over. */
  readonly image: Mat;
  /** 1 where the photo shows anything. */
  readonly seen: Uint8Array;
}

/** One run of GrabCut from a first guess (1 for wood); null where there is too little of wood or of anything else to learn from. */
export function toldApart(
  cv: Cv,
  own: Own,
  picture: FacePicture,
  hints: TraceOptions,
  guess: Uint8Array,
): ToldApart | null {
  const grid = gridOf(picture);
  const { width, height } = grid;
  const labels = own(new cv.Mat(height, width, cv.CV_8UC1));
  labels.data.set(guess.map((v) => (v ? cv.GC_PR_FGD : cv.GC_PR_BGD)));
  put(labels, laidMask(grid, hints, 'beside'), cv.GC_BGD);
  put(labels, strokeMask(grid, hints, 'not wood'), cv.GC_BGD);
  put(labels, strokeMask(grid, hints, 'wood'), cv.GC_FGD);
  const isWood = (v: number) => v === cv.GC_FGD || v === cv.GC_PR_FGD;
  if (!enough(labels.data, isWood) || !enough(labels.data, (v) => !isWood(v))) return null;
  const [background, foreground] = [own(new cv.Mat()), own(new cv.Mat())];
  const rect = new cv.Rect(0, 0, width, height);
  // GrabCut begins by chance, from a state that outlives the call: the same photo shall give the same outline.
  cv.setRNGSeed(1);
  const image = clean(cv, own, picture, hints);
  cv.grabCut(image, labels, rect, background, foreground, ROUNDS, cv.GC_INIT_WITH_MASK);
  const wood = own(new cv.Mat(height, width, cv.CV_8UC1));
  const seen = seenMask(picture);
  wood.data.set(labels.data.map((v, i) => (seen[i] && isWood(v) ? 255 : 0)));
  return { wood, image, seen };
}

/** A colour model of five clusters wants more than a handful of pixels. */
function enough(data: Uint8Array, is: (v: number) => boolean): boolean {
  let count = 0;
  for (const v of data) if (is(v)) count++;
  return count > 200;
}

function put(labels: Mat, mask: Uint8Array, value: number): void {
  const { data } = labels;
  for (let i = 0; i < mask.length; i++) if (mask[i]) data[i] = value;
}

/** 8-bit RGB with cards and sheets painted over from their surroundings, and what the photo did not see from its own edge. */
function clean(cv: Cv, own: Own, picture: FacePicture, hints: TraceOptions): Mat {
  const { width, height, channels, data } = picture.raster;
  const rgb = own(new cv.Mat(height, width, cv.CV_8UC3));
  const seen = seenMask(picture);
  const pixels = rgb.data;
  for (let r = 0; r < height; r++) {
    const first = seen.indexOf(1, r * width);
    const end = (r + 1) * width;
    let last = first >= 0 && first < end ? first : -1;
    for (let i = r * width; i < end; i++) {
      if (seen[i]) last = i;
      for (let k = 0; k < 3; k++)
        pixels[i * 3 + k] = last < 0 ? 128 : (data[last * channels + (channels === 1 ? 0 : k)] as number);
    }
  }
  const laid = laidMask(gridOf(picture), hints, 'all', 1.5 * picture.mmPerPx);
  if (!laid.includes(1)) return rgb;
  const holes = own(new cv.Mat(height, width, cv.CV_8UC1));
  holes.data.set(laid);
  const out = own(new cv.Mat());
  cv.inpaint(rgb, holes, out, 3, cv.INPAINT_TELEA);
  return out;
}

/** Bounds of a mask, mm. */
export function boxOf({ data, width, mmPerPx, x0, y0 }: Mask): Bounds {
  let [minC, minR, maxC, maxR] = [Infinity, Infinity, -Infinity, -Infinity];
  data.forEach((v, i) => {
    if (!v) return;
    const [c, r] = [i % width, Math.floor(i / width)];
    [minC, maxC, minR, maxR] = [Math.min(minC, c), Math.max(maxC, c), Math.min(minR, r), Math.max(maxR, r)];
  });
  return {
    minX: x0 + minC * mmPerPx,
    minY: y0 + minR * mmPerPx,
    maxX: x0 + (maxC + 1) * mmPerPx,
    maxY: y0 + (maxR + 1) * mmPerPx,
  };
}

export const grown = ({ minX, minY, maxX, maxY }: Bounds, by: number): Bounds => ({
  minX: minX - by,
  minY: minY - by,
  maxX: maxX + by,
  maxY: maxY + by,
});

/** A mask on another grid, by nearest pixels. */
function regrid(mask: Mask, to: Grid): Uint8Array {
  const out = new Uint8Array(to.width * to.height);
  for (let r = 0; r < to.height; r++) {
    const row = Math.floor((to.y0 + (r + 0.5) * to.mmPerPx - mask.y0) / mask.mmPerPx);
    if (row < 0 || row >= mask.height) continue;
    for (let c = 0; c < to.width; c++) {
      const column = Math.floor((to.x0 + (c + 0.5) * to.mmPerPx - mask.x0) / mask.mmPerPx);
      if (column >= 0 && column < mask.width) out[r * to.width + c] = mask.data[row * mask.width + column] as number;
    }
  }
  return out;
}
