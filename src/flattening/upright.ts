import { type Cloud, type Holding, highest, lowest } from './cloud';

/**
 * The thickest parallel board between two clouds of spots, thickness measured upright (along z):
 *
 *   maximise t  subject to  a x + b y + c >= v at every spot of the bottom,  a x + b y + c + t <= u at every spot of the top,
 *   |a| <= MOST_TILT,  |b| <= MOST_TILT.
 *
 * Its dual has four rows however many spots there are, so the revised simplex method (Dantzig 1953) inverts 4 x 4 matrices only
 * and a pivot costs one look at each spot:
 *
 *   minimise  sum l u - sum m v + MOST_TILT (tilt columns)
 *   subject to  sum l = 1,  sum m = 1,  sum l x - sum m x +- tilt = 0,  the same in y;  all >= 0.
 *
 * The rows' prices are c + t, -c, a and b; a column whose reduced cost is negative is a spot that the board of these prices would
 * stick out at.
 */

/** No sled holds a slab at a steeper tilt than one in five; it bounds the program where few spots do not. */
export const MOST_TILT = 0.2;

export interface UprightBoard {
  /** Upright thickness, mm; negative when no board fits. */
  readonly thickness: number;
  /** The underside, z = a x + b y + c. */
  readonly a: number;
  readonly b: number;
  readonly c: number;
  /** At most four spots of both faces together. */
  readonly limits: readonly Holding[];
}

/** Pivots without gain after which the first improving column is taken instead of the best, so that no cycle can last (Bland 1977). */
const STALLED = 20;
/** Pivots without gain after which the tolerance is taken for too fine. */
const ROUNDING = 300;
/** Far more than ten thousand spots have ever needed (under 40). */
const MOST_PIVOTS = 5000;
/** A share that falls no faster than this, per unit of the entering one, does not fall: to pivot on rounding makes a basis without inverse. */
const NO_FALL = 1e-9;
/** Relative to the heights: what counts as sticking out. */
const TOLERANCE = 1e-11;

/** The best board measured upright. @param top, bottom clouds about one common centre */
export function uprightBoard(top: Cloud, bottom: Cloud): UprightBoard {
  const program = new Dual(top, bottom);
  let tolerance = program.tolerance;
  let best = Number.POSITIVE_INFINITY;
  let stalled = 0;
  for (let pivot = 0; pivot < MOST_PIVOTS; pivot++) {
    program.invert();
    const prices = program.prices();
    const thickness = prices[0] + prices[1];
    stalled = thickness < best - tolerance ? 0 : stalled + 1;
    best = Math.min(best, thickness);
    // Spots that coincide to the last digits may chase each other round for ever: then what they differ by is rounding.
    if (stalled > 0 && stalled % ROUNDING === 0) tolerance *= 10;
    const entering = program.entering(prices, tolerance, stalled > STALLED);
    if (entering === undefined) {
      return { thickness, a: prices[2], b: prices[3], c: -prices[1], limits: program.limits() };
    }
    program.exchange(entering, stalled > STALLED);
  }
  throw new Error('The simplex method did not end.');
}

function extent(us: Float64Array): number {
  let most = 0;
  for (const u of us) most = Math.max(most, Math.abs(u));
  return most;
}

type Four = [number, number, number, number];

/** The dual program at one basis of four columns: top spots, then bottom spots, then the four tilt columns. */
class Dual {
  readonly #top: Cloud;
  readonly #bottom: Cloud;
  readonly #spots: number;
  readonly tolerance: number;
  /** Extents, mm, by which the columns are scaled: then every number in them is of order one and rounding shows as what it is. */
  readonly #scaleX: number;
  readonly #scaleY: number;
  readonly #basis: Four;
  readonly #costs: Four = [0, 0, 0, 0];
  /** The basis matrix inverted, row by row. */
  readonly #inverse = new Float64Array(16);
  readonly #work = new Float64Array(16);
  readonly #column = new Float64Array(4);

  constructor(top: Cloud, bottom: Cloud) {
    this.#top = top;
    this.#bottom = bottom;
    this.#spots = top.count + bottom.count;
    const low = lowest(top, 0, 0, 1);
    const high = highest(bottom, 0, 0, 1);
    const size = Math.abs(top.z[low] as number) + Math.abs(bottom.z[high] as number);
    this.#scaleX = Math.max(extent(top.x), extent(bottom.x)) || 1;
    this.#scaleY = Math.max(extent(top.y), extent(bottom.y)) || 1;
    this.tolerance = TOLERANCE * (1 + size);
    const across = (axis: 'x' | 'y'): number => (top[axis][low] as number) - (bottom[axis][high] as number);
    // The level board: the lowest spot of the top over the highest of the bottom, and the tilt columns of fitting sign.
    const tilt = (first: number, apart: number): number => first + (apart > 0 ? 1 : 0);
    this.#basis = [low, top.count + high, tilt(this.#spots, across('x')), tilt(this.#spots + 2, across('y'))];
  }

