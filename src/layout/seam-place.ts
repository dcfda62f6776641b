import type { Segment } from '../geometry';
import type { FaceStock } from './stock';

/** A seam to build a top on: joint lines whose first points meet, as their last ones do. */
export interface SeamPlace {
  readonly front: { readonly stock: FaceStock; readonly line: Segment<'face'> };
  readonly back: { readonly stock: FaceStock; readonly line: Segment<'face'> };
  readonly blend: number | null;
  readonly lines: number | null;
  readonly slide: number;
  readonly flipped: boolean;
}
