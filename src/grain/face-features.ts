import { evenFaces } from './even-faces';
import type { WoodFace } from './joint-types';
import { highPassed } from './lines';
import { blockCost, learnMetric, type Metric, projected } from './metric';
import { ANGLES, BLOCK_RAW, SideReader, STATION_RAW, StationReader } from './side-features';
import { LESS, MORE, type Side, STATION, type StationSums, stationSums } from './station-sums';
import { type KerfTable, kerfTable, pairMoments, TELLING } from './uncut-pairs';

/** Directions kept of what differs across a joint, and of what both sides have in common; of the broad look, of differences alone. */
const KEEP = [12, 12] as const;
export const BROAD_KEEP = 8;
/** The broad look is kept so many mm apart, along and across: it changes slowly. */
export const BROAD_STEP = 20;
export const BROAD_ROW = 2;
/** No block counts for more than this for or against a joint: one unseen knot must not decide a joint of two metres. */
const MOST = 6;
/** Sides that do not belong together are this unlike in the mean, uncut wood 1. */
export const UNRELATED = 2.5;

/**
 * A face ready for joints. Faces prepared together share `kin`: one light, one sharpness, one metric; only such faces can be joined.
 */
export interface FaceFeatures {
  readonly x0: number;
  readonly y0: number;
  readonly stations: number;
  readonly rows: number;
  readonly sums: StationSums;
  /** Broad look of kept wood at less y, and at more y: [BROAD_STEP][BROAD_ROW][directions]; NaN where no sound wood is. */
  readonly broad: readonly [Float32Array, Float32Array];
  /** High-passed lightness [station][row], 0 where no sound wood is. */
  readonly lines: Float32Array;
  readonly kin: Kin;
}

/** Unlikeness of the imaginary kerfs of a face, block by block: [block][row]. */
export interface Kerfs {
  readonly blocks: number;
  readonly rows: number;
  readonly unlike: Float32Array;
  readonly known: Float32Array;
}

/** How costs in the metric are told as unlikeness, for one way of meeting. */
export interface Scale {
  /** Unlikeness of a block from its cost. */
  unlike(cost: number): number;
  /** All imaginary kerfs of the flitch, face by face. */
  readonly kerfs: readonly Kerfs[];
  /** Their unlikeness by joint length, sorted; filled when first asked for. */
  readonly uncut: Map<number, Float64Array>;
}

/** What faces of one flitch share. */
export interface Kin {
  /** Width of the imaginary kerfs that a seam is held against, mm. */
  readonly kerf: number;
  readonly metric: Metric;
  readonly broadMetric: Metric;
  /** What one degree of the line's own angle changes in the broad metric's space. */
  readonly broadTurn: Float32Array;
  /** Mean squared difference of each feature across uncut kerfs. */
  readonly uncutSpread: Float64Array;
  /** Joints over which wood goes on, and mirrored ones (book match), which are told by their differences alone. */
  readonly onward: Scale;
  readonly mirrored: Scale;
  readonly faces: FaceFeatures[];
}

/**
 * Features of the faces of one flitch for joints between them: light evened out and sharpness made equal over all, defects masked with
 * a margin, grain turned as lines drawn by hand say, each side of every possible line read without a glance at the other, and the metric learnt from the faces' own uncut wood.
 * @param kerf width of the imaginary kerfs to compare with, mm (the saw's own; a real rip takes that much out of the figure)
 */
export function faceFeatures(faces: readonly WoodFace[], { kerf }: { kerf: number }): FaceFeatures[] {
  const sums = evenFaces(faces).map((face, i) => stationSums(face, faces[i]?.grainLines));
  const tables = sums.map((face) => kerfTable(face, kerf));
  const pairs = pairMoments(tables);
  const metric = learnMetric(pairs, BLOCK_RAW, KEEP);
  const broadMetric = padded(learnMetric(pairs, STATION_RAW, [BROAD_KEEP, 0]));
  const kin: Kin = {
    kerf,
    metric,
    broadMetric,
    broadTurn: turnIn(broadMetric),
    uncutSpread: pairs.uncut.differences(),
    onward: scaleOf(tables, metric, false),
    mirrored: scaleOf(tables, metric, true),
    faces: [],
  };
  for (const face of sums) {
    const { stations, rows, x0, y0 } = face;
    const broad = [broadLook(face, LESS, kin), broadLook(face, MORE, kin)] as const;
    kin.faces.push({ x0, y0, stations, rows, sums: face, broad, lines: highPassed(face), kin });
  }
  return kin.faces;
}

