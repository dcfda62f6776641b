import { bounds, type Polygon } from '../geometry';
import { type FacePicture, lightness, resample } from '../raster';

/** The figure is looked at so coarsely, mm. */
const STEP = 2;
/** At least so much of a leaf lies on the narrower side of a middle, as a share of its width: a mirror near the edge says nothing. */
const LEAST = 0.25;
/** Sides less alike than this have no middle. */
const ALIKE = 0.15;

/**
 * Where the figure of a leaf has its middle, mm across it in its own frame: the line about which its rings mirror each other best (the crown of a
 * cathedral, or the quarter figure's pith line). Each short stretch along the grain is mirrored by itself, since cathedrals narrow along the leaf.
 * Null where no line is a mirror.
 */
export function figureAxis(picture: FacePicture, outline: Polygon<'face'>): number | null {
  const small = picture.mmPerPx < STEP ? resample(picture, STEP) : picture;
  const { width, height, data } = lightness(small.raster);
  const box = bounds(outline);
  const row = (y: number) => Math.round((y - small.y0) / small.mmPerPx - 0.5);
  const [first, last] = [Math.max(0, row(box.minY) + 2), Math.min(height - 1, row(box.maxY) - 2)];
  const rows = last - first + 1;
  if (rows < 12) return null;
  // Means over 30 mm along the grain keep the rings and lose the pores.
  const run = Math.max(1, Math.round(30 / small.mmPerPx));
  const columns = Math.floor(width / run);
  const rings = new Float32Array(columns * rows);
  for (let c = 0; c < columns; c++) {
    for (let r = 0; r < rows; r++) {
      let sum = 0;
      for (let k = 0; k < run; k++) sum += data[(first + r) * width + c * run + k] as number;
      rings[c * rows + r] = sum / run;
    }
  }
  highPass(rings, columns, rows, Math.round(20 / small.mmPerPx));
  let [best, at] = [ALIKE, -1];
  const half = Math.ceil(rows * LEAST);
  // Twice the axis, so that it may fall between two rows.
  for (let twice = 2 * half; twice <= 2 * (rows - 1 - half); twice++) {
    const alike = mirrored(rings, columns, rows, twice);
    if (alike > best) [best, at] = [alike, twice / 2];
  }
  return at < 0 ? null : small.y0 + (first + at + 0.5) * small.mmPerPx;
}

/** Takes the slow change across out of each column. */
function highPass(rings: Float32Array, columns: number, rows: number, reach: number): void {
  for (let c = 0; c < columns; c++) {
    const column = rings.slice(c * rows, (c + 1) * rows);
    for (let r = 0; r < rows; r++) {
      const [from, to] = [Math.max(0, r - reach), Math.min(rows, r + reach + 1)];
      let sum = 0;
      for (let i = from; i < to; i++) sum += column[i] as number;
      rings[c * rows + r] = (column[r] as number) - sum / (to - from);
    }
  }
}

/** Correlation of the two sides of a line, -1..1. NaN (no wood) counts for nothing. */
function mirrored(rings: Float32Array, columns: number, rows: number, twice: number): number {
  let [both, one, other] = [0, 0, 0];
  for (let c = 0; c < columns; c++) {
    for (let r = Math.max(0, twice - rows + 1); 2 * r < twice; r++) {
      const [p, q] = [rings[c * rows + r] as number, rings[c * rows + twice - r] as number];
      if (!Number.isFinite(p * q)) continue;
      both += p * q;
      one += p * p;
      other += q * q;
    }
  }
  return one > 0 && other > 0 ? both / Math.sqrt(one * other) : 0;
}
