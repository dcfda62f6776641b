import type { Bounds } from '../geometry';
import { type FacePicture, type Grid, rasterOf } from '../raster';
import { type Cv, scope, toMat, toRaster } from './cv';

/** The pixels of a picture as a grid on the face. */
export const gridOf = ({ raster, mmPerPx, x0, y0 }: FacePicture): Grid => ({
  width: raster.width,
  height: raster.height,
  mmPerPx,
  x0,
  y0,
});

/** The same picture, coarser by area averages (at most as fine as it was). */
export function shrink(cv: Cv, picture: FacePicture, mmPerPx: number): FacePicture {
  if (mmPerPx <= picture.mmPerPx) return picture;
  const { raster } = picture;
  const width = Math.max(1, Math.round((raster.width * picture.mmPerPx) / mmPerPx));
  const height = Math.max(1, Math.round((raster.height * picture.mmPerPx) / mmPerPx));
  return scope(cv, (own) => {
    const out = own(new cv.Mat());
    cv.resize(own(toMat(cv, raster)), out, new cv.Size(width, height), 0, 0, cv.INTER_AREA);
    // Both sides are rounded to whole pixels, so the new pixel is what the longer side makes it.
    const size = width > height ? raster.width / width : raster.height / height;
    return { ...picture, mmPerPx: picture.mmPerPx * size, raster: toRaster(out) };
  });
}

/** Pixel size, mm, at which the longer side of a picture has so many pixels. */
export const longerAs = ({ raster, mmPerPx }: FacePicture, px: number): number =>
  (Math.max(raster.width, raster.height) * mmPerPx) / px;

/** The part of a picture within bounds, widened to whole pixels. */
export function crop(picture: FacePicture, { minX, minY, maxX, maxY }: Bounds): FacePicture {
  const { raster, mmPerPx, x0, y0 } = picture;
  const { channels } = raster;
  const left = Math.max(0, Math.floor((minX - x0) / mmPerPx));
  const top = Math.max(0, Math.floor((minY - y0) / mmPerPx));
  const width = Math.min(raster.width, Math.ceil((maxX - x0) / mmPerPx)) - left;
  const height = Math.min(raster.height, Math.ceil((maxY - y0) / mmPerPx)) - top;
  const data = new Uint8ClampedArray(Math.max(0, width * height * channels));
  for (let r = 0; r < height; r++) {
    const from = ((top + r) * raster.width + left) * channels;
    data.set(raster.data.subarray(from, from + width * channels), r * width * channels);
  }
  return { mmPerPx, x0: x0 + left * mmPerPx, y0: y0 + top * mmPerPx, raster: rasterOf(width, height, channels, data) };
}

/** Whether the photo saw a pixel: pictures with an alpha channel are transparent beyond the photo's frame. */
export function seenMask({ raster }: FacePicture): Uint8Array {
  const { width, height, channels, data } = raster;
  const mask = new Uint8Array(width * height);
  for (let i = 0; i < mask.length; i++) mask[i] = channels < 4 || (data[i * 4 + 3] as number) > 127 ? 1 : 0;
  return mask;
}
