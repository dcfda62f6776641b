import { bounds, type Point, type Polygon } from '../geometry';
import { type FacePicture, linearLight, maskOf, srgbByte } from '../raster';
import { crop, gridOf, seenMask } from './pictures';

/**
 * The light over a photo as its white paper tells it: natural log of what would bring paper to PAPER, for each channel, as a plane over the
 * face about (x, y): gain = exp(base + perX (x - at x) + perY (y - at y)).
 */
export interface PaperLight {
  readonly at: Point<'face'>;
  readonly channels: readonly (readonly [base: number, perX: number, perY: number])[];
}

/** Linear light that office paper is brought to, 0..1: below full, so that what is a little lighter than it still tells. */
const PAPER = 0.75;
/** A channel this bright, of 255, may be clipped; paper darker than this is in the dark, and tells noise. */
const CLIPPED = 250;
const DARKEST = 40;
/** A mark tells of the light if no more than this share of its paper may be clipped, and if at least so many pixels show it. */
const MOST_CLIPPED = 0.1;
const LEAST_PIXELS = 60;
/** Between channels, white light differs by less than this, natural log: candle light on one side, blue shade on the other. */
const CAST = 1.2;
/** One standard deviation of the log of a mark's white (its tilt, its print), and of the light's fall over a metre. */
const MARK_SIGMA = 0.04;
const FALL_SIGMA = 0.4;

/**
 * Reads the white of marks or a sheet, printed cards: the lighter half of each is paper.
 * @param picture shows the marks; sRGB as the camera gave it
 * @param cards where they lie on the face, mm
 * @returns null where no paper can be read: then nothing is said of the light
 */
export function paperLight(picture: FacePicture, cards: readonly Polygon<'face'>[]): PaperLight | null {
  const whites = cards.flatMap((card) => whiteOf(picture, card) ?? []);
  if (whites.length === 0) return null;
  const mean = (k: 0 | 1) => whites.reduce((sum, { at }) => sum + at[k], 0) / whites.length;
  const at: Point<'face'> = [mean(0), mean(1)];
  const channels = [0, 1, 2].map((k) =>
    planeThrough(whites.map((white) => [white.at[0] - at[0], white.at[1] - at[1], white.logs[k] as number])),
  );
  const bases = channels.map(([base]) => base);
  return Math.max(...bases) - Math.min(...bases) > CAST ? null : { at, channels };
}

interface White {
  readonly at: Point<'face'>;
  /** Log of the gain that brings each channel to PAPER. */
  readonly logs: readonly number[];
}

function whiteOf(picture: FacePicture, card: Polygon<'face'>): White | null {
  const box = bounds(card);
  const { x0, y0, mmPerPx, raster } = picture;
  const [right, bottom] = [x0 + raster.width * mmPerPx, y0 + raster.height * mmPerPx];
  if (box.maxX <= x0 || box.maxY <= y0 || box.minX >= right || box.minY >= bottom) return null;
  const part = crop(picture, box);
  const { channels, data } = part.raster;
  const seen = seenMask(part);
  const inside = maskOf(gridOf(part), [{ outer: card, holes: [] }]);
  const [second, third] = channels === 1 ? [0, 0] : [1, 2];
  const pixels: [number, number, number][] = [];
  for (let i = 0; i < inside.length; i++) {
    if (!inside[i] || !seen[i]) continue;
    const at = i * channels;
    pixels.push([data[at] as number, data[at + second] as number, data[at + third] as number]);
  }
  if (pixels.length < LEAST_PIXELS) return null;
  // Edges and the print's grey lie below paper, glare above it: the middle of the lighter half is paper.
  const light = pixels.sort((p, q) => p[1] - q[1]).slice(pixels.length >> 1);
  const clipped = light.filter((p) => Math.max(...p) >= CLIPPED).length;
  if (clipped > MOST_CLIPPED * light.length) return null;
  const middle = [0, 1, 2].map((k) => light.map((p) => p[k] as number).sort((p, q) => p - q)[light.length >> 1]);
  if (middle.some((byte = 0) => byte < DARKEST)) return null;
  return {
    at: [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2],
    logs: middle.map((byte) => Math.log(PAPER / linearLight(byte as number))),
  };
}

/** The plane of least squares through (x, y, value), x and y about their mean, held level where few marks tell of a slope. */
function planeThrough(places: readonly (readonly [x: number, y: number, value: number])[]): [number, number, number] {
  const base = places.reduce((sum, [, , value]) => sum + value, 0) / places.length;
  const ridge = (MARK_SIGMA / (FALL_SIGMA / 1000)) ** 2;
  let [xx, xy, yy, xv, yv] = [ridge, 0, ridge, 0, 0];
  for (const [x, y, value] of places) {
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xv += x * (value - base);
    yv += y * (value - base);
  }
  const det = xx * yy - xy * xy;
  return [base, (xv * yy - yv * xy) / det, (yv * xx - xv * xy) / det];
}

/** Gains are taken in steps of this, natural log: a quarter of a level of 255 at most. */
const GAIN_STEP = 0.004;

/** The picture as if in even white light of one strength, so that slabs shot in different light compare. Alpha stays. */
export function relit(picture: FacePicture, { at, channels: planes }: PaperLight): FacePicture {
  const { raster, mmPerPx, x0, y0 } = picture;
  const { width, height, channels } = raster;
  const data = new Uint8ClampedArray(raster.data);
  const colours = Math.min(3, channels);
  for (let k = 0; k < colours; k++) {
    // Grey pictures are lit by the green: it is most of luminance.
    const [base, perX, perY] = planes[channels === 1 ? 1 : k] as readonly [number, number, number];
    const logAt = (c: number, r: number) =>
      base + perX * (x0 + (c + 0.5) * mmPerPx - at[0]) + perY * (y0 + (r + 0.5) * mmPerPx - at[1]);
    const corners = [logAt(0, 0), logAt(width, 0), logAt(0, height), logAt(width, height)];
    const least = Math.min(...corners);
    const lit = litBytes(least, Math.ceil((Math.max(...corners) - least) / GAIN_STEP) + 1);
    const perColumn = (perX * mmPerPx) / GAIN_STEP;
    for (let r = 0; r < height; r++) {
      let step = (logAt(0, r) - least) / GAIN_STEP + 0.5;
      for (let i = r * width * channels + k, end = (r + 1) * width * channels; i < end; i += channels) {
        data[i] = lit[Math.trunc(step) * 256 + (data[i] as number)] as number;
        step += perColumn;
      }
    }
  }
  return { ...picture, raster: { ...raster, data } };
}

/** What each byte becomes by each of so many gains from `least` (natural log): a pixel is looked up instead of reckoned. */
function litBytes(least: number, gains: number): Uint8ClampedArray {
  const lit = new Uint8ClampedArray(256 * gains);
  for (let step = 0; step < gains; step++) {
    const gain = Math.exp(least + step * GAIN_STEP);
    for (let byte = 0; byte < 256; byte++) lit[step * 256 + byte] = srgbByte(gain * linearLight(byte));
  }
  return lit;
}
