import type { Cv } from '../../src/photo';

/** OpenCV's handle, wrapped because it can be thenable. */
export async function openCv(): Promise<{ cv: Cv }> {
  const module = (await import('opencv.js')) as unknown as { default: Promise<Cv> };
  return { cv: await module.default };
}
