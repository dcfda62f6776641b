import type { Polygon, Region } from '../geometry';
import type { FacePicture } from '../raster';
import type { Cv } from './cv';

export function findSapwood(
  _cv: Cv,
  _picture: FacePicture,
  _outline: Region<'face'>,
  _hides: Uint8Array,
): Polygon<'face'>[] {
  return [];
}
