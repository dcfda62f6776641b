import { type FlatteningShop, finishedThickness, thicknessOfBlank } from '../flattening';
import { applyAll } from '../geometry';
import { type Flitch, moistureOf, type Shop, type Slab, type Strip } from '../job';
import type { FaceStock } from './stock';

/** How a slab's blanks are flattened, and dried to the moisture of the site where the slab's own is known. */
export function flatteningShop(flitch: Flitch, slab: Slab, shop: Shop): FlatteningShop {
  const { sled, planer, drumSander, chips, sanding, reserve, siteMoisture } = shop;
  const from = moistureOf(flitch, slab);
  return {
    sled,
    planer,
    drumSander,
    chips,
    sanding,
    reserve,
    ...(from === null ? {} : { drying: { species: flitch.species, from, to: siteMoisture } }),
  };
}

/** Finished thickness of the thinnest strip after all reserves, by one way of reading the surfaces; null where a slab has no readings. */
export function thinnest(
  stocks: readonly FaceStock[],
  strips: readonly Strip[],
  shop: Shop,
  by: 'facets' | 'surfaces',
): number | null {
  let least = Infinity;
  for (const [i, strip] of strips.entries()) {
    const stock = stocks[i] as FaceStock;
    const faces = stock[by]();
    if (!faces || !stock.toReadings) return null;
    const { thickest } = thicknessOfBlank(faces, applyAll(stock.toReadings, strip.rough));
    least = Math.min(least, finishedThickness(thickest, flatteningShop(stock.flitch, stock.slab, shop)));
  }
  return least;
}
