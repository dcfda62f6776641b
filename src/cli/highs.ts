import type { Highs } from '../search';

/** The mixed-integer solver, started. Wrapped as OpenCV is. */
export async function loadHighs(): Promise<{ highs: Highs }> {
  const { default: load } = await import('highs');
  return { highs: await load() };
}
