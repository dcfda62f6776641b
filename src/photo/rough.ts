import { type Point, type Polygon, simplify } from '../geometry';
import type { Grid } from '../raster';
import { type Cv, scope } from './cv';

/**
 * The rim of a mask of one piece, mm: good to a pixel of it, for the eye to see what was found while its edge is still being followed.
 */
export function roughRing(
  cv: Cv,
  { width, height, mmPerPx, x0, y0, data }: Grid & { readonly data: Uint8Array },
): Polygon<'face'> {
  return scope(cv, (own) => {
    const mask = own(new cv.Mat(height, width, cv.CV_8UC1));
    mask.data.set(data);
    const contours = own(new cv.MatVector());
    cv.findContours(mask, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
    const rings = Array.from({ length: contours.size() }, (_, k) => own(contours.get(k)).data32S);
    const rim = rings.sort((a, b) => b.length - a.length)[0] ?? new Int32Array();
    const places = Array.from({ length: rim.length / 2 }, (_, i): Point<'face'> => {
      const [c, r] = [rim[2 * i] as number, rim[2 * i + 1] as number];
      return [x0 + (c + 0.5) * mmPerPx, y0 + (r + 0.5) * mmPerPx];
    });
    return simplify(places, mmPerPx);
  });
}
