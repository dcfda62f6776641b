import type { WanderMap } from '../grain';

/**
 * Where the lines of two faces wander alike along a whole joint, at every millimetre of offset. Such a place is a millimetre or two wide, so
 * that a coarse grid steps over it. Angles between the two lines cost little, because sums along slanting lines are put together from those
 * of halves (fast Hough transform, Brady 1998).
 */

/** Stretches of the joint whose lines are compared: a power of two. */
const STRETCHES = 32;
/** Both lines together may be off by half of this, mm; the one behind is looked for at every millimetre. */
const ROWS = 12;
/** The rows next to the joint that count, nearest most. */
const TAPS = [0.4, 0.8, 1, 0.8, 0.4] as const;
/** Angle between the lines, to either side of what the grain of both faces lets expect, degrees. */
const TURN = 0.6;
/** Angles of the line in front lie this far apart, degrees. */
const ANGLES = 4 / 3;
/** Drifts of the line behind over the whole joint lie this far apart, mm. */
const DRIFTS = 2;
/** Of all pairs in such a cell of both offsets only the best is told, mm. */
const CELL = 24;
/** A weaker match says nothing. */
const TELLING = 0.25;
/** Rows with less than this share of the mean row's lines are not told from nothing. */
const LITTLE = 0.15;
const STATION = 5;
/**
 * Sums are kept in whole numbers, so many to one, and those of two neighbouring lines in front in one number, 16 bits each, since both are
 * added at the same places: half the additions.
 */
const WHOLE = 32;
const HALF = 16;

/** A line by its middle, mm on its face, and its angle against x. */
interface Line {
  readonly x: number;
  readonly y: number;
  readonly degrees: number;
}

/** A pair of lines over which the figure goes on. */
export interface Followed {
  readonly match: number;
  readonly front: Line;
  readonly back: Line;
}

/** Which pairs of lines are looked at. */
export interface FollowLimits {
  readonly length: number;
  /** x of the front face at the joint's middle, and those of the face behind. */
  readonly x: number;
  readonly backs: readonly number[];
  /** Each line's angle against x, plus and minus, degrees. */
  readonly degrees: number;
  /** Where the middles of the lines may lie, mm in y of each face. */
  readonly rows: readonly [front: Span, back: Span];
}
type Span = readonly [from: number, to: number];

/** The map of a face turned end for end about its frame's origin. */
export function turnedMap(map: WanderMap): WanderMap {
  const { stations, rows, x0, y0, data } = map;
  return { ...map, x0: -(x0 + stations * STATION), y0: -(y0 + rows), data: data.slice().reverse() };
}

/** Angles of the line in front. */
function anglesTo(limit: number): number[] {
  const gaps = Math.ceil((2 * limit) / ANGLES - 1e-9);
  return Array.from({ length: gaps + 1 }, (_, i) => (gaps === 0 ? 0 : -limit + (2 * limit * i) / gaps));
}

/** Sums along slanting lines over stretches of a joint: [stretch][drift][row]. */
interface Level {
  readonly data: Int32Array;
  least: number;
  most: number;
}

/** Finds pairs of lines over which the figure goes on; made once for a place along the front face, asked angle by angle. */
export class Follower {
  readonly #spacing: number;
  readonly #across: number;
  readonly #wide: number;
  /** Room beside each row of sums, so that slanting lines may leave the face. */
  readonly #pad: number;
  readonly #products: Int32Array;
  readonly #weights: Float32Array;
  readonly #own: Float32Array;
  readonly #levels: readonly Level[];
  readonly #cells: Float32Array;
  readonly #kept: Float32Array;
  /** Rows behind where lines may run, from the first to before the last. */
  readonly #behind: Span;
  readonly #fronts: readonly number[];
  /** Rows behind, and every eighth row in front, that slanting lines come to. */
  readonly #used: Span;
  readonly #lines: Span;

