import type { Point } from '../geometry';
import { backward, cholesky, forward } from './matrix';
import { Memo } from './memo';
import type { Reading } from './reading';

/**
 * Both faces as one Gaussian process (Rasmussen and Williams 2006, chapter 2): the top's height h is a warp (level, tilt, bow, cup,
 * twist) with wide priors plus a smooth rest, and the thickness t a wedge plus a smaller rest; the bottom is h - t. So a
 * reading of one face says much about the other, and what no reading tells stays wide.
 */

type At = Point<'face'>;

/** A place on one of the faces. */
export interface Place {
  readonly at: At;
  readonly face: 'top' | 'bottom';
}

/** Frame in which the warp terms are of order one. */
interface Extent {
  readonly x: number;
  readonly y: number;
  readonly halfLength: number;
  readonly halfWidth: number;
}

/** What the readings choose: how far the rests stray (mm, one standard deviation), and over what length they bend (mm). */
interface Rest {
  readonly height: number;
  readonly thickness: number;
  readonly length: number;
}

/** One standard deviation, before any reading, of the warp's terms at ends, edges and corners, mm: slabs of 9, 4 and 3 are common (practice, no source). */
const PRIOR = { level: 60, tilt: 40, bow: 8, cup: 4, twist: 6, thickness: 10, wedge: 3 };
/** Over what share of half the length a thickness bends: a saw wanders slowly. */
const THICKNESS_BENDS = 0.4;
/** Relief that no reading follows, one standard deviation, mm: the saw's ripple, knots, torn grain (ours, settled on invented slabs; no source). */
const ROUGH = 0.3;
/** Roughness of a sawn face that no reading follows, mm. */
const SAWN = 0.1;

/** What a slab's rests usually are, mm, and the share of half its length over which they bend (practice, no source). */
const USUAL = { height: 1, thickness: 0.3, bends: 0.25 };
/** One standard deviation of their logarithms: half to twice the usual is common. */
const SPREAD = Math.LN2;

/** Logarithm of how much a slab with such rests is to be expected before it is read: with few readings this decides. */
function expectation(rest: Rest, { halfLength }: Extent): number {
  const ratios = [
    rest.height / USUAL.height,
    rest.thickness / USUAL.thickness,
    rest.length / (USUAL.bends * halfLength),
  ];
  return -ratios.reduce((sum, ratio) => sum + (Math.log(ratio) / SPREAD) ** 2, 0) / 2;
}

export class Process {
  readonly #places: readonly Place[];
  readonly #extent: Extent;
  readonly #mean: { readonly top: number; readonly bottom: number };
  readonly #rest: Rest;
  readonly #lower: Float64Array;
  readonly #weights: Float64Array;
  readonly #memo: Memo;
  /** Everything that covariances follow from. */
  readonly #name: string;

  private constructor(
    fit: Fit,
    extent: Extent,
    mean: { top: number; bottom: number },
    places: readonly Place[],
    memo: Memo,
    name: string,
  ) {
    this.#memo = memo;
    this.#name = name;
    this.#places = places;
    this.#extent = extent;
    this.#mean = mean;
    this.#rest = fit.rest;
    this.#lower = fit.lower;
    this.#weights = fit.weights;
  }

  /** The process that makes the readings most likely, of a few amplitudes and lengths that slabs show. */
  static of(top: readonly Reading[], bottom: readonly Reading[], memo: Memo): Process {
    const readings = [...top, ...bottom];
    const places: Place[] = readings.map(({ at }, i) => ({ at, face: i < top.length ? 'top' : 'bottom' }));
    const mean = { top: average(top), bottom: average(bottom) };
    const off = Float64Array.from(readings, ({ z }, i) => z - (i < top.length ? mean.top : mean.bottom));
    const noise = Float64Array.from(readings, ({ sigma }) => sigma ** 2 + SAWN ** 2);
    const extent = extentOf(readings.map(({ at }) => at));

    // For many readings the choice is made on every k-th: it needs their statistics, not all of them.
    const some = [...places.keys()].filter((i) => i % Math.ceil(places.length / 150) === 0);
    const thin = <T>(list: readonly T[]): T[] => some.map((i) => list[i] as T);
    const [off2, noise2] = [Float64Array.from(thin([...off])), Float64Array.from(thin([...noise]))];
    const name = JSON.stringify([top.length, readings.map(({ at, sigma }) => [...at, sigma])]);
    const [few, called] = [thin(places), `${name} thin`];
    const likely = (rest: Rest): number =>
      fitted(few, extent, rest, off2, noise2, memo, called).likelihood + expectation(rest, extent);
    let best: Rest = { height: USUAL.height, thickness: USUAL.thickness, length: USUAL.bends * extent.halfLength };
    const choose = (candidates: Rest[]): void => {
      best = candidates.reduce((a, b) => (likely(b) > likely(a) ? b : a), best);
    };
    const lengths = [0.15, 0.25, 0.4].map((share) => share * extent.halfLength);
    choose([0.25, 0.5, 1, 2, 4].flatMap((height) => lengths.map((length) => ({ ...best, height, length }))));
    choose([0.05, 0.1, 0.6, 1.2].map((thickness) => ({ ...best, thickness })));
    return new Process(fitted(places, extent, best, off, noise, memo, name), extent, mean, places, memo, name);
  }

