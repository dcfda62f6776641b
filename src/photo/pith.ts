import type { Point } from '../geometry';
import { blur } from '../raster';
import type { Turned } from './turned';

/** The line about which the rings of a face mirror each other: over or under the pith, where the slab was sawn near it. */
export interface Pith {
  readonly line: readonly Point<'face'>[];
  readonly confidence: number;
}

/** Profiles across the slab are means over stations this long, mm, smoothed to this and against this, mm (sigma). */
const STATION = 30;
const FINE = 1;
const BROAD = 10;
/** Lines stand out by this many times the usual at most: a crack is one line among others. */
const CLIP = 3;
/** Rings are compared from NEAR to FAR from the axis, mm; so much of them must be seen on both sides. */
const NEAR = 3;
const FAR = 110;
const SEEN = 0.6;
/** The axis may move so far from one station to the next, mm, at a cost for each mm. */
const SIDEWAYS = 4;
const BEND = 0.01;
/** The two sides are so alike along the axis in the mean, and so much more than about any line this far off, mm: else it is not told. */
const LIKE = 0.2;
const CLEARER = 0.035;
const APART = 25;
/** Confidence rises with how much clearer it is. */
const RISE = 5;
const LEAST = 0.3;
const SUREST = 0.9;

/**
 * Finds the axis station by station and joins the likeliest places to one line (dynamic programming).
 * @returns null where the rings mirror nowhere, as on a quarter-sawn face
 */
export function findPith(face: Turned): Pith | null {
  const { width, height } = face;
  const stations = Math.floor(width / STATION);
  if (stations < 5 || height < 2 * FAR * SEEN) return null;
  const likeness = Array.from({ length: stations }, (_, s) => mirrored(profileOf(face, s)));
  const { path, mean } = bestPath(likeness, height);
  const elsewhere = likeness.map((like, s) => like.map((v, y) => (Math.abs(y - (path[s] as number)) < APART ? 0 : v)));
  const clearer = mean - bestPath(elsewhere, height).mean;
  if (mean < LIKE || clearer < CLEARER) return null;
  const line = path.map((y, s) => face.toFace((s + 0.5) * STATION, y + 0.5));
  return { line, confidence: Math.min(SUREST, LEAST + RISE * clearer) };
}

/** Mean lightness across the slab at a station, what is broad taken out; NaN where little wood is seen. */
function profileOf({ width, height, wood, lightness }: Turned, station: number): Float32Array {
  const [values, known] = [new Float32Array(height), new Float32Array(height)];
  for (let y = 0; y < height; y++) {
    for (let x = station * STATION; x < (station + 1) * STATION; x++) {
      const i = y * width + x;
      if (!wood[i]) continue;
      values[y] = (values[y] as number) + (lightness[i] as number);
      known[y] = (known[y] as number) + 1;
    }
  }
  const smooth = (sigma: number): Float32Array => {
    const sum = blur({ width: 1, height, data: values }, 0, sigma).data;
    const weight = blur({ width: 1, height, data: known }, 0, sigma).data;
    return sum.map((v, y) => v / Math.max(1e-3, weight[y] as number));
  };
  const [fine, broad] = [smooth(FINE), smooth(BROAD)];
  const high = fine.map((v, y) => ((known[y] as number) > STATION / 3 ? v - (broad[y] as number) : Number.NaN));
  const sizes = high.map(Math.abs).filter((v) => !Number.isNaN(v));
  const most = CLIP * (sizes.sort()[sizes.length >> 1] ?? 0);
  return high.map((v) => Math.max(-most, Math.min(most, v)));
}

/** How alike a profile's two sides are about each place, -1..1; 0 where too little is seen. */
function mirrored(profile: Float32Array): Float32Array {
  const height = profile.length;
  const known = profile.map((v) => (Number.isNaN(v) ? 0 : 1));
  // What is not seen adds nothing, so that nothing need be asked of each pair.
  const seenOnly = profile.map((v) => (Number.isNaN(v) ? 0 : v));
  const likeness = new Float32Array(height);
  for (let y = 0; y < height; y++) {
    let [both, one, other, seen] = [0, 0, 0, 0];
    const far = Math.min(FAR, y, height - 1 - y);
    for (let d = NEAR; d <= far; d++) {
      const [p, q] = [seenOnly[y - d] as number, seenOnly[y + d] as number];
      const [knownP, knownQ] = [known[y - d] as number, known[y + d] as number];
      both += p * q;
      one += p * p * knownQ;
      other += q * q * knownP;
      seen += knownP * knownQ;
    }
    if (seen < SEEN * (FAR - NEAR)) continue;
    // What is seen over a shorter stretch is likelier to be alike by chance.
    likeness[y] = (both * Math.sqrt(seen / (FAR - NEAR))) / Math.max(1e-9, Math.sqrt(one * other));
  }
  return likeness;
}

/** The path through all stations of the greatest sum of likeness, bends taken off. */
function bestPath(likeness: readonly Float32Array[], height: number): { path: number[]; mean: number } {
  let best = Float32Array.from(likeness[0] as Float32Array);
  const from: Int16Array[] = [];
  for (const like of likeness.slice(1)) {
    const [next, back] = [new Float32Array(height), new Int16Array(height)];
    for (let y = 0; y < height; y++) {
      let [most, at] = [Number.NEGATIVE_INFINITY, y];
      for (let k = Math.max(0, y - SIDEWAYS); k <= Math.min(height - 1, y + SIDEWAYS); k++) {
        const value = (best[k] as number) - BEND * Math.abs(k - y);
        if (value > most) [most, at] = [value, k];
      }
      next[y] = most + (like[y] as number);
      back[y] = at;
    }
    from.push(back);
    best = next;
  }
  let y = best.reduce((at, v, k) => (v > (best[at] as number) ? k : at), 0);
  const path = [y];
  for (const back of from.reverse()) {
    y = back[y] as number;
    path.push(y);
  }
  path.reverse();
  const mean = path.reduce((sum, at, s) => sum + (likeness[s]?.[at] ?? 0), 0) / path.length;
  return { path, mean };
}
