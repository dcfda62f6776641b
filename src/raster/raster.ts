import { InputProblem } from '../units';

/**
 * A picture as a plain array, row by row from the top, `channels` bytes a pixel: 1 grey, 3 RGB, 4 RGBA (alpha not
 * premultiplied). Bytes are sRGB.
 */
export interface Raster {
  readonly width: number;
  readonly height: number;
  readonly channels: 1 | 3 | 4;
  readonly data: Uint8ClampedArray | Uint8Array;
}

/**
 * A rectified picture of a slab face (or of a finished top, in its frame): the centre of pixel (c, r) lies at
 * (x0 + (c + .5) mmPerPx, y0 + (r + .5) mmPerPx).
 */
export interface FacePicture {
  readonly raster: Raster;
  readonly mmPerPx: number;
  readonly x0: number;
  readonly y0: number;
}

/** A whole picture as numbers, row by row: one channel, any unit. NaN where nothing is known. */
export interface Plane {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/**
 * A raster over given bytes.
 * @throws InputProblem when the bytes do not fill width x height x channels
 */
export function rasterOf(width: number, height: number, channels: Raster['channels'], data: Raster['data']): Raster {
  if (width < 1 || height < 1 || data.length !== width * height * channels) {
    throw new InputProblem(
      `A picture of ${width} x ${height} pixels with ${channels} channels needs ${width * height * channels} bytes but has ${data.length}.`,
      '',
      'Decode the picture again; the file may be cut short.',
    );
  }
  return { width, height, channels, data };
}
