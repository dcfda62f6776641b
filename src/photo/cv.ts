import type * as opencv from 'opencv.js';
import type { Mat } from 'opencv.js';
import type { Raster } from '../raster';

/**
 * The handle of OpenCV, an argument of everything here that needs it, so that the room runs in a worker, in Node and in a test
 * alike. Never return it bare from an async function (it can be thenable): wrap it, `{ cv }`.
 */
export type Cv = typeof opencv;

/** Takes a thing that OpenCV allocated into the scope, which frees it at the end. */
export type Own = <T extends { delete(): void }>(thing: T) => T;

/**
 * Runs `work` and frees everything that it owned, whatever happens. OpenCV's heap never shrinks and knows no collector, so every
 * Mat, MatVector and detector goes through `own`, what `vector.get(i)` gives included. Errors of OpenCV arrive as bare numbers;
 * they leave here as an Error with its text.
 */
export function scope<T>(cv: Cv, work: (own: Own) => T): T {
  const owned: { delete(): void }[] = [];
  const own: Own = (thing) => {
    owned.push(thing);
    return thing;
  };
  try {
    return work(own);
  } catch (fault) {
    throw typeof fault === 'number' ? new Error(`OpenCV: ${cv.exceptionFromPtr(fault).msg}`) : fault;
  } finally {
    for (const thing of owned.reverse()) thing.delete();
  }
}

/** Bytes that OpenCV has taken for its Mats: they never become fewer. */
export function heapBytes(cv: Cv): number {
  return scope(cv, (own) => own(new cv.Mat(1, 1, cv.CV_8UC1)).data.buffer.byteLength);
}

/** A Mat (CV_8UC1, C3 or C4) with a copy of the raster's pixels. The caller owns it. */
export function toMat(cv: Cv, raster: Raster): Mat {
  const type = { 1: cv.CV_8UC1, 3: cv.CV_8UC3, 4: cv.CV_8UC4 }[raster.channels];
  const mat = new cv.Mat(raster.height, raster.width, type);
  const { buffer, byteOffset, length } = raster.data;
  // Bytes to bytes: a clamped array would be copied one by one.
  mat.data.set(new Uint8Array(buffer, byteOffset, length));
  return mat;
}

/** A raster with a copy of a continuous CV_8UC1, C3 or C4 Mat's pixels. */
export function toRaster(mat: Mat): Raster {
  const channels = mat.channels();
  if (channels !== 1 && channels !== 3 && channels !== 4)
    throw new RangeError(`A raster cannot have ${channels} channels.`);
  return { width: mat.cols, height: mat.rows, channels, data: new Uint8ClampedArray(mat.data) };
}

/** A grey CV_8UC1 Mat of a raster of any kind. The caller owns it. */
export function toGray(cv: Cv, raster: Raster): Mat {
  const mat = toMat(cv, raster);
  if (raster.channels === 1) return mat;
  try {
    const gray = new cv.Mat();
    cv.cvtColor(mat, gray, raster.channels === 4 ? cv.COLOR_RGBA2GRAY : cv.COLOR_RGB2GRAY);
    return gray;
  } finally {
    mat.delete();
  }
}
