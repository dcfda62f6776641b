import type { Picture } from '../src/job';
import type { FacePicture } from '../src/raster';
import { pixelsOf } from './pixels';

/** A face's rectified picture as it is stored. */
export interface StoredFace extends Pick<Picture, 'mmPerPx' | 'x0' | 'y0'> {
  /** faceKey of the face. */
  readonly key: string;
  readonly file: string;
  readonly blob: Blob;
}

/** Its pixels. */
export async function opened({ blob, mmPerPx, x0, y0 }: StoredFace): Promise<FacePicture> {
  return { raster: pixelsOf(await createImageBitmap(blob)), mmPerPx, x0, y0 };
}
