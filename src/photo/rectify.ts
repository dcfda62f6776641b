import type { Bounds, Point } from '../geometry';
import type { Calibration } from '../job';
import type { FacePicture, Raster } from '../raster';
import { InputProblem } from '../units';
import { type Cv, scope, toMat } from './cv';
import { type Measure, measure } from './measure';

export interface RectifyOptions {
  readonly mmPerPx: number;
  /** Part of the face to show, mm; what the photo shows of it where left out. */
  readonly bounds?: Bounds;
  /** Whether the picture gets a channel that is opaque where the photo saw the face. */
  readonly alpha?: boolean;
  /** Where on the face, as this photo has it, the wood of each spot is found, where that is known better than the photo itself tells. */
  readonly moved?: (spot: Point<'face'>) => Point<'face'>;
}

/** A picture larger than this is not made: it would not fit into the memory of a telephone's browser. */
const MOST_PIXELS = 60e6;
/** Rows warped at a time, so that the maps stay small. */
const BAND = 128;
/** Every how many pixels a place is projected exactly; between them a bilinear map errs by less than 0.02 px. */
const GRID = 16;
/** A place further out than this, px, is not in the photo. */
const FAR = 1.5e4;

/**
 * The face as seen square from above: lens, slant and, where the calibration carries readings, the wood's relief taken out. Channels are
 * the photo's, with `alpha` RGBA of any photo; outside the photo all of them are 0.
 * @param photo the photo that was calibrated, or a smaller copy of all of it
 * @throws InputProblem when the photo is not the one that was calibrated, or the picture would be too large
 */
export function rectify(cv: Cv, photo: Raster, calibration: Calibration, options: RectifyOptions): FacePicture {
  const copy = photo.width / calibration.width;
  if (!(copy <= 1) || Math.abs(photo.height - copy * calibration.height) > 1) {
    throw new InputProblem(
      `The photo has ${photo.width} x ${photo.height} pixels, but was calibrated at ${calibration.width} x ${calibration.height}.`,
      '',
      'Use the photo as it was calibrated, or calibrate it again.',
    );
  }
  const { mmPerPx } = options;
  const view = measure(calibration);
  const { minX, minY, maxX, maxY } = options.bounds ?? visible(view, calibration.width, calibration.height);
  const width = Math.max(1, Math.ceil((maxX - minX) / mmPerPx - 1e-9));
  const height = Math.max(1, Math.ceil((maxY - minY) / mmPerPx - 1e-9));
  if (!(width * height <= MOST_PIXELS)) {
    throw new InputProblem(
      `At ${mmPerPx} mm per pixel the picture would have ${width} x ${height} pixels.`,
      '',
      'Choose a coarser resolution.',
    );
  }
  const { moved = (spot) => spot } = options;
  const place = (column: number, row: number): Point<'photo'> =>
    view.toPhoto(moved([minX + (column + 0.5) * mmPerPx, minY + (row + 0.5) * mmPerPx]));
  const channels = options.alpha ? 4 : photo.channels;
  const data = new Uint8ClampedArray(width * height * channels);
  scope(cv, (own) => {
    const source = own(toMat(cv, photo));
    const step = detail(place, width, height) * copy;
    const share = copy / shrunk(cv, source, step);
    if (channels > photo.channels)
      cv.cvtColor(source, source, photo.channels === 1 ? cv.COLOR_GRAY2RGBA : cv.COLOR_RGB2RGBA);
    const band = own(new cv.Mat());
    const nothing = own(new cv.Mat());
    for (let top = 0; top < height; top += BAND) {
      const rows = Math.min(BAND, height - top);
      scope(cv, (ownInBand) => {
        const map = ownInBand(new cv.Mat(rows, width, cv.CV_32FC2));
        fillMap(place, share, top, rows, width, map.data32F);
        cv.remap(source, band, map, nothing, cv.INTER_LINEAR, cv.BORDER_CONSTANT, new cv.Scalar(0, 0, 0, 0));
      });
      data.set(band.data, top * width * channels);
    }
  });
  return { raster: { width, height, channels, data }, mmPerPx, x0: minX, y0: minY };
}

/** Photo pixels per pixel of the picture, in its middle. */
function detail(place: (column: number, row: number) => Point<'photo'>, width: number, height: number): number {
  const [a, b, c] = [place(width / 2, height / 2), place(width / 2 + 1, height / 2), place(width / 2, height / 2 + 1)];
  return Math.max(Math.hypot(a[0] - b[0], a[1] - b[1]), Math.hypot(a[0] - c[0], a[1] - c[1]));
}