  constructor(
    readonly front: WanderMap,
    readonly back: WanderMap,
    readonly limits: FollowLimits,
  ) {
    const { length, degrees, rows } = limits;
    this.#spacing = length / STRETCHES;
    this.#across = Math.ceil(front.rows / ROWS);
    const most = Math.ceil(length * Math.tan((Math.min(2 * degrees, 2 * TURN) * Math.PI) / 180));
    const slant = Math.ceil((length / 2) * Math.tan((degrees * Math.PI) / 180));
    this.#pad = most + slant + 2 * ROWS;
    this.#wide = back.rows + 2 * this.#pad;
    this.#products = new Int32Array((STRETCHES * this.#across + 1) * this.#wide);
    this.#weights = new Float32Array(back.rows);
    this.#own = new Float32Array(STRETCHES * this.#across);
    const levels: Level[] = [];
    for (let stretches = STRETCHES / 2; stretches > 1; stretches /= 2) {
      const drifts = Math.ceil(most / stretches) + 4;
      levels.push({ data: new Int32Array(stretches * drifts * this.#wide), least: 0, most: 0 });
    }
    this.#levels = levels;
    const cells = Math.ceil(front.rows / CELL) * Math.ceil(back.rows / CELL);
    this.#cells = new Float32Array(cells);
    this.#kept = new Float32Array(5 * cells);
    const [y0, y1] = rows[1];
    this.#behind = [Math.max(0, Math.floor(y0 - back.y0)), Math.min(back.rows, Math.ceil(y1 - back.y0))];
    const beyond = slant + most + ROWS;
    this.#used = [Math.max(2, this.#behind[0] - beyond), Math.min(back.rows - 2, this.#behind[1] + beyond)];
    this.#lines = [this.#rowAt(rows[0][0] - slant - ROWS), this.#rowAt(rows[0][1] + slant + ROWS)];
    this.#fronts = this.#stations(front, limits.x);
  }

  /** Looks at all pairs of lines with the joint's middle at one of the places behind. */
  look(which: number): void {
    const { limits } = this;
    const backs = this.#stations(this.back, limits.backs[which] as number);
    for (let k = 0; k < STRETCHES; k++) this.#multiply(k, this.#fronts[k] as number, backs[k] as number);
    this.#weigh(backs);
    const [from, to] = limits.rows[0];
    const [first, last] = [this.#rowAt(from), this.#rowAt(to)];
    for (const degrees of anglesTo(limits.degrees)) {
      for (let a = first; a <= last; a += 2) this.#follow(a, degrees, which);
    }
  }

  /** The best pairs so far, one of each cell of both offsets, best first. */
  best(): Followed[] {
    const { front, back, limits } = this;
    const found: Followed[] = [];
    for (let cell = 0; cell < this.#cells.length; cell++) {
      const match = this.#cells[cell] as number;
      if (match < TELLING) continue;
      const [a, b, degrees, slope, which] = this.#kept.subarray(5 * cell, 5 * cell + 5) as unknown as [
        number,
        number,
        number,
        number,
        number,
      ];
      const turned = Math.max(-limits.degrees, Math.min(limits.degrees, (Math.atan(slope) * 180) / Math.PI));
      found.push({
        match,
        front: { x: limits.x, y: front.y0 + a + 0.5, degrees },
        back: { x: limits.backs[which] as number, y: back.y0 + b + 0.5, degrees: turned },
      });
    }
    return found.sort((p, q) => q.match - p.match);
  }

  #rowAt = (y: number): number => Math.max(0, Math.min(this.#across - 1, Math.floor((y - this.front.y0) / ROWS)));

  #stations(map: WanderMap, x: number): number[] {
    return Array.from({ length: STRETCHES }, (_, k) =>
      Math.floor((x + (k - (STRETCHES - 1) / 2) * this.#spacing - map.x0) / STATION),
    );
  }

  /** Products of the rows about every twelfth row of a stretch in front, and about the next such one, with those about every row behind. */
  #multiply(k: number, j: number, m: number): void {
    const { front, back } = this;
    const [out, data, base] = [this.#products, back.data, m * back.rows];
    const inside = j >= 0 && j < front.stations && m >= 0 && m < back.stations;
    for (let a = this.#lines[0]; a <= this.#lines[1]; a++) {
      const at = (k * this.#across + a) * this.#wide;
      const row = a * ROWS + ROWS / 2;
      this.#own[k * this.#across + a] = 0;
      out.fill(0, at, at + this.#wide);
      if (!inside || row < 2 || row + 2 >= front.rows) continue;
      const near = TAPS.map((tap, t) => WHOLE * tap * (front.data[j * front.rows + row + t - 2] as number));
      this.#own[k * this.#across + a] = near.reduce((sum, x, t) => sum + (x / WHOLE) ** 2 / (TAPS[t] as number), 0);
      const [c0, c1, c2, c3, c4] = near as [number, number, number, number, number];
      const to = at + this.#pad - base;
      const before = to - (a > this.#lines[0] ? this.#wide : 0);
      const shift = a > this.#lines[0] ? HALF : 0;
      for (let i = base + this.#used[0]; i < base + this.#used[1]; i++) {
        const product =
          (c0 * (data[i - 2] as number) +
            c1 * (data[i - 1] as number) +
            c2 * (data[i] as number) +
            c3 * (data[i + 1] as number) +
            c4 * (data[i + 2] as number)) |
          0;
        if (shift > 0) out[before + i] = ((out[before + i] as number) + (product << HALF)) | 0;
        out[to + i] = product;
      }
    }
  }

  /** What a sum at each row behind is to be multiplied by for its lines' strength; 0 where there are too few to tell. */
  #weigh(backs: readonly number[]): void {
    const { rows, stations, data } = this.back;
    const sums = new Float64Array(rows + 1);
    for (let r = 0; r < rows; r++) {
      let power = 0;
      for (const m of backs) if (m >= 0 && m < stations) power += (data[m * rows + r] as number) ** 2;
      sums[r + 1] = (sums[r] as number) + power;
    }
    const least = (LITTLE * (sums[rows] as number)) / rows;
    const taps = TAPS.reduce<number>((sum, tap) => sum + tap, 0);
    for (let r = 0; r < rows; r++) {
      const [from, to] = [Math.max(0, r - 2 * ROWS), Math.min(rows, r + 2 * ROWS + 1)];
      const mean = ((sums[to] as number) - (sums[from] as number)) / (to - from);
      this.#weights[r] = mean > least ? 1 / (WHOLE * Math.sqrt(mean * taps)) : 0;
    }
  }

  /** All lines behind that could go with the line in front through a row at that angle. */
  #follow(a: number, degrees: number, which: number): void {
    const { limits } = this;
    const [from, to] = this.#behind;
    const slope = Math.tan((degrees * Math.PI) / 180);
    const turn = Math.max(-limits.degrees, Math.min(limits.degrees, degrees + this.back.degrees - this.front.degrees));
    const behind = Math.tan((turn * Math.PI) / 180);
    const drift = (to: number): number =>
      (STRETCHES - 1) *
      this.#spacing *
      (Math.tan((Math.max(-limits.degrees, Math.min(limits.degrees, to)) * Math.PI) / 180) - behind);
    const [least, most] = [Math.round(drift(turn - TURN)), Math.round(drift(turn + TURN))];
    const reach = Math.max(-least, most) + 1;
    const [low, high] = [Math.max(0, this.#pad + from - reach), Math.min(this.#wide, this.#pad + to + reach)];
    const [own, next] = this.#pairs(a, slope, behind, least, most, low, high);
    if (own + next === 0) return;
    for (let i = 1; i < this.#levels.length; i++) this.#halves(i, least, most, low, high);
    for (let d = least; d <= most; d += DRIFTS) {
      if (own > 0) this.#tell(a, false, degrees, behind, d, 1 / Math.sqrt(own), which);
      if (next > 0) this.#tell(a + 1, true, degrees, behind, d, 1 / Math.sqrt(next), which);
    }
  }

  /**
   * The first level: neighbouring stretches, each behind shifted to the slanting line.
   * @returns strength of the lines about both lines in front
   */
  #pairs(
    a: number,
    slope: number,
    behind: number,
    least: number,
    most: number,
    low: number,
    high: number,
  ): readonly [number, number] {
    const level = this.#levels[0] as Level;
    const [products, sums, across, wide] = [this.#products, level.data, this.#across, this.#wide];
    level.least = Math.floor(least / (STRETCHES - 1));
    level.most = Math.ceil(most / (STRETCHES - 1));
    let [own, next] = [0, 0];
    const start = (k: number): number => {
      const along = (k - (STRETCHES - 1) / 2) * this.#spacing;
      const by = Math.round((along * slope) / ROWS);
      const near = a + by;
      // Beyond the face there is nothing: the last row of products is empty.
      if (near < this.#lines[0] || near >= this.#lines[1]) return STRETCHES * across * wide;
      own += this.#own[k * across + near] as number;
      next += this.#own[k * across + near + 1] as number;
      // The row in front that was multiplied lies so far off the line: the row behind goes with it.
      return (k * across + near) * wide + Math.round(by * ROWS - along * slope + along * behind);
    };
    for (let i = 0; i < STRETCHES / 2; i++) {
      const [first, second] = [start(2 * i), start(2 * i + 1)];
      for (let d = level.least; d <= level.most; d++) {
        const out = (i * (level.most - level.least + 1) + d - level.least) * wide;
        for (let b = low; b < high; b++)
          sums[out + b] = ((products[first + b] as number) + (products[second + b + d] as number)) | 0;
      }
    }
    return [own, next];
  }

  /** A further level: two stretches of the one before make one; the drift of each is a share of the whole one's. */
  #halves(i: number, least: number, most: number, low: number, high: number): void {
    const [from, to] = [this.#levels[i - 1] as Level, this.#levels[i] as Level];
    const stretches = STRETCHES / 2 ** (i + 1);
    const [inHalf, inWhole] = [2 ** i - 1, 2 ** (i + 1) - 1];
    to.least = Math.floor((least * inWhole) / (STRETCHES - 1));
    to.most = Math.ceil((most * inWhole) / (STRETCHES - 1));
    const [halves, sums] = [from.data, to.data];
    const [each, drifts, wide] = [from.most - from.least + 1, to.most - to.least + 1, this.#wide];
    for (let s = 0; s < stretches; s++) {
      for (let d = to.least; d <= to.most; d++) {
        const part = Math.max(from.least, Math.min(from.most, Math.round((d * inHalf) / inWhole))) - from.least;
        const first = (2 * s * each + part) * wide;
        const second = ((2 * s + 1) * each + part) * wide + Math.round((d * 2 ** i) / inWhole);
        const out = (s * drifts + d - to.least) * wide;
        for (let b = low; b < high; b++)
          sums[out + b] = ((halves[first + b] as number) + (halves[second + b] as number)) | 0;
      }
    }
  }

  /** The last level, whole joints, told at once: the best of each cell. */
  #tell(a: number, upper: boolean, degrees: number, behind: number, d: number, weight: number, which: number): void {
    const { least, most, data } = this.#levels.at(-1) as Level;
    const [from, to] = this.#behind;
    const half = STRETCHES / 2;
    const part = Math.max(least, Math.min(most, Math.round((d * (half - 1)) / (STRETCHES - 1)))) - least;
    // A line behind that drifts begins half of that before its middle.
    const early = this.#pad - Math.round(d / 2);
    const first = part * this.#wide + early;
    const second = (most - least + 1 + part) * this.#wide + Math.round((d * half) / (STRETCHES - 1)) + early;
    const cellsBehind = Math.ceil(this.back.rows / CELL);
    const row = a * ROWS + ROWS / 2;
    const cells = Math.floor(row / CELL) * cellsBehind;
    for (let c = Math.floor(from / CELL); c * CELL < to; c++) {
      const known = this.#cells[cells + c] as number;
      let [best, at] = [known / weight, -1];
      const end = Math.min(to, (c + 1) * CELL);
      for (let b = Math.max(from, c * CELL); b < end; b++) {
        const both = ((data[first + b] as number) + (data[second + b] as number)) | 0;
        const lower = (both << HALF) >> HALF;
        const match = (upper ? (both - lower) >> HALF : lower) * (this.#weights[b] as number);
        if (match > best) {
          best = match;
          at = b;
        }
      }
      if (at === -1) continue;
      this.#cells[cells + c] = best * weight;
      const slope = behind + d / ((STRETCHES - 1) * this.#spacing);
      this.#kept.set([row, at, degrees, slope, which], 5 * (cells + c));
    }
  }
}
