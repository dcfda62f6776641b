import { type Affine, bounds, type Frame, type Polygon } from '../geometry';
import { InputProblem } from '../units';
import { coverage, type Grid } from './mask';
import type { FacePicture } from './raster';
import { warp } from './warp';

/** One strip of a finished top, or one leaf of a panel: its face's picture, how it moves to the top, and what of it is left there. */
export interface TopPiece<F extends Frame = 'top'> {
  readonly picture: FacePicture;
  readonly toTop: Affine<'face', F>;
  readonly polygon: Polygon<F>;
}

/**
 * The picture of the finished, seamed top: every strip's own pixels moved into place and cut to its polygon with smooth edges.
 * Where two strips share a pixel of the joint, each counts by the part that it covers, so no gap shows. RGBA, transparent outside;
 * the frame is the top's, x along the front.
 * @param mmPerPx resolution of the picture, mm per pixel
 * @throws InputProblem when there is no piece or no resolution
 */
export function composeTop<F extends Frame>(pieces: readonly TopPiece<F>[], mmPerPx: number): FacePicture {
  if (pieces.length === 0)
    throw new InputProblem('A top without strips has no picture.', '/strips', 'Choose a plan with strips.');
  if (!(mmPerPx > 0))
    throw new InputProblem(`A picture cannot have ${mmPerPx} mm per pixel.`, '/mmPerPx', 'Give a size above 0.');
  const box = bounds(pieces.flatMap(({ polygon }) => polygon));
  const x0 = Math.floor(box.minX / mmPerPx) * mmPerPx;
  const y0 = Math.floor(box.minY / mmPerPx) * mmPerPx;
  const width = Math.max(1, Math.ceil((box.maxX - x0) / mmPerPx));
  const height = Math.max(1, Math.ceil((box.maxY - y0) / mmPerPx));
  const grid: Grid = { width, height, mmPerPx, x0, y0 };
  const sum = new Float32Array(width * height * 4);
  for (const { picture, toTop, polygon } of pieces) {
    const share = coverage(grid, polygon);
    const { data } = warp(picture, toTop, grid);
    for (let i = 0; i < share.length; i++) {
      const weight = ((share[i] as number) * (data[4 * i + 3] as number)) / 255;
      if (weight === 0) continue;
      for (let k = 0; k < 3; k++) sum[4 * i + k] = (sum[4 * i + k] as number) + weight * (data[4 * i + k] as number);
      sum[4 * i + 3] = (sum[4 * i + 3] as number) + weight;
    }
  }
  const out = new Uint8ClampedArray(width * height * 4);
  for (let i = 0; i < sum.length; i += 4) {
    const weight = sum[i + 3] as number;
    if (weight === 0) continue;
    for (let k = 0; k < 3; k++) out[i + k] = (sum[i + k] as number) / weight;
    out[i + 3] = 255 * Math.min(1, weight);
  }
  return { raster: { width, height, channels: 4, data: out }, mmPerPx, x0, y0 };
}
