import { type Polygon, simplify } from '../geometry';
import type { FacePicture } from '../raster';
import { sampleBand, stepAcross } from './band';
import { clearLine, stationsOn } from './live-side';
import type { Side } from './sides';

/** A change of colour (CIELAB) from heart to sapwood that leaves no doubt: softer than an edge. */
const CLEAR = 12;
/** How deep sapwood is sought, mm, and over what width it is held against the heart: wider than any ring. */
const DEEPEST = 130;
const REACH = 10;
/** Sapwood thinner than this cannot be told from the edge itself, mm. */
const THINNEST = 4;
const SIMPLER = 0.5;

/** The sapwood within each live side, mm; null where it is not lighter than the heart (ash, maple) or does not show. */
export function findSapwood(
  picture: FacePicture,
  hides: Uint8Array,
  sides: readonly Side[],
): { readonly strip: Polygon<'face'> | null }[] {
  return sides.map((side) => {
    const stations = stationsOn(side);
    if (stations.length < 2) return { strip: null };
    const band = sampleBand(picture, hides, stations, -DEEPEST, -THINNEST, 1);
    const [L, a, b] = [band.L, band.a, band.b].map((plane) => stepAcross(band, plane, REACH)) as [
      Float32Array,
      Float32Array,
      Float32Array,
    ];
    // Below 0 where the outside is the lighter, as sapwood is; its hue tells it from a pale ring.
    const clear = L.map((v, i) => (v < 0 ? Math.hypot(v, a[i] as number, b[i] as number) / CLEAR : 0));
    const heart = clearLine(band, clear);
    return { strip: heart ? simplify([...stations.map(({ at }) => at), ...heart.reverse()], SIMPLER) : null };
  });
}
