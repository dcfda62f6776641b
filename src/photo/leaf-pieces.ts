import type { Mat } from 'opencv.js';
import { centroid, contains, type Polygon } from '../geometry';
import { type FacePicture, labPlanes, maskOf } from '../raster';
import { type Cv, type Own, scope } from './cv';
import { evenLight } from './even-light';
import { seedMask } from './hints';
import { cellsOf, ratherOne, sharesOf } from './likeness';
import { gridOf, seenMask, shrink } from './pictures';
import { isGround, opened, pieceOf } from './pieces';
import { toldApart } from './segment';
import { taught } from './teaching';
import type { TraceOptions } from './trace-types';

/** Longer side at which leaves are told from what they lie on, px: the gaps between them are narrow, so it is finer than for one slab. */
const SEGMENT_PX = 800;
/** Strips of floor that look like wood, and bridges between leaves, are narrower than twice this, mm. */
const OPENING = 12;
/** A leaf is no smaller than this, mm2, and no smaller than this share of the largest: the rest are chips and stray patches. */
const LEAST_AREA = 5000;
const LEAST_SHARE = 0.15;
/** A leaf fills so much of the smallest box around it: a shadow or a shoe does not. */
const FULL = 0.6;
/** Pixels from which colours can be learnt. */
const ENOUGH = 500;

/**
 * Roughly where each piece of wood in a picture lies: all that colour tells from the floor, no piece being meant more than another. The floor
 * is learnt from outside the marks; where there are none, from the rim of the picture.
 */
export function findLeaves(cv: Cv, picture: FacePicture, hints: TraceOptions): Polygon<'face'>[] {
  const { raster, mmPerPx } = picture;
  const whole = evenLight(shrink(cv, picture, (Math.max(raster.width, raster.height) * mmPerPx) / SEGMENT_PX));
  const pieces = woodIn(cv, whole, hints);
  // Marks that lie beside the leaves lie on what the leaves lie on: a bench of wood was found, and the leaves are to be told from it.
  const bench = pieces.find((ring) => holdsMarks(ring, hints));
  return bench ? woodIn(cv, only(whole, bench), hints) : pieces;
}

const holdsMarks = (ring: Polygon<'face'>, { laid = [] }: TraceOptions): boolean =>
  laid.some(({ polygon, onWood }) => !onWood && contains(ring, centroid(polygon)));

/** The picture without what lies outside a ring. */
function only(picture: FacePicture, ring: Polygon<'face'>): FacePicture {
  const { width, height, channels } = picture.raster;
  const within = maskOf(gridOf(picture), [{ outer: ring, holes: [] }]);
  const seen = seenMask(picture);
  const data = new Uint8ClampedArray(width * height * 4);
  for (let i = 0; i < within.length; i++) {
    for (let k = 0; k < 3; k++)
      data[4 * i + k] = picture.raster.data[i * channels + (channels === 1 ? 0 : k)] as number;
    data[4 * i + 3] = within[i] && seen[i] ? 255 : 0;
  }
  return { ...picture, raster: { width, height, channels: 4, data } };
}

/** Rims of all that colour tells from its surroundings and that has the size and shape of a leaf. */
function woodIn(cv: Cv, whole: FacePicture, hints: TraceOptions): Polygon<'face'>[] {
  const grid = gridOf(whole);
  const first = unlikeGround(whole, seedMask(grid, hints));
  return scope(cv, (own) => {
    const told = toldApart(cv, own, whole, hints, taught(whole, hints, first));
    if (!told) return [];
    const clear = opened(cv, own, holesFilled(cv, own, told.wood), OPENING / grid.mmPerPx);
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
      .filter((piece) => !isGround(piece, told.seen, grid.width))
      .map(({ ring }) => ring);
  });
}

/**
 * A first guess without what looks like its surroundings: between leaves, the ground shows within the marks too. Each colour is taken for what it is
 * commoner in, within or without.
 */
function unlikeGround(whole: FacePicture, guess: Uint8Array): Uint8Array {
  const lab = labPlanes(whole.raster);
  const cells = cellsOf({ L: lab.L.data, a: lab.a.data, b: lab.b.data });
  const seen = seenMask(whole);
  const ground = guess.map((v, i) => (!v && seen[i] ? 1 : 0));
  const [one, other] = [sharesOf(cells, guess, ENOUGH), sharesOf(cells, ground, ENOUGH)];
  if (!one || !other) return guess;
  const rather = ratherOne(cells, one, other);
  const left = guess.map((v, i) => (v && (rather[i] as number) > 0 ? 1 : 0));
  return left.reduce((sum: number, v) => sum + v, 0) > ENOUGH ? left : guess;
}

/** Each piece of wood without holes: knots and chips within it are its own. */
function holesFilled(cv: Cv, own: Own, wood: Mat): Mat {
  const contours = own(new cv.MatVector());
  cv.findContours(wood, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
  const out = own(new cv.Mat(wood.rows, wood.cols, cv.CV_8UC1, new cv.Scalar(0)));
  cv.drawContours(out, contours, -1, new cv.Scalar(255), cv.FILLED);
  return out;
}
