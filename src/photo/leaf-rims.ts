import type { Mat } from 'opencv.js';
import type { Polygon } from '../geometry';
import type { Cv, Own } from './cv';
import type { gridOf } from './pictures';
import { isGround, opened, pieceOf } from './pieces';

/** A leaf is no smaller than this, mm2, and no smaller than this share of the largest: the rest are chips and stray patches. */
const LEAST_AREA = 5000;
const LEAST_SHARE = 0.15;
/** A leaf that runs out of the picture takes no more than this share of the picture's rim: what takes more is the bench, of the leaves' own colour. */
const GROUND = 0.2;
/** A leaf fills so much of the smallest box around it: a shadow or a shoe does not. */
const FULL = 0.6;

/**
 * Rims of all pieces of a mask that have the size and shape of a leaf.
 * @param wood 255 where the picture shows wood; knots and chips within a piece are its own
 * @param opening strips of floor that look like wood, and bridges between leaves, are narrower than twice this, mm
 * @param seen 1 where the picture shows anything
 */
export function leafRims(
  cv: Cv,
  own: Own,
  wood: Mat,
  { grid, opening, seen }: { grid: ReturnType<typeof gridOf>; opening: number; seen: Uint8Array },
): Polygon<'face'>[] {
  const clear = opened(cv, own, holesFilled(cv, own, wood), opening / grid.mmPerPx);
  const contours = own(new cv.MatVector());
  cv.findContours(clear, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
  const pieces = Array.from({ length: contours.size() }, (_, i) => {
    const contour = own(contours.get(i));
    const box = cv.minAreaRect(contour).size;
    const area = cv.contourArea(contour);
    return { i, contour, area, full: area / Math.max(1, box.width * box.height) };
  }).filter(({ area, full }) => area * grid.mmPerPx ** 2 >= LEAST_AREA && full >= FULL);
  const largest = Math.max(0, ...pieces.map(({ area }) => area));
  return pieces
    .filter(({ area }) => area >= LEAST_SHARE * largest)
    .map(({ i, contour }) => {
      const mask = own(new cv.Mat(grid.height, grid.width, cv.CV_8UC1, new cv.Scalar(0)));
      cv.drawContours(mask, contours, i, new cv.Scalar(255), cv.FILLED);
      return pieceOf(mask, contour, grid);
    })
    .filter((piece) => !isGround(piece, seen, grid.width, GROUND))
    .map(({ ring }) => ring);
}

/** Each piece of wood without holes: knots and chips within it are its own. */
function holesFilled(cv: Cv, own: Own, wood: Mat): Mat {
  const contours = own(new cv.MatVector());
  cv.findContours(wood, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
  const out = own(new cv.Mat(wood.rows, wood.cols, cv.CV_8UC1, new cv.Scalar(0)));
  cv.drawContours(out, contours, -1, new cv.Scalar(255), cv.FILLED);
  return out;
}
