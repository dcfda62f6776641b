import {
  type BlankFlattening,
  type BlankSurfaces,
  type FlatteningShop,
  finishedThickness,
  thicknessOfBlank,
} from '../flattening';
import {
  type Affine,
  applyAll,
  bounds,
  compose,
  intersection,
  invert,
  type Polygon,
  rectangle,
  regionsArea,
  ringArea,
} from '../geometry';
import { type Job, type Slab, type Strip, slabsInOrder } from '../job';
import { flatteningShop, stripMap } from '../layout';
import type { SlabSurfaces } from './slab-surfaces';

/** What would give a blank that is too thin its wanted thickness; each was tried, none is guessed. Lengths in mm. */
export interface ThicknessHelp {
  /** The longest piece of it, cut anew, that gets there; null where none of half its length does. */
  readonly length: number | null;
  /** A face that may be left low over this share; null where a tenth is not enough. */
  readonly skip: { readonly face: 'top' | 'bottom'; readonly share: number } | null;
  /** Slabs of the job of which a piece of this size gets there, and what it would finish at. */
  readonly slabs: readonly { readonly slab: string; readonly name: string; readonly finished: number }[];
}

/** Lengths are tried by halving this often: to a hundredth of the blank. */
const HALVINGS = 6;
/** Places along another slab that are tried. */
const PLACES = 5;
/** So much of a piece must lie on the other slab: its corners are rounded by wane. */
const ON_WOOD = 0.985;

/** Tries what would help. @param outline of the wood, in the frame of the face that is up */
export function thicknessHelp(
  job: Job,
  strip: Strip,
  flat: BlankFlattening,
  wanted: number,
  known: {
    readonly surfaces: BlankSurfaces;
    readonly toReadings: Affine<'face', 'face'>;
    readonly shop: FlatteningShop;
  },
  surfacesOf: SlabSurfaces,
): ThicknessHelp {
  const { surfaces, toReadings, shop } = known;
  const skip = flat.accept.find(
    ({ thickest, skip: share }) => share > 0 && finishedThickness(thickest, shop) >= wanted,
  );
  return {
    length: longestOf(strip, wanted, surfaces, toReadings, shop),
    skip: skip ? { face: skip.face, share: skip.skip } : null,
    slabs: othersThat(job, strip, wanted, surfacesOf),
  };
}

/** The longest piece of a blank that finishes thick enough: from its left, middle or right. */
function longestOf(
  strip: Strip,
  wanted: number,
  surfaces: BlankSurfaces,
  toReadings: Affine<'face', 'face'>,
  shop: FlatteningShop,
): number | null {
  const toTop = stripMap(strip);
  const back = compose(toReadings, invert(toTop));
  const blank = applyAll(toTop, strip.rough);
  const { minX, maxX, minY, maxY } = bounds(blank);
  const whole = maxX - minX;
  const enough = (length: number): boolean =>
    [0, 0.5, 1].some((share) => {
      const from = minX + (whole - length) * share;
      const [piece] = intersection(
        [{ outer: blank, holes: [] }],
        [{ outer: rectangle<'top'>(from, minY, from + length, maxY), holes: [] }],
      );
      if (!piece) return false;
      return finishedThickness(thicknessOfBlank(surfaces, applyAll(back, piece.outer)).thickest, shop) >= wanted;
    });
  let [short, long] = [whole / 2, whole];
  if (!enough(short)) return null;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (short + long) / 2;
    if (enough(middle)) short = middle;
    else long = middle;
  }
  return short;
}

/** Other slabs of the job that would give a piece of the blank's size thick enough. */
function othersThat(job: Job, strip: Strip, wanted: number, surfacesOf: SlabSurfaces): ThicknessHelp['slabs'] {
  const { minX, maxX, minY, maxY } = bounds(applyAll(stripMap(strip), strip.rough));
  const [length, width] = [maxX - minX, maxY - minY];
  return Object.values(job.flitches).flatMap((flitch) =>
    slabsInOrder(flitch).flatMap((slab) => {
      const surfaces = slab.id === strip.slab && flitch.id === strip.flitch ? null : surfacesOf(slab);
      if (!surfaces) return [];
      const shop = flatteningShop(flitch, slab, job.shop);
      const best = Math.max(
        ...piecesOn(slab, length, width).map((piece) =>
          finishedThickness(thicknessOfBlank(surfaces, piece).thickest, shop),
        ),
      );
      return best >= wanted ? [{ slab: slab.id, name: slab.name, finished: best }] : [];
    }),
  );
}

/** Pieces of a size at places along the middle of a slab's upper face. */
function piecesOn({ faces }: Slab, length: number, width: number): Polygon<'face'>[] {
  const { outline } = faces.top;
  if (!outline) return [];
  const { minX, maxX, minY, maxY } = bounds(outline.outer);
  const room = maxX - minX - length;
  if (room < 0 || maxY - minY < width) return [];
  return Array.from({ length: PLACES }, (_, i) => {
    const x = minX + (room * i) / (PLACES - 1);
    const y = (minY + maxY - width) / 2;
    return rectangle<'face'>(x, y, x + length, y + width);
  }).filter(
    (piece) => regionsArea(intersection([{ outer: piece, holes: [] }], [outline])) >= ON_WOOD * ringArea(piece),
  );
}