/**
 * Takes out the detail that a picture of `step` photo pixels a pixel is too coarse to show, so that it does not return as false pattern.
 * @returns how many times smaller the photo was made for it
 */
function shrunk(cv: Cv, source: InstanceType<Cv['Mat']>, step: number): number {
  const times = Math.max(1, Math.floor(step));
  if (times > 1) {
    // Whole blocks only, so that a pixel of the copy is a block of the photo everywhere.
    const [width, height] = [Math.ceil(source.cols / times), Math.ceil(source.rows / times)];
    const [right, bottom] = [width * times - source.cols, height * times - source.rows];
    cv.copyMakeBorder(source, source, 0, bottom, 0, right, cv.BORDER_REPLICATE);
    cv.resize(source, source, new cv.Size(width, height), 0, 0, cv.INTER_AREA);
  }
  const left = step / times;
  if (left > 1.3) {
    const sigma = 0.5 * Math.sqrt(left * left - 1);
    cv.GaussianBlur(source, source, new cv.Size(0, 0), sigma, sigma, cv.BORDER_REPLICATE);
  }
  return times;
}

/**
 * Where in the photo each pixel of a band is found, u and v by turns: exact every GRID pixels, bilinear between.
 * @param share size of a photo pixel in those of the copy that is looked into
 */
function fillMap(
  place: (column: number, row: number) => Point<'photo'>,
  share: number,
  top: number,
  rows: number,
  width: number,
  map: Float32Array,
): void {
  const cells = Math.ceil(width / GRID);
  const line = (row: number): Float64Array => {
    const places = new Float64Array(2 * (cells + 1));
    for (let k = 0; k <= cells; k++) {
      const [u, v] = place(k * GRID, row);
      places[2 * k] = share * (u + 0.5) - 0.5;
      places[2 * k + 1] = share * (v + 0.5) - 0.5;
    }
    return places;
  };
  let upper = line(top);
  for (let r0 = 0; r0 < rows; r0 += GRID) {
    const lower = line(top + r0 + GRID);
    for (let row = r0; row < Math.min(rows, r0 + GRID); row++) {
      const t = (row - r0) / GRID;
      let at = 2 * row * width;
      for (let k = 0; k < cells; k++) {
        const [a, b] = [2 * k, 2 * k + 2];
        let u = (upper[a] as number) * (1 - t) + (lower[a] as number) * t;
        let v = (upper[a + 1] as number) * (1 - t) + (lower[a + 1] as number) * t;
        let du = ((upper[b] as number) * (1 - t) + (lower[b] as number) * t - u) / GRID;
        let dv = ((upper[b + 1] as number) * (1 - t) + (lower[b + 1] as number) * t - v) / GRID;
        // Far outside stands for not seen: it is neither NaN nor beyond the whole numbers that remap reckons in.
        if (!(Math.abs(u) < FAR && Math.abs(v) < FAR && Math.abs(du) < FAR && Math.abs(dv) < FAR))
          [u, v, du, dv] = [-1e4, -1e4, 0, 0];
        const end = Math.min(at + 2 * GRID, 2 * (row + 1) * width);
        for (; at < end; at += 2) {
          map[at] = u;
          map[at + 1] = v;
          u += du;
          v += dv;
        }
      }
    }
    upper = lower;
  }
}

/** Spots each way at which it is asked what a photo shows. */
const SPOTS = 24;

/** The part of the face that a photo shows at no less than a quarter of the detail in its middle. */
export function visible(view: Measure, width: number, height: number): Bounds {
  const grain = (u: number, v: number): { at: Point<'face'>; size: number } | null => {
    const [p, q, r] = [view.place([u, v]), view.place([u + 1, v]), view.place([u, v + 1])];
    if (!p || !q || !r) return null;
    return { at: p, size: Math.max(Math.hypot(p[0] - q[0], p[1] - q[1]), Math.hypot(p[0] - r[0], p[1] - r[1])) };
  };
  const middle = grain((width - 1) / 2, (height - 1) / 2);
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i <= SPOTS; i++) {
    for (let j = 0; j <= SPOTS; j++) {
      const seen = grain(-0.5 + (width * i) / SPOTS, -0.5 + (height * j) / SPOTS);
      if (!seen || !middle || seen.size > 4 * middle.size) continue;
      [minX, minY] = [Math.min(minX, seen.at[0]), Math.min(minY, seen.at[1])];
      [maxX, maxY] = [Math.max(maxX, seen.at[0]), Math.max(maxY, seen.at[1])];
    }
  }
  if (maxX > minX) return { minX, minY, maxX, maxY };
  throw new InputProblem(
    'This photo looks along the slab rather than down on it.',
    '',
    'Take the photo from higher up, more nearly square to the face.',
  );
}
