import {
  type BlankSurfaces,
  type FlatteningShop,
  finishedThickness,
  type PieceWarp,
  pieceWarp,
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
  ringArea,
} from '../geometry';
import type { Strip } from '../job';
import { stripMap } from '../layout';

/** What cutting to rough size before flattening gains. Finished thicknesses, mm. */
export interface CutFirst {
  /** The slab flattened whole. */
  readonly whole: number;
  /** Crosscut to the blank's length only; ripped to its width only. */
  readonly crosscut: number;
  readonly ripped: number;
  /** The blank as planned: both. */
  readonly both: number;
  /** Of the blank. */
  readonly warp: PieceWarp;
}

/**
 * A strip's blank against its slab flattened whole, or cut one way only.
 * @param outline of the wood on the face that is up
 * @param toReadings from the face that is up to the frame of the readings
 */
export function cutFirst(
  surfaces: BlankSurfaces,
  outline: Polygon<'face'>,
  strip: Strip,
  toReadings: Affine<'face', 'face'>,
  shop: FlatteningShop,
  whole: () => number,
): CutFirst {
  const toTop = stripMap(strip);
  const toFace = compose(toReadings, invert(toTop));
  const wood = applyAll(toTop, outline);
  const [blank, slab] = [bounds(applyAll(toTop, strip.rough)), bounds(wood)];
  const thickness = (piece: Polygon<'face'>): number =>
    finishedThickness(thicknessOfBlank(surfaces, piece).thickest, shop);
  const within = (box: Polygon<'top'>): Polygon<'face'> => {
    const parts = intersection([{ outer: wood, holes: [] }], [{ outer: box, holes: [] }]);
    const largest = parts.reduce((a, b) => (ringArea(b.outer) > ringArea(a.outer) ? b : a), { outer: box, holes: [] });
    return applyAll(toFace, largest.outer);
  };
  return {
    whole: whole(),
    crosscut: thickness(within(rectangle(blank.minX, slab.minY, blank.maxX, slab.maxY))),
    ripped: thickness(within(rectangle(slab.minX, blank.minY, slab.maxX, blank.maxY))),
    both: thickness(applyAll(toReadings, strip.rough)),
    warp: pieceWarp(surfaces, blank, toFace),
  };
}
