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
}

/** A picture larger than this is not made: it would not fit into the memory of a telephone's browser. */
const MOST_PIXELS = 60e6;
/** Rows warped at a time, so that the maps stay small. */
const BAND = 128;
/** Every how many pixels a place is projected exactly; between them a bilinear map errs by less than 0.02 px. */
const GRID = 16;

/**
 * The face as seen square from above: lens, slant and, where the calibration carries readings, the wood's relief taken out. Channels are
 * the photo's; outside the photo all of them are 0.
 * @throws InputProblem when the photo is not the one that was calibrated, or the picture would be too large
 */
export function rectify(cv: Cv, photo: Raster, calibration: Calibration, options: RectifyOptions): FacePicture {
  if (photo.width !== calibration.width || photo.height !== calibration.height) {
    throw new InputProblem(
      `The photo has ${photo.width} x ${photo.height} pixels, but was calibrated at ${calibration.width} x ${calibration.height}.`,
      '',
      'Use the photo as it was calibrated, or calibrate it again.',
    );
  }
  const { mmPerPx } = options;
  const view = measure(calibration);
  const { minX, minY, maxX, maxY } = options.bounds ?? visible(view, photo.width, photo.height);
  const width = Math.max(1, Math.ceil((maxX - minX) / mmPerPx - 1e-9));
  const height = Math.max(1, Math.ceil((maxY - minY) / mmPerPx - 1e-9));
  if (!(width * height <= MOST_PIXELS)) {
    throw new InputProblem(
      `At ${mmPerPx} mm per pixel the picture would have ${width} x ${height} pixels.`,
      '',
      'Choose a coarser resolution.',
    );
  }
  const place = (column: number, row: number): Point<'photo'> =>
    view.toPhoto([minX + (column + 0.5) * mmPerPx, minY + (row + 0.5) * mmPerPx]);
  const data = new Uint8ClampedArray(width * height * photo.channels);
  scope(cv, (own) => {
    const source = own(toMat(cv, photo));
    soften(cv, source, detail(place, width, height));
    const band = own(new cv.Mat());
    for (let top = 0; top < height; top += BAND) {
      const rows = Math.min(BAND, height - top);
      scope(cv, (ownInBand) => {
        const mapU = ownInBand(new cv.Mat(rows, width, cv.CV_32FC1));
        const mapV = ownInBand(new cv.Mat(rows, width, cv.CV_32FC1));
        fillMaps(place, top, rows, width, mapU.data32F, mapV.data32F);
        cv.remap(source, band, mapU, mapV, cv.INTER_LINEAR, cv.BORDER_CONSTANT, new cv.Scalar(0, 0, 0, 0));
      });
      data.set(band.data, top * width * photo.channels);
    }
  });
  return { raster: { width, height, channels: photo.channels, data }, mmPerPx, x0: minX, y0: minY };
}

/** Photo pixels per pixel of the picture, in its middle. */
function detail(place: (column: number, row: number) => Point<'photo'>, width: number, height: number): number {
  const [a, b, c] = [place(width / 2, height / 2), place(width / 2 + 1, height / 2), place(width / 2, height / 2 + 1)];
  return Math.max(Math.hypot(a[0] - b[0], a[1] - b[1]), Math.hypot(a[0] - c[0], a[1] - c[1]));
}

/** Takes out the detail that the picture is too coarse to show, so that it does not return as false pattern. */
function soften(cv: Cv, source: InstanceType<Cv['Mat']>, step: number): void {
  if (!(step > 1.3)) return;
  const sigma = 0.5 * Math.sqrt(step * step - 1);
  cv.GaussianBlur(source, source, new cv.Size(0, 0), sigma, sigma, cv.BORDER_REPLICATE);
}

/** Where in the photo each pixel of a band is found: exact every GRID pixels, bilinear between. */
function fillMaps(
  place: (column: number, row: number) => Point<'photo'>,
  top: number,
  rows: number,
  width: number,
  mapU: Float32Array,
  mapV: Float32Array,
): void {
  const across = Math.ceil(width / GRID) + 1;
  const line = (row: number): Point<'photo'>[] => Array.from({ length: across }, (_, k) => place(k * GRID, row));
  let upper = line(top);
  for (let r0 = 0; r0 < rows; r0 += GRID) {
    const lower = line(top + r0 + GRID);
    for (let row = r0; row < Math.min(rows, r0 + GRID); row++) {
      const t = (row - r0) / GRID;
      for (let column = 0; column < width; column++) {
        const k = Math.floor(column / GRID);
        const s = column / GRID - k;
        const [a, b] = [upper[k] as Point<'photo'>, upper[k + 1] as Point<'photo'>];
        const [c, d] = [lower[k] as Point<'photo'>, lower[k + 1] as Point<'photo'>];
        const u = (a[0] * (1 - s) + b[0] * s) * (1 - t) + (c[0] * (1 - s) + d[0] * s) * t;
        const v = (a[1] * (1 - s) + b[1] * s) * (1 - t) + (c[1] * (1 - s) + d[1] * s) * t;
        // Far outside stands for not seen: it is neither NaN nor beyond the whole numbers that remap reckons in.
        mapU[row * width + column] = Math.abs(u) < 3e4 ? u : -1e4;
        mapV[row * width + column] = Math.abs(v) < 3e4 ? v : -1e4;
      }
    }
    upper = lower;
  }
}

/** The part of the face that a photo shows at no less than a quarter of the detail in its middle. */
export function visible(view: Measure, width: number, height: number): Bounds {
  const grain = (u: number, v: number): { at: Point<'face'>; size: number } | null => {
    const [p, q, r] = [view.place([u, v]), view.place([u + 1, v]), view.place([u, v + 1])];
    if (!p || !q || !r) return null;
    return { at: p, size: Math.max(Math.hypot(p[0] - q[0], p[1] - q[1]), Math.hypot(p[0] - r[0], p[1] - r[1])) };
  };
  const middle = grain((width - 1) / 2, (height - 1) / 2);
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i <= 40; i++) {
    for (let j = 0; j <= 40; j++) {
      const seen = grain(-0.5 + (width * i) / 40, -0.5 + (height * j) / 40);
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
