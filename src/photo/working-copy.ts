import type { Point } from '../geometry';
import type { Calibration, Scale } from '../job';
import { Camera } from './camera';

/**
 * Large photos are read from a smaller copy, since 50 million pixels would not fit into a telephone's browser several times over. The
 * job never hears of it: pixels that go in and out are the stored photo's, whose centre lies where the copy's does.
 */

/** Width and height, px. */
export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Photos of more pixels are read from a copy with about so many: 4096 x 3072, in which a slab 3 m long is seen to 0.75 mm (practice). */
const WORKING_PIXELS = 12.6e6;
/** The copy is at most this share smaller than it must be, to have the photo's shape to the pixel. */
const SEARCHED = 0.02;

/** Size of the copy that a photo of this size is read from: the photo's own up to 12.6 million pixels, else one of the same shape. */
export function workingSize({ width, height }: Size): Size {
  if (width * height <= WORKING_PIXELS) return { width, height };
  const widest = Math.floor(Math.sqrt((WORKING_PIXELS * width) / height));
  let best = { width: widest, height: Math.round((widest * height) / width), off: Infinity };
  for (let w = widest; w > widest * (1 - SEARCHED) && best.off > 0; w--) {
    const h = Math.max(1, Math.round((w * height) / width));
    const off = Math.abs(h * width - w * height) / w;
    if (off < best.off - 1e-9) best = { width: w, height: h, off };
  }
  return { width: best.width, height: best.height };
}

/** A pixel of the photo in the copy. Pixel (0, 0) is the centre of the first one, in both. */
const inCopy =
  (share: number) =>
  ([u, v]: Point<'photo'>): Point<'photo'> => [share * (u + 0.5) - 0.5, share * (v + 0.5) - 0.5];

/** A pixel of the copy in the photo. */
export const inPhoto = (photo: Size, copy: Size) => inCopy(photo.width / copy.width);

/** A reference given in pixels of the photo, in those of its copy. */
export function scaleOfCopy(scale: Scale, photo: Size, copy: Size): Scale {
  const to = inCopy(copy.width / photo.width);
  const pair = ([a, b]: readonly [Point<'photo'>, Point<'photo'>]): [Point<'photo'>, Point<'photo'>] => [to(a), to(b)];
  const common = {
    ...(scale.heights && { heights: scale.heights.map(({ px, z }) => ({ px: to(px), z })) }),
    ...(scale.distances && { distances: scale.distances.map(({ px, length }) => ({ px: pair(px), length })) }),
  };
  if (scale.kind === 'points')
    return { ...scale, ...common, points: scale.points.map(({ px, mm }) => ({ px: to(px), mm })) };
  if (scale.kind === 'slab') {
    const [left, middle, right] = scale.widths.map(({ px, mm }) => ({ px: pair(px), mm })) as typeof scale.widths;
    return {
      ...scale,
      ...common,
      length: { px: pair(scale.length.px), mm: scale.length.mm },
      widths: [left, middle, right],
    };
  }
  if (scale.kind !== 'rods') return { ...scale, ...common };
  const rods = scale.rods.map(({ px, marks, corners, ...rod }) => ({
    ...rod,
    px: pair(px),
    ...(marks && { marks: marks.map(({ px: at, at: mm }) => ({ px: to(at), at: mm })) }),
    ...(corners && { corners: [to(corners[0]), to(corners[1]), to(corners[2]), to(corners[3])] as typeof corners }),
  }));
  return { ...scale, ...common, rods };
}

/** The same camera for a copy of the photo of another size. */
export function calibrationAt(calibration: Calibration, { width, height }: Size): Calibration {
  const times = width / calibration.width;
  if (times === 1) return calibration;
  const [focal, centreU, centreV] = [6, 8, 9];
  const parameters = calibration.parameters.map((p, i) =>
    i === focal ? times * p : i === centreU || i === centreV ? times * (p + 0.5) - 0.5 : p,
  );
  const grown = (i: number) => (i === focal || i === centreU || i === centreV ? times : 1);
  const covariance = calibration.covariance.map(
    (c, k) => grown(Math.floor(k / Camera.SIZE)) * grown(k % Camera.SIZE) * c,
  );
  const camera = new Camera(Float64Array.from(parameters));
  return {
    ...calibration,
    width,
    height,
    parameters,
    covariance,
    centre: camera.centre,
    homography: camera.homography(),
    residualPx: times * calibration.residualPx,
  };
}
