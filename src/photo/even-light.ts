import { type FacePicture, rasterOf } from '../raster';
import { seenMask } from './pictures';

/** Pixels taken for the fit: every so many. */
const EVERY = 17;
const ROUNDS = 8;
/** What the light is evened by at most, natural log: more than this is no falling off of light but two floors. */
const MOST = 0.7;
/** Half the spread of brightness on one floor, natural log: what differs more counts ever less. */
const SPREAD = 0.15;

/**
 * The picture as if the light were the same all over: its falling off from one side to the other, as a window or lamp makes it, is read from
 * the most of the picture (a plane through the log of brightness by least absolute deviations) and divided out. Only for telling wood from
 * floor by colour: nothing is measured by it.
 */
export function evenLight(picture: FacePicture): FacePicture {
  const { width, height, channels, data } = picture.raster;
  const seen = seenMask(picture);
  const spots: { x: number; y: number; log: number }[] = [];
  for (let i = 0; i < seen.length; i += EVERY) {
    if (!seen[i]) continue;
    let sum = 0;
    for (let k = 0; k < 3; k++) sum += data[i * channels + (channels === 1 ? 0 : k)] as number;
    spots.push({ x: (i % width) / width - 0.5, y: Math.floor(i / width) / height - 0.5, log: Math.log(sum + 8) });
  }
  const [sx, sy] = planeOf(spots);
  const out = new Uint8ClampedArray(data);
  for (let i = 0; i < seen.length; i++) {
    const fall = sx * ((i % width) / width - 0.5) + sy * (Math.floor(i / width) / height - 0.5);
    const gain = Math.exp(-Math.max(-MOST, Math.min(MOST, fall)));
    for (let k = 0; k < Math.min(3, channels); k++) out[i * channels + k] = (data[i * channels + k] as number) * gain;
  }
  return { ...picture, raster: rasterOf(width, height, channels, out) };
}

/** Slopes of the plane through (x, y, log) that the most of the spots lie on: least squares, weighted anew by how far each is off. */
function planeOf(spots: readonly { x: number; y: number; log: number }[]): [number, number] {
  let [at, sx, sy] = [0, 0, 0];
  for (let round = 0; round < ROUNDS; round++) {
    let [w1, wx, wy, wz, xx, xy, yy, xz, yz] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
    for (const { x, y, log } of spots) {
      const w = round === 0 ? 1 : 1 / Math.max(SPREAD, Math.abs(log - at - sx * x - sy * y));
      w1 += w;
      wx += w * x;
      wy += w * y;
      wz += w * log;
      xx += w * x * x;
      xy += w * x * y;
      yy += w * y * y;
      xz += w * x * log;
      yz += w * y * log;
    }
    if (w1 === 0) return [0, 0];
    const [mx, my, mz] = [wx / w1, wy / w1, wz / w1];
    const [cxx, cxy, cyy] = [xx / w1 - mx * mx, xy / w1 - mx * my, yy / w1 - my * my];
    const [cxz, cyz] = [xz / w1 - mx * mz, yz / w1 - my * mz];
    const det = cxx * cyy - cxy * cxy;
    if (!(det > 1e-9)) return [0, 0];
    [sx, sy] = [(cxz * cyy - cyz * cxy) / det, (cyz * cxx - cxz * cxy) / det];
    at = mz - sx * mx - sy * my;
  }
  return [sx, sy];
}
