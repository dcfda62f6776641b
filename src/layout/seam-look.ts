import type { SeamPlace } from './placement';
import type { FaceStock } from './stock';

/** How a seam looks, measured on the two faces; null where a face has no picture. */
export interface Look {
  readonly blend: number | null;
  readonly lines: number | null;
}

/** A measure of seams between two faces. */
export function seamLook(
  _front: FaceStock,
  _back: FaceStock,
  _kerf: number,
): (seam: Pick<SeamPlace, 'front' | 'back'>) => Look {
  return () => ({ blend: null, lines: null });
}
