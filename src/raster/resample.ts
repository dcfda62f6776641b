import { InputProblem } from '../units';
import type { FacePicture, Raster } from './raster';

/**
 * The same picture at another resolution, its first corner where it was. Coarser pixels are area averages of those they
 * cover (so no detail aliases into false grain), finer ones are interpolated between centres.
 * @param mmPerPx new pixel size, mm
 * @throws InputProblem when it is not above 0
 */
export function resample(picture: FacePicture, mmPerPx: number): FacePicture {
  if (!(mmPerPx > 0)) {
    throw new InputProblem(`A picture cannot have ${mmPerPx} mm per pixel.`, '/mmPerPx', 'Give a size above 0.');
  }
  const ratio = mmPerPx / picture.mmPerPx;
  if (Math.abs(ratio - 1) < 1e-9) return picture;
  const { raster } = picture;
  const width = Math.max(1, Math.round(raster.width / ratio));
  const height = Math.max(1, Math.round(raster.height / ratio));
  const taps = ratio > 1 ? averagingTaps : linearTaps;
  const across = taps(width, raster.width, ratio);
  const down = taps(height, raster.height, ratio);
  return { ...picture, mmPerPx, raster: applyTaps(raster, across, down, width, height) };
}

/** For each new pixel along one axis: the first old pixel that it reads and the weights from there on. */
interface Taps {
  readonly first: Int32Array;
  readonly weights: readonly Float32Array[];
}

/** Shares of the old pixels that a new one covers. */
function averagingTaps(count: number, old: number, ratio: number): Taps {
  const first = new Int32Array(count);
  const weights: Float32Array[] = [];
  for (let i = 0; i < count; i++) {
    const from = Math.min(i * ratio, old - 1e-6);
    const to = Math.min((i + 1) * ratio, old);
    const begin = Math.floor(from);
    const end = Math.min(old, Math.max(begin + 1, Math.ceil(to - 1e-9)));
    const w = new Float32Array(end - begin);
    let sum = 0;
    for (let k = begin; k < end; k++) {
      w[k - begin] = Math.max(0, Math.min(k + 1, to) - Math.max(k, from));
      sum += w[k - begin] as number;
    }
    first[i] = begin;
    weights.push(sum > 0 ? w.map((x) => x / sum) : w.fill(1 / w.length));
  }
  return { first, weights };
}

/** Two neighbours weighted by nearness of their centres; beyond the edge, the edge pixel. */
function linearTaps(count: number, old: number, ratio: number): Taps {
  const first = new Int32Array(count);
  const weights: Float32Array[] = [];
  for (let i = 0; i < count; i++) {
    const at = Math.min(Math.max((i + 0.5) * ratio - 0.5, 0), old - 1);
    const begin = Math.min(Math.floor(at), Math.max(0, old - 2));
    first[i] = begin;
    weights.push(old > 1 ? Float32Array.of(1 - (at - begin), at - begin) : Float32Array.of(1));
  }
  return { first, weights };
}

function applyTaps(raster: Raster, across: Taps, down: Taps, width: number, height: number): Raster {
  const { channels } = raster;
  const n = width * channels;
  const out = new Uint8ClampedArray(n * height);
  // Rows squeezed sideways are kept while they are still read by the next output row.
  const squeezed = new Map<number, Float32Array>();
  const sum = new Float32Array(n);
  for (let r = 0; r < height; r++) {
    const begin = down.first[r] as number;
    const w = down.weights[r] as Float32Array;
    for (const row of squeezed.keys()) if (row < begin) squeezed.delete(row);
    sum.fill(0);
    for (let k = 0; k < w.length; k++) {
      let row = squeezed.get(begin + k);
      if (!row) {
        row = squeezeRow(raster, begin + k, across, width);
        squeezed.set(begin + k, row);
      }
      const wk = w[k] as number;
      for (let i = 0; i < n; i++) sum[i] = (sum[i] as number) + wk * (row[i] as number);
    }
    out.set(sum, r * n);
  }
  return { width, height, channels, data: out };
}

function squeezeRow(
  { width: old, channels, data }: Raster,
  r: number,
  { first, weights }: Taps,
  width: number,
): Float32Array {
  const row = new Float32Array(width * channels);
  for (let c = 0; c < width; c++) {
    const w = weights[c] as Float32Array;
    const at = (r * old + (first[c] as number)) * channels;
    for (let k = 0; k < channels; k++) {
      let s = 0;
      for (let j = 0; j < w.length; j++) s += (w[j] as number) * (data[at + j * channels + k] as number);
      row[c * channels + k] = s;
    }
  }
  return row;
}