  /** The process of a slab with the usual rests: a wrong reading among few cannot make it believe in rough wood. */
  static usual(top: readonly Reading[], bottom: readonly Reading[]): Process {
    const readings = [...top, ...bottom];
    const places: Place[] = readings.map(({ at }, i) => ({ at, face: i < top.length ? 'top' : 'bottom' }));
    const mean = { top: average(top), bottom: average(bottom) };
    const off = Float64Array.from(readings, ({ z }, i) => z - (i < top.length ? mean.top : mean.bottom));
    const noise = Float64Array.from(readings, ({ sigma }) => sigma ** 2 + SAWN ** 2);
    const extent = extentOf(readings.map(({ at }) => at));
    const rest = { height: USUAL.height, thickness: USUAL.thickness, length: USUAL.bends * extent.halfLength };
    const memo = new Memo();
    return new Process(fitted(places, extent, rest, off, noise, memo, ''), extent, mean, places, memo, '');
  }

  /** Length over which the rest bends, mm. */
  get length(): number {
    return this.#rest.length;
  }

  /** Expected height, mm. */
  height(place: Place): number {
    let sum = this.#mean[place.face];
    this.#places.forEach((reading, i) => {
      sum += (this.#weights[i] as number) * covariance(place, reading, this.#extent, this.#rest);
    });
    return sum;
  }

  /** Expected heights, mm, at many places. */
  heights(places: readonly Place[]): Float64Array {
    const n = this.#places.length;
    const towards = this.#memo.get(this.#called('towards', places), () => this.#covariances(places));
    return Float64Array.from(places, ({ face }, i) => {
      let sum = this.#mean[face];
      for (let k = 0; k < n; k++) sum += (towards[i * n + k] as number) * (this.#weights[k] as number);
      return sum;
    });
  }

  /** One standard deviation of the height, mm. */
  sigma(place: Place): number {
    const towards = forward(this.#lower, this.#places.length, this.#towards(place));
    const known = towards.reduce((sum, u) => sum + u * u, 0);
    return Math.sqrt(Math.max(0, covariance(place, place, this.#extent, this.#rest) - known) + ROUGH ** 2);
  }

  /**
   * Heights at the places as they might really be, each draw as likely as any other given the readings.
   * @param normal numbers from the normal distribution of mean 0 and standard deviation 1, beginning anew at each call
   */
  draws(places: readonly Place[], count: number, normal: () => number): Float64Array[] {
    const strays = this.#memo.get(this.#called(`${count} draws`, places), () => this.#strays(places, count, normal));
    const means = this.heights(places);
    return strays.map((stray) => stray.map((off, i) => off + (means[i] as number)));
  }

  /** How far draws stray from the expected heights: that does not follow from what was read. */
  #strays(places: readonly Place[], count: number, normal: () => number): Float64Array[] {
    const n = this.#places.length;
    const m = places.length;
    const towards = places.map((place) => forward(this.#lower, n, this.#towards(place)));
    const spread = new Float64Array(m * m);
    for (let i = 0; i < m; i++) {
      const ti = towards[i] as Float64Array;
      for (let j = 0; j <= i; j++) {
        const tj = towards[j] as Float64Array;
        let left = covariance(places[i] as Place, places[j] as Place, this.#extent, this.#rest);
        for (let k = 0; k < n; k++) left -= (ti[k] as number) * (tj[k] as number);
        spread[i * m + j] = i === j ? left + ROUGH ** 2 : left;
      }
    }
    const lower = cholesky(spread, m);
    return Array.from({ length: count }, () => {
      const chance = Float64Array.from({ length: m }, normal);
      return Float64Array.from({ length: m }, (_, i) => {
        let off = 0;
        for (let k = 0; k <= i; k++) off += (lower[i * m + k] as number) * (chance[k] as number);
        return off;
      });
    });
  }

  /** Covariances of places with the readings, place by place. */
  #covariances(places: readonly Place[]): Float64Array {
    const n = this.#places.length;
    const all = new Float64Array(places.length * n);
    places.forEach((place, i) => {
      all.set(this.#towards(place), i * n);
    });
    return all;
  }

  #called(what: string, places: readonly Place[]): string {
    return `${this.#name} ${JSON.stringify(this.#rest)} ${what} ${JSON.stringify(places)}`;
  }

  #towards(place: Place): Float64Array {
    return Float64Array.from(this.#places, (reading) => covariance(place, reading, this.#extent, this.#rest));
  }
}

interface Fit {
  readonly rest: Rest;
  readonly lower: Float64Array;
  readonly weights: Float64Array;
  /** Logarithm of the likelihood, a constant left out. */
  readonly likelihood: number;
}

/** @param name of everything that the covariances follow from besides the rest */
function fitted(
  places: readonly Place[],
  extent: Extent,
  rest: Rest,
  off: Float64Array,
  noise: Float64Array,
  memo: Memo,
  name: string,
): Fit {
  const n = places.length;
  const lower = memo.get(`${name} ${JSON.stringify(rest)} lower`, () => {
    const matrix = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) matrix[i * n + j] = covariance(places[i] as Place, places[j] as Place, extent, rest);
      matrix[i * n + i] = (matrix[i * n + i] as number) + (noise[i] as number);
    }
    return cholesky(matrix, n);
  });
  const half = forward(lower, n, off);
  let likelihood = 0;
  for (let i = 0; i < n; i++) likelihood -= (half[i] as number) ** 2 / 2 + Math.log(lower[i * n + i] as number);
  return { rest, lower, weights: backward(lower, n, half), likelihood };
}

/** Covariance of two heights, mm2. */
function covariance(p: Place, q: Place, extent: Extent, rest: Rest): number {
  const [u1, v1] = [(p.at[0] - extent.x) / extent.halfLength, (p.at[1] - extent.y) / extent.halfWidth];
  const [u2, v2] = [(q.at[0] - extent.x) / extent.halfLength, (q.at[1] - extent.y) / extent.halfWidth];
  const [uu, vv] = [u1 * u2, v1 * v2];
  const apart = Math.hypot(p.at[0] - q.at[0], p.at[1] - q.at[1]);
  const alike = matern(apart / rest.length);
  const plane = PRIOR.level ** 2 + PRIOR.tilt ** 2 * (uu + vv);
  const height =
    plane + PRIOR.bow ** 2 * uu * uu + PRIOR.cup ** 2 * vv * vv + PRIOR.twist ** 2 * uu * vv + rest.height ** 2 * alike;
  if (p.face === 'top' || q.face === 'top') return height;
  return (
    height +
    PRIOR.thickness ** 2 +
    PRIOR.wedge ** 2 * (uu + vv) +
    rest.thickness ** 2 * matern(apart / (THICKNESS_BENDS * extent.halfLength))
  );
}

/** Matern's correlation of order 5/2 (Rasmussen and Williams 2006, 4.17): smooth, yet not stiffer than wood. */
function matern(r: number): number {
  const s = Math.sqrt(5) * r;
  return (1 + s + (s * s) / 3) * Math.exp(-s);
}

const average = (readings: readonly Reading[]): number =>
  readings.length === 0 ? 0 : readings.reduce((sum, { z }) => sum + z, 0) / readings.length;

function extentOf(at: readonly At[]): Extent {
  const [xs, ys] = [at.map(([x]) => x), at.map(([, y]) => y)];
  const middle = (us: number[]): number => (Math.min(...us) + Math.max(...us)) / 2;
  const half = (us: number[]): number => Math.max((Math.max(...us) - Math.min(...us)) / 2, 1);
  return { x: middle(xs), y: middle(ys), halfLength: half(xs), halfWidth: half(ys) };
}
