import type { Mat } from 'opencv.js';
import { bounds, centroid, type Point, type Polygon, type Region } from '../geometry';
import { type FacePicture, type Grid, maskOf } from '../raster';
import { type Cv, scope, toMat } from './cv';

/**
 * A face turned so that the slab runs along the rows, at 1 mm a pixel: what runs along the grain and what runs across it are then told
 * apart by rows and columns, however the picture lay.
 */
export interface Turned {
  readonly width: number;
  readonly height: number;
  /** sRGB, three bytes a pixel. */
  readonly colour: Uint8Array;
  /** CIELAB lightness, 0..100. */
  readonly lightness: Float32Array;
  /** 1 where the outline holds wood that nothing hides. */
  readonly wood: Uint8Array;
  /** 1 where the picture shows something, wood or not. */
  readonly seen: Uint8Array;
  /** The place on the face of a spot given in pixels; pixel (c, r) has its centre at (c + .5, r + .5). */
  readonly toFace: (x: number, y: number) => Point<'face'>;
  readonly fromFace: (place: Point<'face'>) => readonly [x: number, y: number];
}

/** mm per pixel: finer than any defect that matters. */
const WORK = 1;

/**
 * @param hides 1 for each pixel of the picture that shows no wood or floor
 */
export function turned(cv: Cv, picture: FacePicture, outline: Region<'face'>, hides: Uint8Array): Turned {
  const { raster, mmPerPx, x0, y0 } = picture;
  const angle = axisOf(outline.outer);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const turn = ([x, y]: Point<'face'>): Point<'face'> => [x * c + y * s, y * c - x * s];
  const box = bounds(outline.outer.map(turn));
  const [left, top] = [box.minX, box.minY];
  const width = Math.ceil((box.maxX - left) / WORK);
  const height = Math.ceil((box.maxY - top) / WORK);
  const toFace = (x: number, y: number): Point<'face'> => {
    const [u, v] = [left + x * WORK, top + y * WORK];
    return [u * c - v * s, u * s + v * c];
  };
  const fromFace = (place: Point<'face'>): readonly [number, number] => {
    const [u, v] = turn(place);
    return [(u - left) / WORK, (v - top) / WORK];
  };
  return scope(cv, (own) => {
    // From a pixel of the turned picture to one of the picture, centres on whole numbers.
    const [ox, oy] = toFace(0.5, 0.5);
    const k = WORK / mmPerPx;
    const map = [c * k, -s * k, (ox - x0) / mmPerPx - 0.5, s * k, c * k, (oy - y0) / mmPerPx - 0.5];
    const mat = own(cv.matFromArray(2, 3, cv.CV_64FC1, map));
    const warp = (from: Mat, how: number) => {
      const to = own(new cv.Mat());
      const border = new cv.Scalar(0, 0, 0, 0);
      cv.warpAffine(from, to, mat, new cv.Size(width, height), how | cv.WARP_INVERSE_MAP, cv.BORDER_CONSTANT, border);
      return to;
    };
    const colour = own(toMat(cv, raster));
    // Area by area, so that a finer picture's grain and noise do not alias.
    if (k > 1.5) cv.blur(colour, colour, new cv.Size(Math.round(k), Math.round(k)));
    const rgb = own(rgbOf(cv, warp(colour, cv.INTER_LINEAR)));
    const lightness = lightnessOf(cv, rgb);
    const shown = own(new cv.Mat(raster.height, raster.width, cv.CV_8UC1));
    shown.data.set(hides);
    cv.threshold(shown, shown, 0, 1, cv.THRESH_BINARY_INV);
    const seen = warp(shown, cv.INTER_NEAREST).data.slice();
    const grid: Grid = { width, height, mmPerPx: WORK, x0: left, y0: top };
    const ring = (places: Polygon<'face'>): Polygon<'face'> => places.map(turn);
    const wood = maskOf(grid, [{ outer: ring(outline.outer), holes: outline.holes.map(ring) }]);
    for (let i = 0; i < wood.length; i++) if (!seen[i]) wood[i] = 0;
    return { width, height, colour: rgb.data.slice(), lightness, wood, seen, toFace, fromFace };
  });
}

/** The same with three channels. The caller owns it. */
function rgbOf(cv: Cv, picture: Mat): Mat {
  const rgb = new cv.Mat();
  if (picture.channels() === 1) cv.cvtColor(picture, rgb, cv.COLOR_GRAY2RGB);
  else if (picture.channels() === 4) cv.cvtColor(picture, rgb, cv.COLOR_RGBA2RGB);
  else picture.copyTo(rgb);
  return rgb;
}

/** CIELAB lightness of a picture; by bytes, whose steps of 0.4 the smoothing of whatever is measured takes out. */
function lightnessOf(cv: Cv, rgb: Mat): Float32Array {
  return scope(cv, (own) => {
    const colour = own(new cv.Mat());
    cv.cvtColor(rgb, colour, cv.COLOR_RGB2Lab);
    const lab = colour.data;
    const lightness = new Float32Array(lab.length / 3);
    for (let i = 0; i < lightness.length; i++) lightness[i] = ((lab[3 * i] as number) * 100) / 255;
    return lightness;
  });
}

/** The same face where what a mask marks shows neither wood nor floor. */
export function without(face: Turned, hides: Uint8Array): Turned {
  const [wood, seen] = [face.wood.slice(), face.seen.slice()];
  for (let i = 0; i < hides.length; i++) {
    if (!hides[i]) continue;
    wood[i] = 0;
    seen[i] = 0;
  }
  return { ...face, wood, seen };
}

/** Direction of the long axis of a ring's area, radians from +x, within a quarter turn of it. */
export function axisOf(ring: Polygon<'face'>): number {
  let [xx, xy, yy] = [0, 0, 0];
  const [mx, my] = centroid(ring);
  ring.forEach((q, i) => {
    const p = ring[(i + ring.length - 1) % ring.length] as Point<'face'>;
    const [px, py, qx, qy] = [p[0] - mx, p[1] - my, q[0] - mx, q[1] - my];
    const cross = px * qy - qx * py;
    xx += cross * (px * px + px * qx + qx * qx);
    yy += cross * (py * py + py * qy + qy * qy);
    xy += cross * (px * qy + 2 * px * py + 2 * qx * qy + qx * py);
  });
  const sign = xx + yy < 0 ? -1 : 1;
  return 0.5 * Math.atan2(sign * xy, sign * (xx - yy));
}