/** With as many directions as are kept, the last ones empty where too few tell anything. */
function padded(metric: Metric): Metric {
  const project = new Float32Array(BROAD_KEEP * metric.from);
  project.set(metric.project);
  return { ...metric, project, to: BROAD_KEEP };
}

/** How a turn of the line by a degree moves what is read in the metric's space. */
export function turnIn(metric: Metric): Float32Array {
  const turn = metric.centre.slice();
  for (const i of ANGLES) turn[i] = (turn[i] as number) + 1;
  const out = new Float32Array(metric.to);
  projected(metric, turn, 0, out, 0);
  return out;
}

/** Every kerf's two sides in the metric's space, asked of each block whose both sides are sound enough. */
function eachKerf(
  { blocks, rows, known, less, more }: KerfTable,
  metric: Metric,
  tell: (at: number, p: Float32Array, q: Float32Array) => void,
): void {
  const [p, q] = [new Float32Array(metric.to), new Float32Array(metric.to)];
  for (let at = 0; at < blocks * rows; at++) {
    if ((known[at] as number) < TELLING) continue;
    projected(metric, less, at * BLOCK_RAW, p, 0);
    projected(metric, more, at * BLOCK_RAW, q, 0);
    tell(at, p, q);
  }
}

/** Costs brought to a scale on which uncut wood is 1 in the mean and sides that do not belong together are UNRELATED. */
function scaleOf(tables: readonly KerfTable[], metric: Metric, mirrored: boolean): Scale {
  let [uncut, unrelated, n] = [0, 0, 0];
  const clipped = (cost: number) => Math.max(-MOST, Math.min(MOST, cost));
  const kerfs = tables.map((table): Kerfs => {
    const costs = new Float32Array(table.blocks * table.rows);
    // Sides that were read half a face apart do not belong together.
    const apart = Math.max(1, table.rows >> 1);
    const earlier: Float32Array[] = [];
    eachKerf(table, metric, (at, p, q) => {
      costs[at] = clipped(blockCost(metric, mirrored, p, 0, q, 0));
      uncut += costs[at] as number;
      unrelated += clipped(blockCost(metric, mirrored, p, 0, earlier[n % apart] ?? q, 0));
      earlier[n % apart] = q.slice();
      n++;
    });
    return { blocks: table.blocks, rows: table.rows, unlike: costs, known: table.known };
  });
  const [mean, apart] = [uncut / Math.max(1, n), (unrelated - uncut) / Math.max(1, n)];
  const scale = apart > 1e-6 ? (UNRELATED - 1) / apart : 0;
  const unlike = (cost: number): number => 1 + scale * (clipped(cost) - mean);
  for (const { unlike: costs } of kerfs) for (let i = 0; i < costs.length; i++) costs[i] = unlike(costs[i] as number);
  return { unlike, kerfs, uncut: new Map() };
}

/** The broad look at every BROAD_STEP along and BROAD_ROW across a face. */
function broadLook(face: StationSums, side: Side, { broadMetric: metric }: Kin): Float32Array {
  const every = BROAD_STEP / STATION;
  const columns = Math.ceil(face.stations / every);
  const rows = Math.floor(face.rows / BROAD_ROW) + 1;
  const out = new Float32Array(columns * rows * metric.to);
  const [reader, source] = [new SideReader(), new StationReader(face, side)];
  const raw = new Float32Array(BLOCK_RAW);
  for (let c = 0; c < columns; c++) {
    const j = Math.min(face.stations - 1, c * every + (every >> 1));
    for (let r = 0; r < rows; r++) {
      const at = (c * rows + r) * metric.to;
      reader.add(source, j, r * BROAD_ROW, 0);
      if (reader.finish(0, side === MORE, raw, 0) > 0) projected(metric, raw, 0, out, at);
      else out.fill(Number.NaN, at, at + metric.to);
    }
  }
  return out;
}
