import { type Polygon, regionArea, simplify, union } from '../geometry';
import type { FacePicture } from '../raster';
import { sampleBand, stepAcross } from './band';
import { clearLine, stationsOn } from './live-side';
import type { Side } from './sides';

/** A change of lightness (CIELAB) from bark to what the slab lies on that leaves no doubt. */
const CLEAR = 25;
/** Bark reaches at most this far out, mm. */
const THICKEST = 60;
const REACH = 4;
const SIMPLER = 0.5;

/**
 * The outer edge of the bark, or null where no live side shows it. Where a slab widens below its face, the bark of its flank looks like that of
 * its face and counts with it: 4 to 11 mm off in the mean on rendered photos. So this is for seeing, not for measuring.
 */
export function findBark(
  picture: FacePicture,
  hides: Uint8Array,
  sides: readonly Side[],
  outline: Polygon<'face'>,
): Polygon<'face'> | null {
  const strips = sides.flatMap((side) => {
    const stations = stationsOn(side);
    if (!side.barked || stations.length < 2) return [];
    const band = sampleBand(picture, hides, stations, 0, THICKEST, 1);
    const clear = stepAcross(band, band.L, REACH).map((v) => Math.max(0, -v / CLEAR));
    const outer = clearLine(band, clear);
    return outer ? [{ outer: [...stations.map(({ at }) => at), ...outer.reverse()], holes: [] }] : [];
  });
  if (strips.length === 0) return null;
  const whole = union([{ outer: outline, holes: [] }, ...strips]).sort((p, q) => regionArea(q) - regionArea(p))[0];
  return whole ? simplify(whole.outer, SIMPLER) : null;
}
