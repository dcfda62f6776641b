import {
  COUNT,
  GRADIENTS,
  LESS,
  type Side,
  STATION,
  type StationSums,
  SUM_A,
  SUM_B,
  SUM_L,
  SUMS,
  XX,
  XY,
  YY,
} from './station-sums';

/** Bands of lightness, finest next to the joint, where rings run into it; those of colour, which changes slower. mm into the kept wood */
const LIGHT = [0, 1, 2, 3, 5, 8, 12, 18, 30, 60] as const;
const COLOUR = [0, 2, 5, 12, 30, 60] as const;
/** The grain is read next to the joint and deep; the first mm has a gradient that would look over the line. */
const NEAR = [1, 15] as const;
const DEEP = [1, 45] as const;
/** Sound wood is wanted this deep, mm. */
const SOUND = 5;

const [LIGHTS, COLOURS] = [LIGHT.length - 1, COLOUR.length - 1];
/** Where the grain's angles stand, near and deep; then energy of lines and how parallel they are, likewise. */
const ANGLES_AT = LIGHTS + 2 * COLOURS;
/** What is read of one side at one station: lightness, a and b in bands, grain. */
export const STATION_RAW = ANGLES_AT + 6;
/** Lightness bands whose slope and spread along the joint count too. */
const ALONG = [0, 1, 2, 4, 6] as const;
/** What is known of one side over a block: means over its stations, then slopes along it, then spreads. */
export const BLOCK_RAW = STATION_RAW + 2 * ALONG.length;
/** The grain's two angles: a line that turns by d degrees lowers both by d. */
export const ANGLES = [ANGLES_AT, ANGLES_AT + 1] as const;
/** Which features tell of colour; the rest tell of grain. */
export const COLOUR_FEATURES = ANGLES_AT;

const DEPTHS = [...new Set<number>([...LIGHT, ...COLOUR, ...NEAR, ...DEEP, SOUND])].sort((a, b) => a - b);
const indexOf = (depths: readonly number[]) => Int32Array.from(depths, (d) => SUMS * DEPTHS.indexOf(d));
const [LIGHT_AT, COLOUR_AT, NEAR_AT, DEEP_AT] = [indexOf(LIGHT), indexOf(COLOUR), indexOf(NEAR), indexOf(DEEP)];
const SOUND_AT = SUMS * DEPTHS.indexOf(SOUND);
/** Of the sums at each depth those from the first to before the end are asked for: colours where a band of them ends, gradients likewise. */
const endsIn = (bands: readonly number[]) => (d: number) => bands.includes(d);
const [LIGHT_ENDS, COLOUR_ENDS, GRAIN_ENDS] = [endsIn(LIGHT), endsIn(COLOUR), endsIn([...NEAR, ...DEEP])];
const FIRST_AT = Int32Array.from(DEPTHS, (d) => (LIGHT_ENDS(d) || COLOUR_ENDS(d) ? COUNT : GRADIENTS));
const END_AT = Int32Array.from(DEPTHS, (d) => (GRAIN_ENDS(d) ? SUMS : COLOUR_ENDS(d) ? GRADIENTS : SUM_A));

/**
 * Reads one side of joints block by block: stations are added, and what the block looks like is asked for at its end. Only pixels of the
 * kept side are looked at. Holds scratch, so one reader serves one joint at a time.
 */
export class SideReader {
  readonly #one = new Float64Array(STATION_RAW);
  readonly #sums = new Float64Array(STATION_RAW);
  readonly #squares = new Float64Array(ALONG.length);
  readonly #moments = new Float64Array(ALONG.length);
  #known = 0;
  #places = 0;

  /**
   * Adds a station of the block; nothing is added where no sound wood is.
   * @param place where along the block the station stands, -1/2 to 1/2
   */
  add(source: StationReader, j: number, line: number, place: number): void {
    const one = this.#one;
    if (!source.read(j, line, one)) return;
    const sums = this.#sums;
    for (let i = 0; i < STATION_RAW; i++) sums[i] = (sums[i] as number) + (one[i] as number);
    for (let i = 0; i < ALONG.length; i++) {
      const x = one[ALONG[i] as number] as number;
      this.#squares[i] = (this.#squares[i] as number) + x * x;
      this.#moments[i] = (this.#moments[i] as number) + place * x;
    }
    this.#known++;
    this.#places += place;
  }

