import type { Polygon, Region } from '../geometry';
import type { FacePicture } from '../raster';
import type { Cv } from './cv';

export function findBark(
  _cv: Cv,
  _picture: FacePicture,
  _outline: Region<'face'>,
  _hides: Uint8Array,
): Polygon<'face'> | null {
  return null;
}
