import type { Segment } from '../geometry';
import { BLOCK, BLOCK_KEEP, BLOCK_ROW, EDGE_KEEP, type FaceFeatures } from './face-features';
import { LINE_REACH, LINE_TAPS } from './lines';
import { LESS, MORE, STATION } from './station-sums';

/**
 * One side of a joint, read along its line from one end of the seam to the other. Stations stand in the middle of equal steps of about
 * 5 mm, so a line read from its other end has the same stations.
 */
export interface Edge {
  readonly count: number;
  readonly length: number;
  readonly edge: Float32Array;
  /** Share of sound wood, grain angle against the line in degrees, how sure that is. */
  readonly near: Float32Array;
  readonly blocks: number;
  readonly block: Float32Array;
  /** Share of stations in each block that are known. */
  readonly blockKnown: Float32Array;
  /** High-passed lightness over the line, from the right of its direction to the left. */
  readonly lines: Float32Array;
}

/**
 * Reads one side of a joint.
 * @param p,q ends of the line on the face, mm, in the order of the seam; the line runs within about 20 degrees of x
 * @param left whether the wood to the left of p -> q is kept (towards more y when it runs along +x)
 */
export function readEdge(face: FaceFeatures, px: number, py: number, qx: number, qy: number, left: boolean): Edge {
  const length = Math.hypot(qx - px, qy - py);
  const count = Math.max(1, Math.round(length / STATION));
  const blocks = Math.max(1, Math.round(length / BLOCK));
  const forward = qx >= px;
  const map = face.sides[left === forward ? MORE : LESS];
  const degrees = (Math.atan2(forward ? qy - py : py - qy, Math.abs(qx - px)) * 180) / Math.PI;
  const lines = face.rows + 1;
  const blockRows = Math.floor(face.rows / BLOCK_ROW) + 1;
  const edge = new Float32Array(count * EDGE_KEEP);
  const near = new Float32Array(count * 3);
  const block = new Float32Array(blocks * BLOCK_KEEP);
  const blockKnown = new Float32Array(blocks);
  const inBlock = new Float32Array(blocks);
  const over = new Float32Array(count * LINE_TAPS);
  const tap = forward ? 1 : -1;
  const { blockTurn } = face.kin;
  for (let k = 0; k < count; k++) {
    const t = (k + 0.5) / count;
    const j = Math.floor((px + t * (qx - px) - face.x0) / STATION);
    const row = py + t * (qy - py) - face.y0;
    const b = Math.min(blocks - 1, Math.floor(t * blocks));
    inBlock[b] = (inBlock[b] as number) + 1;
    if (j < 0 || j >= face.stations || row < LINE_REACH + 1 || row > face.rows - LINE_REACH - 2) continue;
    const whole = Math.floor(row);
    const f = row - whole;
    const i = j * lines + whole;
    const known = (map.near[3 * i] as number) * (1 - f) + (map.near[3 * i + 3] as number) * f;
    readLines(face, j, row, tap, over, k);
    if ((map.near[3 * i] as number) < 1 / 3 || (map.near[3 * i + 3] as number) < 1 / 3) continue;
    near[3 * k] = known;
    near[3 * k + 1] = (map.near[3 * i + 1] as number) * (1 - f) + (map.near[3 * i + 4] as number) * f - degrees;
    near[3 * k + 2] = (map.near[3 * i + 2] as number) * (1 - f) + (map.near[3 * i + 5] as number) * f;
    for (let d = 0; d < EDGE_KEEP; d++) {
      const e = i * EDGE_KEEP + d;
      edge[k * EDGE_KEEP + d] = (map.edge[e] as number) * (1 - f) + (map.edge[e + EDGE_KEEP] as number) * f;
    }
    const blockRow = Math.round(row / BLOCK_ROW);
    const m = (j * blockRows + blockRow) * BLOCK_KEEP;
    blockKnown[b] = (blockKnown[b] as number) + 1;
    for (let d = 0; d < BLOCK_KEEP; d++)
      block[b * BLOCK_KEEP + d] = (block[b * BLOCK_KEEP + d] as number) + (map.block[m + d] as number);
  }
  for (let b = 0; b < blocks; b++) {
    const n = blockKnown[b] as number;
    for (let d = 0; d < BLOCK_KEEP && n > 0; d++) {
      block[b * BLOCK_KEEP + d] = (block[b * BLOCK_KEEP + d] as number) / n - degrees * (blockTurn[d] as number);
    }
    blockKnown[b] = n / Math.max(1, inBlock[b] as number);
  }
  return { count, length, edge, near, blocks, block, blockKnown, lines: over };
}

/** High-passed lightness at the rows over the line; row r of the map has its centre at r + 1/2. */
function readLines(
  { lines, rows }: FaceFeatures,
  j: number,
  row: number,
  tap: number,
  out: Float32Array,
  k: number,
): void {
  for (let i = -LINE_REACH; i <= LINE_REACH; i++) {
    const at = row + tap * i - 0.5;
    const whole = Math.floor(at);
    const f = at - whole;
    const m = j * rows + whole;
    out[k * LINE_TAPS + i + LINE_REACH] = (lines[m] as number) * (1 - f) + (lines[m + 1] as number) * f;
  }
}

/** Every so many mm the broad look is read for the first sieve of a search. */
const BROAD_STEP = 20;

/** The broad look alone, block by block, for comparing many lines quickly; NaN in the first number of a block without sound wood. */
export function readBroad(face: FaceFeatures, [[px, py], [qx, qy]]: Segment<'face'>, left: boolean): Float32Array {
  const length = Math.hypot(qx - px, qy - py);
  const blocks = Math.max(1, Math.round(length / BLOCK));
  const each = Math.max(1, Math.round(length / blocks / BROAD_STEP));
  const forward = qx >= px;
  const map = face.sides[left === forward ? MORE : LESS];
  const degrees = (Math.atan2(forward ? qy - py : py - qy, Math.abs(qx - px)) * 180) / Math.PI;
  const blockRows = Math.floor(face.rows / BLOCK_ROW) + 1;
  const out = new Float32Array(blocks * BLOCK_KEEP);
  for (let b = 0; b < blocks; b++) {
    let known = 0;
    for (let k = 0; k < each; k++) {
      const t = (b + (k + 0.5) / each) / blocks;
      const j = Math.floor((px + t * (qx - px) - face.x0) / STATION);
      const row = Math.round((py + t * (qy - py) - face.y0) / BLOCK_ROW);
      if (j < 0 || j >= face.stations || row < 0 || row >= blockRows) continue;
      if ((map.near[3 * (j * (face.rows + 1) + row * BLOCK_ROW)] as number) < 1 / 3) continue;
      known++;
      const m = (j * blockRows + row) * BLOCK_KEEP;
      for (let d = 0; d < BLOCK_KEEP; d++)
        out[b * BLOCK_KEEP + d] = (out[b * BLOCK_KEEP + d] as number) + (map.block[m + d] as number);
    }
    for (let d = 0; d < BLOCK_KEEP && known > 0; d++) {
      out[b * BLOCK_KEEP + d] =
        (out[b * BLOCK_KEEP + d] as number) / known - degrees * (face.kin.blockTurn[d] as number);
    }
    if (known === 0) out[b * BLOCK_KEEP] = Number.NaN;
  }
  return out;
}