  /**
   * Writes the block's BLOCK_RAW features to `out` from `at`, and begins the next.
   * @param degrees angle of the line, which the grain's angles are given against
   * @param left whether the kept wood lies to the left of the way in which places grow: slopes are told as seen from the kept wood
   * @returns how many stations were added; with none, zeros are written
   */
  finish(degrees: number, left: boolean, out: Float32Array, at: number): number {
    const n = this.#known;
    for (let i = 0; i < STATION_RAW; i++) out[at + i] = n > 0 ? (this.#sums[i] as number) / n : 0;
    for (const i of ANGLES) if (n > 0) out[at + i] = (out[at + i] as number) - degrees;
    for (let i = 0; i < ALONG.length; i++) {
      const mean = n > 0 ? (this.#sums[ALONG[i] as number] as number) / n : 0;
      const slope = n > 0 ? ((this.#moments[i] as number) - mean * this.#places) / n : 0;
      const spread = n > 0 ? Math.max(0, (this.#squares[i] as number) / n - mean * mean) : 0;
      out[at + STATION_RAW + i] = left ? -slope : slope;
      out[at + STATION_RAW + ALONG.length + i] = n > 0 ? Math.log(spread + 0.05) : 0;
    }
    this.#sums.fill(0);
    this.#squares.fill(0);
    this.#moments.fill(0);
    this.#known = 0;
    this.#places = 0;
    return n;
  }
}

/** Reads one side of lines on a face. Holds scratch, so one reader serves one reading at a time. */
export class StationReader {
  /** Running sums at each depth under the line. */
  readonly #down = new Float64Array(DEPTHS.length * SUMS);

  constructor(
    readonly face: StationSums,
    readonly side: Side,
  ) {}

  /**
   * Writes the station's STATION_RAW features to `out`; false, with nothing written, where under a third of the nearest 5 mm is sound.
   * @param line row of the line, whole rows between pixels; between them bands count their shares of pixels
   */
  read(j: number, line: number, out: Float64Array): boolean {
    const { rows, sums } = this.face;
    const { side } = this;
    const down = this.#down;
    const base = j * (rows + 1);
    const into = side === LESS ? -1 : 1;
    for (let d = 0; d < DEPTHS.length; d++) {
      const r = Math.min(rows, Math.max(0, line + into * (DEPTHS[d] as number)));
      const whole = Math.min(rows - 1, Math.floor(r));
      const f = r - whole;
      const from = (base + whole) * SUMS;
      for (let k = FIRST_AT[d] as number; k < (END_AT[d] as number); k++) {
        const s = sums[from + k] as number;
        down[d * SUMS + k] = into * (s + f * ((sums[from + SUMS + k] as number) - s));
      }
    }
    const sound = (down[SOUND_AT + COUNT] as number) - (down[COUNT] as number);
    if (sound < (STATION * SOUND) / 3) return false;
    this.#bands(LIGHT, LIGHT_AT, SUM_L, out, 0);
    this.#bands(COLOUR, COLOUR_AT, SUM_A, out, LIGHTS);
    this.#bands(COLOUR, COLOUR_AT, SUM_B, out, LIGHTS + COLOURS);
    this.#grain(NEAR_AT, out, ANGLES_AT);
    this.#grain(DEEP_AT, out, ANGLES_AT + 1);
    return true;
  }

  /** Means of bands; one that is mostly unsound takes over its shallower neighbour. */
  #bands(depths: readonly number[], at: Int32Array, what: number, one: Float64Array, to: number): void {
    const down = this.#down;
    for (let i = 0; i + 1 < at.length; i++) {
      const [from, end] = [at[i] as number, at[i + 1] as number];
      const count = (down[end + COUNT] as number) - (down[from + COUNT] as number);
      const wide = STATION * ((depths[i + 1] as number) - (depths[i] as number));
      if (count >= 0.3 * wide || i === 0)
        one[to + i] = ((down[end + what] as number) - (down[from + what] as number)) / Math.max(count, 0.5);
      else one[to + i] = one[to + i - 1] as number;
    }
  }

  /** Angle, log energy and coherence of the lines in a band (Bigün and Granlund 1987), written two apart. */
  #grain(at: Int32Array, one: Float64Array, to: number): void {
    const down = this.#down;
    const [from, end] = [at[0] as number, at[1] as number];
    const count = (down[end + GRADIENTS] as number) - (down[from + GRADIENTS] as number);
    const xx = (down[end + XX] as number) - (down[from + XX] as number);
    const xy = (down[end + XY] as number) - (down[from + XY] as number);
    const yy = (down[end + YY] as number) - (down[from + YY] as number);
    const few = count < 20;
    // Lines at angle f have their gradient square to it: tan 2f = -2 xy / (yy - xx).
    const degrees = few ? 0 : (Math.atan2(-2 * xy, yy - xx) * 90) / Math.PI;
    one[to] = Math.max(-30, Math.min(30, degrees));
    one[to + 2] = Math.log((few ? 0 : (xx + yy) / count) + 0.05);
    one[to + 4] = few ? 0 : Math.hypot(xx - yy, 2 * xy) / (xx + yy + 1e-9);
  }
}
