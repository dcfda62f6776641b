import { cholesky, jacobi, sandwich } from './symmetric';
import { WEIGHTS } from './weights';

/** Directions taken from each question. */
const TELLING = 10;
/** Ridge, as a share of each feature's own variance. */
const RIDGE = 1e-3;

/**
 * How much likelier two sides of a joint are as uncut wood than as sides that do not belong together, learnt from the wood itself. Both are
 * taken as Gaussian: features of two sides that go on from each other vary together, across imaginary kerfs, in one way, those of wrong pairs
 * in another, and the log of the ratio of the two likelihoods is a quadratic in the sides' difference and another in their sum, since a joint
 * is the same seen from behind (Moghaddam, Jebara and Pentland 2000; Köstinger et al. 2012 have the difference alone). That the wood's own
 * imaginary kerfs are the pairs to learn from is ours. Slopes that a joint should carry over come in by themselves: a gradient towards the
 * joint on one side foretells the colour on the other (as in Gallagher 2012).
 */
export interface Metric {
  readonly from: number;
  /** `to` rows of `from` numbers: centred features to the space in which cost is squares. */
  readonly project: Float32Array;
  readonly to: number;
  /** The first so many are compared by their difference; the next by their sum, which costs; the rest by their sum, which earns. */
  readonly differences: number;
  readonly costs: number;
  readonly centre: Float32Array;
}

/** Second moments of pairs about their centre: of each side alone, and of one with the other, symmetric since neither comes first. */
export class Moments {
  readonly own: Float64Array;
  readonly shared: Float64Array;
  count = 0;
  readonly #p: Float64Array;
  readonly #q: Float64Array;
  constructor(readonly centre: Float32Array) {
    const size = centre.length;
    this.own = new Float64Array(size * size);
    this.shared = new Float64Array(size * size);
    this.#p = new Float64Array(size);
    this.#q = new Float64Array(size);
  }