  /** Writes column `k` of the constraints into the scratch column. @returns its cost */
  #load(k: number): number {
    const column = this.#column;
    if (k < this.#top.count) {
      column[0] = 1;
      column[1] = 0;
      column[2] = (this.#top.x[k] as number) / this.#scaleX;
      column[3] = (this.#top.y[k] as number) / this.#scaleY;
      return this.#top.z[k] as number;
    }
    if (k < this.#spots) {
      const j = k - this.#top.count;
      column[0] = 0;
      column[1] = 1;
      column[2] = -(this.#bottom.x[j] as number) / this.#scaleX;
      column[3] = -(this.#bottom.y[j] as number) / this.#scaleY;
      return -(this.#bottom.z[j] as number);
    }
    const which = k - this.#spots;
    column.fill(0);
    column[which < 2 ? 2 : 3] = which % 2 === 0 ? 1 : -1;
    return MOST_TILT * (which < 2 ? this.#scaleX : this.#scaleY);
  }

  /** Inverts the basis (Gauss and Jordan, with row exchanges). */
  invert(): void {
    const matrix = this.#work;
    const inverse = this.#inverse.fill(0);
    for (let c = 0; c < 4; c++) {
      this.#costs[c as 0] = this.#load(this.#basis[c as 0]);
      for (let r = 0; r < 4; r++) matrix[r * 4 + c] = this.#column[r] as number;
      inverse[c * 5] = 1;
    }
    for (let c = 0; c < 4; c++) {
      let pivot = c;
      for (let r = c + 1; r < 4; r++) {
        if (Math.abs(matrix[r * 4 + c] as number) > Math.abs(matrix[pivot * 4 + c] as number)) pivot = r;
      }
      const scale = 1 / (matrix[pivot * 4 + c] as number);
      for (const m of [matrix, inverse]) {
        for (let k = 0; k < 4; k++) {
          const above = m[pivot * 4 + k] as number;
          m[pivot * 4 + k] = m[c * 4 + k] as number;
          m[c * 4 + k] = above * scale;
        }
      }
      for (let r = 0; r < 4; r++) {
        const share = matrix[r * 4 + c] as number;
        if (r === c || share === 0) continue;
        for (const m of [matrix, inverse]) {
          for (let k = 0; k < 4; k++) m[r * 4 + k] = (m[r * 4 + k] as number) - share * (m[c * 4 + k] as number);
        }
      }
    }
  }

  /** Prices of the four rows: c + t, -c, a, b. */
  prices(): Four {
    const prices: Four = [0, 0, 0, 0];
    for (let c = 0; c < 4; c++) {
      for (let r = 0; r < 4; r++) prices[c as 0] += this.#costs[r as 0] * (this.#inverse[r * 4 + c] as number);
    }
    prices[2] /= this.#scaleX;
    prices[3] /= this.#scaleY;
    return prices;
  }

  /** The column that sticks out most (or the first that does), if any. */
  entering([upper, lower, a, b]: Four, tolerance: number, first: boolean): number | undefined {
    let worst = -tolerance;
    let entering: number | undefined;
    const { x, y, z, count } = this.#top;
    for (let i = 0; i < count; i++) {
      const spare = (z[i] as number) - upper - a * (x[i] as number) - b * (y[i] as number);
      if (spare >= worst) continue;
      worst = spare;
      entering = i;
      if (first) return entering;
    }
    const under = this.#bottom;
    for (let j = 0; j < under.count; j++) {
      const spare = a * (under.x[j] as number) + b * (under.y[j] as number) - (under.z[j] as number) - lower;
      if (spare >= worst) continue;
      worst = spare;
      entering = count + j;
      if (first) return entering;
    }
    const [p, q] = [this.#scaleX, this.#scaleY];
    [(MOST_TILT - a) * p, (MOST_TILT + a) * p, (MOST_TILT - b) * q, (MOST_TILT + b) * q].forEach((spare, which) => {
      if (spare >= worst) return;
      worst = spare;
      entering = this.#spots + which;
    });
    return entering;
  }

  /** The basic spots with their shares: l of the top, m of the bottom. */
  limits(): Holding[] {
    return this.#basis.flatMap((k, r): Holding[] => {
      const share = (this.#inverse[r * 4] as number) + (this.#inverse[r * 4 + 1] as number);
      if (k >= this.#spots || share < 1e-9) return [];
      const count = this.#top.count;
      return [k < count ? { face: 'top', spot: k, share } : { face: 'bottom', spot: k - count, share }];
    });
  }

  /** Brings a column into the basis for the one that must leave so that all shares stay at zero or above. */
  exchange(entering: number, careful: boolean): void {
    this.#load(entering);
    let leaving: number | undefined;
    let least = Number.POSITIVE_INFINITY;
    let strongest = 0;
    for (let r = 0; r < 4; r++) {
      const row = this.#inverse.subarray(r * 4, r * 4 + 4);
      let fall = 0;
      for (let c = 0; c < 4; c++) fall += (row[c] as number) * (this.#column[c] as number);
      if (fall <= NO_FALL) continue;
      const ratio = Math.max(0, (row[0] as number) + (row[1] as number)) / fall;
      const tie = Math.abs(ratio - least) <= 1e-13;
      const better = careful
        ? leaving !== undefined && this.#basis[r as 0] < this.#basis[leaving as 0]
        : fall > strongest;
      if (ratio < least - 1e-13 || (tie && better)) {
        least = Math.min(least, ratio);
        strongest = fall;
        leaving = r;
      }
    }
    if (leaving === undefined) throw new Error('The tilt columns bound the program, so some column must leave.');
    this.#basis[leaving as 0] = entering;
  }
}
