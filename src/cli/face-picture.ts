import { resolve } from 'node:path';
import type { FacePicture } from '../raster';
import { InputProblem } from '../units';
import { readPhoto } from './photo-file';

/**
 * The picture of a rectified face that an input names: its first pixel's centre stands at (mmPerPx/2, mmPerPx/2).
 * @param folder that relative paths start from; @param where path of the entry in the input
 * @throws InputProblem at the entry's `image` when it cannot be read
 */
export async function readFacePicture(
  { image, mmPerPx }: { readonly image: string; readonly mmPerPx: number },
  folder: string,
  where: string,
): Promise<FacePicture> {
  const { raster } = await readPhoto(resolve(folder, image), image).catch((error: unknown) => {
    throw error instanceof InputProblem ? new InputProblem(error.message, `${where}/image`, error.mend) : error;
  });
  return { raster, mmPerPx, x0: 0, y0: 0 };
}
