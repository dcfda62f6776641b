import type { Segment } from '../geometry';
import type { Look } from './compare';
import { type FaceFeatures, turnIn } from './face-features';
import { projected } from './metric';
import { BLOCK_RAW, SideReader, StationReader } from './side-features';
import { LESS, MORE, partsOf, STATION } from './station-sums';
import { BLOCK } from './uncut-pairs';

/** What a block looks like changes slowly: it is read so far apart along and across a face, mm. */
const COLUMN = 20;
const ROW = 2;

/**
 * What one side of joint lines looks like, block by block, each read once as a level piece and remembered: a line is then put together from its blocks,
 * turned by its angle. Near enough to `readEdge` to lead a search over the same wood, and quicker the more lines cross it. Takes about 0.25 MB for each
 * 1,000 cm2 of the columns that are looked at, so it should not outlast a search.
 */
export class BlockLooks {
  readonly #columns: (Float32Array | undefined)[] = [];
  readonly #stations: StationReader;
  readonly #reader = new SideReader();
  readonly #raw = new Float32Array(BLOCK_RAW);
  readonly #turn: Float32Array;
  readonly #rows: number;

  /** @param forward whether the lines run with x; @param left whether the wood to the left of them is kept */
  constructor(
    readonly face: FaceFeatures,
    readonly forward: boolean,
    readonly left: boolean,
  ) {
    this.#stations = new StationReader(face.sums, left === forward ? MORE : LESS);
    this.#turn = turnIn(face.kin.metric);
    this.#rows = Math.floor(face.rows / ROW) + 1;
  }

  look([[px, py], [qx, qy]]: Segment<'face'>): Look {
    const { face, left, forward } = this;
    const { to } = face.kin.metric;
    const length = Math.hypot(qx - px, qy - py);
    const blocks = partsOf(length, BLOCK);
    const degrees = (Math.atan2(forward ? qy - py : py - qy, Math.abs(qx - px)) * 180) / Math.PI;
    const look = new Float32Array(blocks * to);
    const known = new Float32Array(blocks);
    for (let b = 0; b < blocks; b++) {
      const t = (b + 0.5) / blocks;
      const column = Math.round((px + t * (qx - px) - face.x0) / COLUMN);
      const row = Math.round((py + t * (qy - py) - face.y0) / ROW);
      if (column < 0 || row < 0 || row >= this.#rows) continue;
      const read = this.#column(column);
      const at = row * (to + 1);
      if (Number.isNaN(read[at])) this.#read(column, row, read, at);
      known[b] = read[at] as number;
      for (let i = 0; i < to; i++)
        look[b * to + i] = (read[at + 1 + i] as number) - degrees * (this.#turn[i] as number);
    }
    return { count: partsOf(length, STATION), left, blocks, look, known };
  }

  #column(column: number): Float32Array {
    const have = this.#columns[column];
    if (have) return have;
    const fresh = new Float32Array(this.#rows * (this.face.kin.metric.to + 1)).fill(Number.NaN);
    this.#columns[column] = fresh;
    return fresh;
  }

  /** Writes what share of the block is known, and its look. */
  #read(column: number, row: number, out: Float32Array, at: number): void {
    const { face, left, forward } = this;
    const many = BLOCK / STATION;
    const first = Math.round((column * COLUMN) / STATION - many / 2);
    for (let k = 0; k < many; k++) {
      const j = first + k;
      if (j < 0 || j >= face.stations) continue;
      const place = (k + 0.5) / many - 0.5;
      this.#reader.add(this.#stations, j, row * ROW, forward ? place : -place);
    }
    out[at] = this.#reader.finish(0, left, this.#raw, 0) / many;
    projected(face.kin.metric, this.#raw, 0, out, at + 1);
  }
}
