import { bounds, contains, type Polygon } from '../geometry';
import type { Faces } from '../surface';
import type { BlankFlattening } from './io';
import { over } from './planes';

/**
 * What stands over the finished planes all over a blank, mm, on a grid for drawing: cell (c, r) has its middle at
 * (x0 + (c + 0.5) step, y0 + (r + 0.5) step). Not a number outside the blank; below 0 where the face lies too low to be cut.
 */
export interface StandingWood {
  readonly step: number;
  readonly x0: number;
  readonly y0: number;
  readonly columns: number;
  readonly rows: number;
  readonly top: Float32Array;
  readonly bottom: Float32Array;
}

/** Cells along a blank: finer than anyone sees on a screen. */
const ALONG = 160;

/** The wood that the passes of a blank take off, place by place. @param polygon of the blank, in the readings' frame */
export function standingWood(faces: Faces, polygon: Polygon<'face'>, blank: BlankFlattening): StandingWood {
  const { minX, minY, maxX, maxY } = bounds(polygon);
  const step = Math.max(maxX - minX, maxY - minY) / ALONG;
  const [columns, rows] = [Math.ceil((maxX - minX) / step), Math.ceil((maxY - minY) / step)];
  const { under, upper } = blank.finish;
  const [top, bottom] = [new Float32Array(columns * rows), new Float32Array(columns * rows)];
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const [x, y] = [minX + (c + 0.5) * step, minY + (r + 0.5) * step];
      const inside = contains(polygon, [x, y]);
      top[r * columns + c] = inside ? over(upper, x, y, faces.top.height([x, y])) : Number.NaN;
      bottom[r * columns + c] = inside ? -over(under, x, y, faces.bottom.height([x, y])) : Number.NaN;
    }
  }
  return { step, x0: minX, y0: minY, columns, rows, top, bottom };
}
