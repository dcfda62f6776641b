import { type Raster, rasterOf } from '../src/raster';

/** Pictures between the browser's own kind and the rooms' plain arrays, off the page's thread. */

function inkOn(width: number, height: number): { canvas: OffscreenCanvas; ink: OffscreenCanvasRenderingContext2D } {
  const canvas = new OffscreenCanvas(width, height);
  const ink = canvas.getContext('2d', { willReadFrequently: true });
  if (!ink) throw new Error('no memory for the picture');
  return { canvas, ink };
}

/** The pixels of a bitmap, which is closed, on white; made smaller where a size is given. */
export function pixelsOf(
  bitmap: ImageBitmap,
  { width, height }: Pick<ImageBitmap, 'width' | 'height'> = bitmap,
): Raster {
  const { canvas, ink } = inkOn(width, height);
  ink.fillStyle = 'white';
  ink.fillRect(0, 0, width, height);
  ink.imageSmoothingQuality = 'high';
  ink.drawImage(bitmap, 0, 0, width, height);
  bitmap.close();
  const { data } = ink.getImageData(0, 0, width, height);
  // A canvas that waits for the collector would hold the photo a second time.
  canvas.width = 0;
  return rasterOf(width, height, 4, data);
}

/** A raster as a file. JPEG drops what is transparent to opaque. */
export function encode(raster: Raster, type: 'image/jpeg' | 'image/png', quality?: number): Promise<Blob> {
  const { width, height, channels, data } = raster;
  const { canvas, ink } = inkOn(width, height);
  const pixels = ink.createImageData(width, height);
  for (let from = 0, to = 0; to < pixels.data.length; from += channels, to += 4) {
    for (let c = 0; c < 3; c++) pixels.data[to + c] = data[from + (channels === 1 ? 0 : c)] ?? 0;
    pixels.data[to + 3] = channels === 4 && type === 'image/png' ? (data[from + 3] as number) : 255;
  }
  ink.putImageData(pixels, 0, 0);
  return canvas.convertToBlob(quality === undefined ? { type } : { type, quality });
}
