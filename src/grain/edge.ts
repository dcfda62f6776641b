import type { Segment } from '../geometry';
import { BROAD_KEEP, BROAD_ROW, BROAD_STEP, type FaceFeatures } from './face-features';
import { LINE_REACH, LINE_TAPS } from './lines';
import { projected } from './metric';
import { BLOCK_RAW, SideReader, StationReader } from './side-features';
import { LESS, MORE, partsOf, STATION } from './station-sums';
import { BLOCK } from './uncut-pairs';

/**
 * One side of a joint, read along its line from one end of the seam to the other. Stations stand in the middle of equal steps of about
 * 5 mm, so a line read from its other end has the same stations.
 */
export interface Edge {
  readonly count: number;
  readonly length: number;
  /** Whether the wood to the left of the line is kept. Two sides kept on the same hand meet mirrored, like a book. */
  readonly left: boolean;
  readonly blocks: number;
  /** Each block's features as read, BLOCK_RAW of them, and in the metric's space. */
  readonly raw: Float32Array;
  readonly look: Float32Array;
  /** Share of stations in each block that are known. */
  readonly known: Float32Array;
  /** High-passed lightness over the line, from the right of its direction to the left. */
  readonly lines: Float32Array;
}

/** One reader serves all: nothing of a joint outlasts its reading. */
const reader = new SideReader();

/**
 * Reads one side of a joint.
 * @param p,q ends of the line on the face, mm, in the order of the seam; the line runs within about 20 degrees of x
 * @param left whether the wood to the left of p -> q is kept (towards more y when it runs along +x)
 */
export function readEdge(face: FaceFeatures, px: number, py: number, qx: number, qy: number, left: boolean): Edge {
  const length = Math.hypot(qx - px, qy - py);
  const count = partsOf(length, STATION);
  const blocks = partsOf(length, BLOCK);
  const forward = qx >= px;
  const degrees = (Math.atan2(forward ? qy - py : py - qy, Math.abs(qx - px)) * 180) / Math.PI;
  const { metric } = face.kin;
  const source = new StationReader(face.sums, left === forward ? MORE : LESS);
  const raw = new Float32Array(blocks * BLOCK_RAW);
  const look = new Float32Array(blocks * metric.to);
  const known = new Float32Array(blocks);
  for (let b = 0, k = 0; b < blocks; b++) {
    let places = 0;
    for (; k < count && Math.floor(((k + 0.5) / count) * blocks) <= b; k++) {
      const t = (k + 0.5) / count;
      const j = Math.floor((px + t * (qx - px) - face.x0) / STATION);
      const row = py + t * (qy - py) - face.y0;
      places++;
      if (j < 0 || j >= face.stations || row < 0 || row > face.rows) continue;
      reader.add(source, j, row, t * blocks - b - 0.5);
    }
    known[b] = reader.finish(degrees, left, raw, b * BLOCK_RAW) / Math.max(1, places);
    projected(metric, raw, b * BLOCK_RAW, look, b * metric.to);
  }
  return { count, length, left, blocks, raw, look, known, lines: linesOver(face, px, py, qx, qy) };
}

/** High-passed lightness over a joint line, from the right of its direction to the left, [station][LINE_TAPS]; parameters as those of `readEdge`. */
export function linesOver(face: FaceFeatures, px: number, py: number, qx: number, qy: number): Float32Array {
  const { lines, rows, stations } = face;
  const count = partsOf(Math.hypot(qx - px, qy - py), STATION);
  const tap = qx >= px ? 1 : -1;
  const out = new Float32Array(count * LINE_TAPS);
  for (let k = 0; k < count; k++) {
    const t = (k + 0.5) / count;
    const j = Math.floor((px + t * (qx - px) - face.x0) / STATION);
    const row = py + t * (qy - py) - face.y0;
    if (j < 0 || j >= stations || row < LINE_REACH + 1 || row > rows - LINE_REACH - 2) continue;
    // Row r of the map has its centre at r + 1/2.
    const whole = Math.floor(row - 0.5);
    const f = row - 0.5 - whole;
    const [from, to] = [j * rows + whole, k * LINE_TAPS + LINE_REACH];
    for (let i = -LINE_REACH; i <= LINE_REACH; i++) {
      const m = from + tap * i;
      out[to + i] = (lines[m] as number) * (1 - f) + (lines[m + 1] as number) * f;
    }
  }
  return out;
}

/** The broad look alone, block by block, for comparing many lines quickly; NaN in the first number of a block without sound wood. */
export function readBroad(face: FaceFeatures, [[px, py], [qx, qy]]: Segment<'face'>, left: boolean): Float32Array {
  const length = Math.hypot(qx - px, qy - py);
  const blocks = partsOf(length, BLOCK);
  const each = Math.max(1, Math.round(length / blocks / BROAD_STEP));
  const forward = qx >= px;
  const map = face.broad[left === forward ? MORE : LESS];
  const degrees = (Math.atan2(forward ? qy - py : py - qy, Math.abs(qx - px)) * 180) / Math.PI;
  const { broadTurn } = face.kin;
  const columns = Math.ceil((face.stations * STATION) / BROAD_STEP);
  const rows = Math.floor(face.rows / BROAD_ROW) + 1;
  const out = new Float32Array(blocks * BROAD_KEEP);
  for (let b = 0; b < blocks; b++) {
    let known = 0;
    for (let k = 0; k < each; k++) {
      const t = (b + (k + 0.5) / each) / blocks;
      const c = Math.floor((px + t * (qx - px) - face.x0) / BROAD_STEP);
      const r = Math.round((py + t * (qy - py) - face.y0) / BROAD_ROW);
      if (c < 0 || c >= columns || r < 0 || r >= rows) continue;
      const m = (c * rows + r) * BROAD_KEEP;
      if (Number.isNaN(map[m])) continue;
      known++;
      for (let d = 0; d < BROAD_KEEP; d++)
        out[b * BROAD_KEEP + d] = (out[b * BROAD_KEEP + d] as number) + (map[m + d] as number);
    }
    for (let d = 0; d < BROAD_KEEP && known > 0; d++)
      out[b * BROAD_KEEP + d] = (out[b * BROAD_KEEP + d] as number) / known - degrees * (broadTurn[d] as number);
    if (known === 0) out[b * BROAD_KEEP] = Number.NaN;
  }
  return out;
}