  /** @param atP,atQ where the two sides' features begin in their tables */
  add(tableP: Float32Array, atP: number, tableQ: Float32Array, atQ: number): void {
    const { centre, own, shared } = this;
    const [p, q, size] = [this.#p, this.#q, centre.length];
    for (let i = 0; i < size; i++) {
      p[i] = (tableP[atP + i] as number) - (centre[i] as number);
      q[i] = (tableQ[atQ + i] as number) - (centre[i] as number);
    }
    // By sum and difference, pp + qq and pq + qp are half of ss + dd and ss - dd: one product each, where they would take two.
    for (let i = 0; i < size; i++) {
      const [si, di] = [((p[i] as number) + (q[i] as number)) / 4, ((p[i] as number) - (q[i] as number)) / 4];
      const row = i * size;
      for (let j = 0; j <= i; j++) {
        const ss = si * ((p[j] as number) + (q[j] as number));
        const dd = di * ((p[j] as number) - (q[j] as number));
        own[row + j] = (own[row + j] as number) + ss + dd;
        shared[row + j] = (shared[row + j] as number) + ss - dd;
      }
    }
    this.count++;
  }

  /** Mean squared difference of each feature between the two sides. */
  differences(): Float64Array {
    const n = this.centre.length;
    return Float64Array.from(this.centre, (_, i) => {
      const k = i * n + i;
      return (2 * ((this.own[k] as number) - (this.shared[k] as number))) / Math.max(1, this.count);
    });
  }

  /** Mean of one of the two, both triangles filled, of the first `size` features. */
  mean(of: Float64Array, size: number): Float64Array {
    const m = new Float64Array(size * size);
    for (let i = 0; i < size; i++)
      for (let j = 0; j <= i; j++)
        m[i * size + j] = m[j * size + i] = (of[i * this.centre.length + j] as number) / Math.max(1, this.count);
    return m;
  }
}

/** Moments of uncut pairs, of sides from elsewhere in the flitch, and of sides a few rings beside. */
export interface PairMoments {
  readonly centre: Float32Array;
  readonly uncut: Moments;
  readonly elsewhere: Moments;
  readonly beside: Moments;
}

/**
 * The metric of the first `size` features.
 * @param keep how many directions of what differs, and of what both sides have in common
 */
export function learnMetric(
  pairs: PairMoments,
  size: number,
  keep: readonly [differences: number, commons: number],
): Metric {
  const own = pairs.uncut.mean(pairs.uncut.own, size);
  const questions = [
    { shared: pairs.elsewhere.mean(pairs.elsewhere.shared, size), weight: WEIGHTS.elsewhere },
    { shared: pairs.beside.mean(pairs.beside.shared, size), weight: WEIGHTS.beside },
  ];
  const uncut = pairs.uncut.mean(pairs.uncut.shared, size);
  const spread = (sign: 1 | -1, shared: Float64Array) => {
    const m = own.map((x, i) => x + sign * (shared[i] as number));
    for (let i = 0; i < size; i++)
      m[i * size + i] = (m[i * size + i] as number) + RIDGE * (own[i * size + i] as number) + 1e-6;
    return m;
  };
  const directions = (sign: 1 | -1, keep: number) =>
    quadratic(
      spread(sign, uncut),
      questions.map(({ shared, weight }) => ({ wrong: spread(sign, shared), weight })),
      size,
      sign === 1,
    ).slice(0, keep);
  const differences = directions(-1, keep[0]);
  // What uncut wood has in common more than wrong pairs do earns; the rest costs, and stands first.
  const commons = directions(1, keep[1]).sort((a, b) => (a.weight < b.weight ? 1 : -1));
  const all = [...differences, ...commons];
  const project = new Float32Array(all.length * size);
  all.forEach(({ row, weight }, r) => {
    const scale = Math.sqrt(Math.abs(weight) / 4);
    for (let c = 0; c < size; c++) project[r * size + c] = scale * (row[c] as number);
  });
  return {
    from: size,
    project,
    to: all.length,
    differences: differences.length,
    costs: differences.length + commons.filter(({ weight }) => weight > 0).length,
    centre: pairs.centre.slice(0, size),
  };
}

interface Direction {
  readonly row: Float64Array;
  readonly weight: number;
}

/**
 * The weighted sum over questions of the quadratics 1 / uncut - 1 / wrong, as directions in which uncut wood has variance 1, heaviest first.
 * @param earns whether a direction in which wrong pairs vary less may count against them
 */
function quadratic(
  uncut: Float64Array,
  questions: readonly { readonly wrong: Float64Array; readonly weight: number }[],
  n: number,
  earns: boolean,
): Direction[] {
  const lower = cholesky(uncut, n);
  const whole = new Float64Array(n * n);
  for (const { wrong, weight } of questions) {
    const { values, vectors } = jacobi(sandwich(wrong, lower, n), n);
    const ratio = (i: number) => Math.max(values[i] as number, 1e-3);
    const telling = [...values.keys()]
      .sort((i, j) => Math.abs(Math.log(ratio(j))) - Math.abs(Math.log(ratio(i))))
      .slice(0, TELLING);
    for (const k of telling) {
      const w = weight * (earns ? 1 - 1 / ratio(k) : Math.max(0, 1 - 1 / ratio(k)));
      for (let i = 0; i < n; i++)
        for (let j = 0; j < n; j++)
          whole[i * n + j] =
            (whole[i * n + j] as number) + w * (vectors[i * n + k] as number) * (vectors[j * n + k] as number);
    }
  }
  const { values, vectors } = jacobi(whole, n);
  return [...values.keys()]
    .filter((i) => Math.abs(values[i] as number) > 1e-6)
    .sort((i, j) => Math.abs(values[j] as number) - Math.abs(values[i] as number))
    .map((i) => ({ row: backSolved(lower, vectors, i, n), weight: values[i] as number }));
}

/** v^T L^-1: solves L^T x = v from the bottom. */
function backSolved(lower: Float64Array, vectors: Float64Array, column: number, n: number): Float64Array {
  const x = new Float64Array(n);
  for (let r = n - 1; r >= 0; r--) {
    let s = vectors[r * n + column] as number;
    for (let c = r + 1; c < n; c++) s -= (lower[c * n + r] as number) * (x[c] as number);
    x[r] = s / (lower[r * n + r] as number);
  }
  return x;
}

/** Features (not yet centred) in the metric's space, written to `out` from `at`. */
export function projected(
  { from, to, project, centre }: Metric,
  features: ArrayLike<number>,
  first: number,
  out: Float32Array,
  at: number,
): void {
  for (let r = 0; r < to; r++) {
    let s = 0;
    for (let c = 0; c < from; c++)
      s += (project[r * from + c] as number) * ((features[first + c] as number) - (centre[c] as number));
    out[at + r] = s;
  }
}

/**
 * Cost of one block against another, both in the metric's space: less than 0 where they look more like uncut wood. Of a mirrored joint, where
 * wood does not go on but comes back, the differences alone are told.
 */
export function blockCost(
  { to, differences, costs }: Metric,
  mirrored: boolean,
  p: Float32Array,
  atP: number,
  q: Float32Array,
  atQ: number,
): number {
  let cost = 0;
  let i = 0;
  for (; i < differences; i++) {
    const d = (p[atP + i] as number) - (q[atQ + i] as number);
    cost += d * d;
  }
  if (mirrored) return cost;
  for (; i < costs; i++) {
    const s = (p[atP + i] as number) + (q[atQ + i] as number);
    cost += s * s;
  }
  for (; i < to; i++) {
    const s = (p[atP + i] as number) + (q[atQ + i] as number);
    cost -= s * s;
  }
  return cost;
}
