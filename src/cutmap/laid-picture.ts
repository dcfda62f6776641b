import { type FacePicture, type Raster, resample } from '../raster';
import type { EncodedImage } from './drawing';
import type { LaidPicture } from './request';

/** Pixels of the pictures on the sheets and of previews, mm: a slab of 2.7 m is then 2,700 pixels wide. */
export const MM_PER_PX = 1;
/** Of the picture of a thumb's size in a title block, mm: some 200 pixels for a slab. */
const SMALL = 12;

/**
 * A picture made ready for the sheets: no finer than they show it, encoded, with a small one beside it.
 * @param encode the caller's encoder (the canvas in a browser, sharp in Node)
 */
export async function laidPicture(
  picture: FacePicture,
  encode: (raster: Raster) => Promise<EncodedImage>,
): Promise<LaidPicture> {
  const { raster, mmPerPx, x0, y0 } = picture.mmPerPx < MM_PER_PX ? resample(picture, MM_PER_PX) : picture;
  const small = mmPerPx < SMALL ? resample({ raster, mmPerPx, x0, y0 }, SMALL) : null;
  return {
    image: await encode(raster),
    mmPerPx,
    x0,
    y0,
    ...(small && { small: { image: await encode(small.raster), mmPerPx: small.mmPerPx } }),
  };
}
