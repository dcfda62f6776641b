import opencv from 'opencv.js';
import type { Cv } from '../src/photo';

/**
 * OpenCV when it is ready, wrapped, since the handle may itself look like a promise. The package's export is a promise, and
 * a dynamic import of it would be taken for one: import this file at first need instead.
 */
export async function loadOpencv(): Promise<{ cv: Cv }> {
  return { cv: await (opencv as unknown as Promise<Cv>) };
}
