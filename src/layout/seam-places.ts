import type { Shop, Top } from '../job';
import type { Control } from '../search';
import type { SeamPlace } from './placement';
import { shapeSeams } from './shape-seams';
import type { FaceStock } from './stock';

/** Seams of two faces that could carry the top, the best first. */
export async function seamPlaces(
  front: FaceStock,
  back: FaceStock,
  top: Top,
  shop: Shop,
  _control: Control,
): Promise<SeamPlace[]> {
  return shapeSeams(front, back, top, shop);
}
