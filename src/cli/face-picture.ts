import { resolve } from 'node:path';
import { bounds, type Polygon } from '../geometry';
import type { FacePicture } from '../raster';
import { InputProblem } from '../units';
import { LONGEST } from './job-stock';
import { readPhoto } from './photo-file';

/** A picture that shows less than this share of its slab is not of that scale. */
const LEAST_SHOWN = 0.5;

/**
 * The picture of a rectified face that an input names: its first pixel's centre stands at (mmPerPx/2, mmPerPx/2).
 * @param folder that relative paths start from; @param where path of the entry in the input
 * @throws InputProblem at the entry's `image` when it cannot be read, at its `mmPerPx` when that cannot be of this picture and outline
 */
export async function readFacePicture(
  face: { readonly image: string; readonly mmPerPx: number; readonly outline: Polygon<'face'> },
  folder: string,
  where: string,
): Promise<FacePicture> {
  const { image, mmPerPx, outline } = face;
  const { raster } = await readPhoto(resolve(folder, image), image).catch((error: unknown) => {
    throw error instanceof InputProblem ? new InputProblem(error.message, `${where}/image`, error.mend) : error;
  });
  const [width, height] = [raster.width * mmPerPx, raster.height * mmPerPx];
  const { minX, maxX, minY, maxY } = bounds(outline);
  const shown =
    (Math.max(0, Math.min(maxX, width) - Math.max(minX, 0)) / (maxX - minX)) *
    (Math.max(0, Math.min(maxY, height) - Math.max(minY, 0)) / (maxY - minY));
  if (Math.max(width, height) > LONGEST || shown < LEAST_SHOWN)
    throw new InputProblem(
      `At ${mmPerPx} mm a pixel "${image}" shows ${round(width)} by ${round(height)} mm, which is not what the outline's ${round(maxX - minX)} by ${round(maxY - minY)} mm lie in.`,
      `${where}/mmPerPx`,
      'Give the scale at which the picture was rectified, and the outline in mm from its first corner.',
    );
  return { raster, mmPerPx, x0: 0, y0: 0 };
}

const round = (mm: number): number => Math.round(mm * 10) / 10;
