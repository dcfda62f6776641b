import type { Mat } from 'opencv.js';
import type { Polygon } from '../geometry';
import type { FacePicture } from '../raster';
import { type Cv, type Own, scope } from './cv';
import { evenLight } from './even-light';
import { woodLikeness } from './leaf-ground';
import { jointsIn, type Lying, lyingAlong, partedAt } from './leaf-seams';
import { gridOf, seenMask, shrink } from './pictures';
import { closed, isGround, opened, pieceOf } from './pieces';
import type { TraceOptions } from './trace-types';

/** Longer side at which leaves are told from what they lie on, px: the gaps between them are narrow. */
const SEGMENT_PX = 1400;
/** Cracks, and shadows in them, that are narrower than twice this are wood, mm. */
const CRACK = 3;
/** Strips of floor that look like wood, and bridges between leaves, are narrower than twice this, mm. */
const OPENING = 10;
/** A leaf is no smaller than this, mm2, and no smaller than this share of the largest: the rest are chips and stray patches. */
const LEAST_AREA = 5000;
const LEAST_SHARE = 0.15;
/** A leaf that runs out of the picture takes no more than this share of the picture's rim: what takes more is the bench, of the leaves' own colour. */
const GROUND = 0.2;
/** A leaf fills so much of the smallest box around it: a shadow or a shoe does not. */
const FULL = 0.6;

/** Roughly where each piece of wood in a picture lies: all that colour tells from the bench, no piece being meant more than another. */
export function findLeaves(cv: Cv, picture: FacePicture, hints: TraceOptions): Polygon<'face'>[] {
  const { raster, mmPerPx } = picture;
  const whole = evenLight(shrink(cv, picture, (Math.max(raster.width, raster.height) * mmPerPx) / SEGMENT_PX));
  const like = woodLikeness(whole, hints);
  if (!like) return [];
  const rings = scope(cv, (own) => leavesIn(cv, own, whole, like));
  return apart(whole, rings);
}

/** Rims of all that is wood rather than bench and that has the size and shape of a leaf. */
function leavesIn(cv: Cv, own: Own, whole: FacePicture, like: Float32Array): Polygon<'face'>[] {
  const grid = gridOf(whole);
  const wood = own(new cv.Mat(grid.height, grid.width, cv.CV_8UC1));
  wood.data.set(like.map((v) => (v > 0 ? 255 : 0)));
  const solid = holesFilled(cv, own, closed(cv, own, wood, CRACK / grid.mmPerPx));
  const clear = opened(cv, own, solid, OPENING / grid.mmPerPx);
  const contours = own(new cv.MatVector());
  cv.findContours(clear, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
  const pieces = Array.from({ length: contours.size() }, (_, i) => {
    const contour = own(contours.get(i));
    const box = cv.minAreaRect(contour).size;
    const area = cv.contourArea(contour);
    return { i, contour, area, full: area / Math.max(1, box.width * box.height) };
  }).filter(({ area, full }) => area * grid.mmPerPx ** 2 >= LEAST_AREA && full >= FULL);
  const largest = Math.max(0, ...pieces.map(({ area }) => area));
  const seen = seenMask(whole);
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

/** A piece so much wider than the others, or by itself less than so much longer than wide, may be several leaves that touch or overlap. */
const WIDER = 1.3;
const SQUAT = 2.2;
/** Leaves of one board are as wide as each other, but for this share; of one that lies half under another, less is seen. */
const ALIKE = 1.3;
const MOST = 0.6;
/** No less of a leaf than this is told from another, mm, and no less than this share of its width where that is known. */
const LEAST_WIDTH = 30;
const LEAST_SEEN = 0.3;

/** Leaves that touch, taken apart: a piece wider than the others, or where all may be so, one whose parts are as wide as each other. */
function apart(picture: FacePicture, rings: readonly Polygon<'face'>[]): Polygon<'face'>[] {
  const lie = rings.map(lying);
  const slim = lie.filter(({ half }) => half[0] > SQUAT * half[1]).map(({ half }) => 2 * half[1]);
  const width = slim.length > 0 ? (slim.sort((a, b) => a - b)[Math.floor((slim.length - 1) / 2)] as number) : null;
  return rings.flatMap((ring, i) => {
    const { along, half } = lie[i] as Lying;
    // A stack of leaves may be wider than they are long.
    const ways = half[0] > SQUAT * half[1] ? [along] : [along, along + Math.PI / 2];
    const cuts = ways.map((way) => {
      const at = lyingAlong(ring, way);
      const known = width !== null && 2 * at.half[1] > WIDER * width ? width : null;
      if (known === null && (width !== null || at.half[0] > SQUAT * at.half[1])) return { parts: [ring], clear: 0 };
      const joints = jointsIn(picture, at, Math.max(LEAST_WIDTH, LEAST_SEEN * (known ?? 0)));
      const parts = partedAt(ring, at, joints);
      const even = evenWidths(
        parts.map((part) => 2 * lyingAlong(part, way).half[1]),
        known,
      );
      return even ? { parts, clear: Math.min(...joints.map(({ clear }) => clear)) } : { parts: [ring], clear: 0 };
    });
    return cuts.reduce((best, one) => (one.clear > best.clear ? one : best)).parts;
  });
}

/** Whether the most of several parts are as wide as each other, or as leaves are known to be: one may lie under another, and two may not have come apart. */
function evenWidths(widths: readonly number[], known: number | null): boolean {
  const usual = known ?? ([...widths].sort((a, b) => a - b)[Math.floor((widths.length - 1) / 2)] as number);
  const alike = widths.filter((width) => width < ALIKE * usual && usual < ALIKE * width);
  return widths.length > 1 && alike.length >= (known === null ? MOST * widths.length : 1);
}

/** The smallest box around a ring, along its longer side. */
function lying(ring: Polygon<'face'>): Lying {
  const boxes = ring.map(([x, y], i) => {
    const [p, q] = ring[(i + 1) % ring.length] as Polygon<'face'>[number];
    return lyingAlong(ring, Math.atan2(q - y, p - x));
  });
  const least = boxes.reduce((a, b) => (a.half[0] * a.half[1] <= b.half[0] * b.half[1] ? a : b));
  return least.half[0] >= least.half[1] ? least : lyingAlong(ring, least.along + Math.PI / 2);
}

/** Each piece of wood without holes: knots and chips within it are its own. */
function holesFilled(cv: Cv, own: Own, wood: Mat): Mat {
  const contours = own(new cv.MatVector());
  cv.findContours(wood, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
  const out = own(new cv.Mat(wood.rows, wood.cols, cv.CV_8UC1, new cv.Scalar(0)));
  cv.drawContours(out, contours, -1, new cv.Scalar(255), cv.FILLED);
  return out;
}
