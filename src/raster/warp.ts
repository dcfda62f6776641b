import { type Affine, type Frame, invert } from '../geometry';
import type { Grid } from './mask';
import type { FacePicture, Raster } from './raster';
import { resample } from './resample';
import { sample } from './sample';

/**
 * A picture seen in another frame through an affine map, on the given grid of that frame. Where the grid is coarser than
 * the picture it is averaged down first, so fine grain does not alias. Pixels outside the picture are transparent (RGBA out).
 */
export function warp<A extends Frame, B extends Frame>(picture: FacePicture, map: Affine<A, B>, grid: Grid): Raster {
  const [a, b, c, d] = map.m;
  const scale = Math.sqrt(Math.abs(a * d - b * c));
  const wanted = grid.mmPerPx / scale;
  const source = wanted > picture.mmPerPx ? resample(picture, wanted) : picture;
  const { raster, mmPerPx, x0, y0 } = source;
  const [ia, ib, ic, id, ie, jf] = invert(map).m;
  const out = new Uint8ClampedArray(grid.width * grid.height * 4);
  const one = new Float32Array(4);
  const colour = raster.channels === 1 ? [0, 0, 0] : [0, 1, 2];
  for (let r = 0; r < grid.height; r++) {
    const y = grid.y0 + (r + 0.5) * grid.mmPerPx;
    for (let col = 0; col < grid.width; col++) {
      const x = grid.x0 + (col + 0.5) * grid.mmPerPx;
      const u = (ia * x + ic * y + ie - x0) / mmPerPx - 0.5;
      const v = (ib * x + id * y + jf - y0) / mmPerPx - 0.5;
      if (u < -0.5 || v < -0.5 || u > raster.width - 0.5 || v > raster.height - 0.5) continue;
      sample(raster, u, v, one);
      const at = (r * grid.width + col) * 4;
      for (let k = 0; k < 3; k++) out[at + k] = one[colour[k] as number] as number;
      out[at + 3] = raster.channels === 4 ? (one[3] as number) : 255;
    }
  }
  return { width: grid.width, height: grid.height, channels: 4, data: out };
}
