import type { Bounds, Point } from '../geometry';
import type { Calibration } from '../job';
import { type FacePicture, type Raster, rasterOf } from '../raster';
import { InputProblem } from '../units';
import type { Cv } from './cv';
import { measure } from './measure';
import { rectify, visible } from './rectify';
import type { Cut } from './stitch-cut';
import { type Tone, toned } from './stitch-light';

/** A photo's part in the picture of the whole face. */
export interface Layer {
  readonly photo: Raster;
  /** Over the face. */
  readonly calibration: Calibration;
  readonly moved: (spot: Point<'face'>) => Point<'face'>;
  readonly tone: Tone;
}

/** Pictures pass into each other over so much, mm: figure that lies on figure is not blurred by it. */
const FEATHER = 6;
/** A picture larger than this is not made. */
const MOST_PIXELS = 60e6;

/**
 * The face as several photos show it, seen square from above: RGBA, transparent where none does.
 * @param layers as they follow each other; @param cuts between each and the next
 * @throws InputProblem when the picture would be too large
 */
export function stitched(
  cv: Cv,
  layers: readonly Layer[],
  cuts: readonly Cut[],
  { mmPerPx, bounds }: { readonly mmPerPx: number; readonly bounds: Bounds },
): FacePicture {
  const { minX, minY } = bounds;
  const width = Math.max(1, Math.ceil((bounds.maxX - minX) / mmPerPx - 1e-9));
  const height = Math.max(1, Math.ceil((bounds.maxY - minY) / mmPerPx - 1e-9));
  if (!(width * height <= MOST_PIXELS)) {
    throw new InputProblem(
      `At ${mmPerPx} mm per pixel the picture would have ${width} x ${height} pixels.`,
      '',
      'Choose a coarser resolution.',
    );
  }
  const data = new Uint8ClampedArray(4 * width * height);
  layers.forEach(({ photo, calibration, moved, tone }, layer) => {
    const part = within(seenBy(calibration), bounds, mmPerPx);
    if (!part) return;
    const picture = toned(rectify(cv, photo, calibration, { mmPerPx, bounds: part, alpha: true, moved }), tone);
    const [left, top] = [Math.round((part.minX - minX) / mmPerPx), Math.round((part.minY - minY) / mmPerPx)];
    const cut = cuts[layer - 1];
    const own = picture.raster.data;
    const [columns, rows] = [
      Math.min(picture.raster.width, width - left),
      Math.min(picture.raster.height, height - top),
    ];
    for (let r = 0; r < rows; r++) {
      const y = part.minY + (r + 0.5) * mmPerPx;
      for (let c = 0; c < columns; c++) {
        const from = 4 * (r * picture.raster.width + c);
        if ((own[from + 3] as number) < WHOLE) continue;
        const to = 4 * ((top + r) * width + left + c);
        const x = part.minX + (c + 0.5) * mmPerPx;
        const share = (data[to + 3] as number) === 0 || !cut ? 1 : shareOf(cut, x, y);
        if (share <= 0) continue;
        for (let k = 0; k < 3; k++)
          data[to + k] = (1 - share) * (data[to + k] as number) + share * (own[from + k] as number);
        data[to + 3] = 255;
      }
    }
  });
  return { raster: rasterOf(width, height, 4, data), mmPerPx, x0: minX, y0: minY };
}

/** A pixel less opaque than this lies on the photo's border and is mixed with nothing. */
const WHOLE = 250;

/** How much of the later picture is seen at a spot, 0 to 1. */
export function shareOf(cut: Cut, x: number, y: number): number {
  const [along, across] = cut.axis === 0 ? [x, y] : [y, x];
  return Math.max(0, Math.min(1, (along - cut.at(across)) / FEATHER + 0.5));
}

/** The part of the face that a photo shows. */
export const seenBy = (calibration: Calibration): Bounds =>
  visible(measure(calibration), calibration.width, calibration.height);

/** What two boxes share, on the pixels of the second; null where they share nothing. */
function within(box: Bounds, of: Bounds, mmPerPx: number): Bounds | null {
  const low = (v: number, from: number) => from + Math.max(0, Math.floor((v - from) / mmPerPx)) * mmPerPx;
  const [minX, minY] = [low(box.minX, of.minX), low(box.minY, of.minY)];
  const [maxX, maxY] = [Math.min(box.maxX, of.maxX), Math.min(box.maxY, of.maxY)];
  return maxX > minX && maxY > minY ? { minX, minY, maxX, maxY } : null;
}
