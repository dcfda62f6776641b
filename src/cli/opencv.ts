import type { Cv } from '../photo';

/** OpenCV, started. It takes a second and 60 MB: only what reads photos asks for it. Wrapped, since the bare handle may look like a promise. */
export async function loadOpenCv(): Promise<{ cv: Cv }> {
  // The module is itself the promise of its handle.
  const module = (await import('opencv.js')) as unknown as { default: Promise<Cv> };
  return { cv: await module.default };
}
