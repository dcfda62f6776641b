import { centroid, distanceToSegment, type Polygon, simplify } from '../geometry';
import { type Cv, scope } from './cv';
import type { Darkness } from './dark';
import type { ProposedDefect } from './trace-types';

type Crack = Extract<ProposedDefect, { kind: 'crack' }>;
type Blob = Exclude<ProposedDefect, { kind: 'crack' }>;

/** Lightness below the wood around it from which a patch is a defect: at least so, and so many times the figure. */
const DARK = { least: 9, figure: 4 };
/** Cracks are narrower than this and are opened away, mm. */
const OPENING = 3.5;
/** The whole of a defect is so many times darker than where its edge is drawn; a change of colour is not. */
const WHOLE = 1.4;
/** Smaller ones (pin knots) do not matter, mm2. */
const LEAST = 90;
/** A knot is at most so many times as long as wide. */
const KNOT_LONG = 2.3;
/** A hole is darker than any wood (CIELAB lightness). */
const HOLE = 14;

/** Knots, voids and bark inclusions as dark patches. What lies along a crack is the crack where it gapes. */
export function findBlobs(cv: Cv, dark: Darkness, cracks: readonly Crack[]): Blob[] {
  const { below, figure, width, height, mmPerPx, x0, y0 } = dark;
  const level = Math.max(DARK.least, DARK.figure * figure);
  return scope(cv, (own) => {
    const mask = own(new cv.Mat(height, width, cv.CV_8UC1));
    mask.data.set(Uint8Array.from(below, (v) => (v > level ? 255 : 0)));
    const size = 2 * Math.round(OPENING / mmPerPx) + 1;
    const disc = own(cv.getStructuringElement(cv.MORPH_ELLIPSE, new cv.Size(size, size)));
    cv.morphologyEx(mask, mask, cv.MORPH_OPEN, disc);
    const contours = own(new cv.MatVector());
    cv.findContours(mask, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
    const blobs: Blob[] = [];
    for (let i = 0; i < contours.size(); i++) {
      const contour = own(contours.get(i));
      const area = cv.contourArea(contour) * mmPerPx ** 2;
      if (area < LEAST) continue;
      const { size: box } = cv.minAreaRect(contour);
      const [long, short] = [Math.max(box.width, box.height), Math.max(1, Math.min(box.width, box.height))];
      const points = contour.data32S;
      const ring: Polygon<'face'> = Array.from({ length: points.length / 2 }, (_, k) => [
        x0 + ((points[2 * k] as number) + 0.5) * mmPerPx,
        y0 + ((points[2 * k + 1] as number) + 0.5) * mmPerPx,
      ]);
      const polygon = simplify(ring, 0.7);
      if (polygon.length < 3) continue;
      if (cracks.some(({ line }) => gapes(line, polygon))) continue;
      const inside = pixelsInside(dark, contour, cv);
      if (median(below, inside) < WHOLE * level) continue;
      const lightest = median(dark.lightness, inside);
      const kind = long / short <= KNOT_LONG ? 'knot' : lightest < HOLE ? 'void' : 'bark inclusion';
      const solid = area / (long * short * mmPerPx ** 2);
      blobs.push({ kind, polygon, confidence: Math.min(0.95, Math.max(0.1, solid)) });
    }
    return blobs;
  });
}

/** Whether a crack runs through a patch and the patch is hardly wider than the crack. */
function gapes(line: Crack['line'], polygon: Polygon<'face'>): boolean {
  const middle = centroid(polygon);
  return line.slice(1).some((q, i) => {
    const p = line[i] as Crack['line'][number];
    const off = distanceToSegment(middle, [
      [p[0], p[1]],
      [q[0], q[1]],
    ]);
    return off < Math.max(4, p[2]);
  });
}

/** The pixels in a contour. */
function pixelsInside({ width, height }: Darkness, contour: InstanceType<Cv['Mat']>, cv: Cv): number[] {
  return scope(cv, (own) => {
    const { x, y, width: wide, height: high } = cv.boundingRect(contour);
    const mask = own(new cv.Mat(height, width, cv.CV_8UC1, new cv.Scalar(0)));
    const one = own(new cv.MatVector());
    one.push_back(contour);
    cv.drawContours(mask, one, 0, new cv.Scalar(255), cv.FILLED);
    // Each `data` makes a new view of the heap: take it once.
    const { data } = mask;
    const pixels: number[] = [];
    for (let r = y; r < y + high; r++)
      for (let c = x; c < x + wide; c++) if (data[r * width + c]) pixels.push(r * width + c);
    return pixels;
  });
}

function median(values: Float32Array, at: readonly number[]): number {
  const sorted = at.map((i) => values[i] as number).sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}
