import { evenFaces } from './even-faces';
import type { WoodFace } from './joint-types';
import { highPassed } from './lines';
import { learnMetric, type Metric, projected } from './metric';
import {
  BLOCK_ANGLES,
  emptySide,
  LESS,
  MORE,
  type Side,
  type SideFeatures,
  type StationSums,
  sideFeatures,
  stationSums,
} from './station-sums';
import { uncutPairs } from './uncut-pairs';

/** Directions kept of the two metrics. */
export const EDGE_KEEP = 4;
export const BLOCK_KEEP = 8;
/** Blocks over which the broad look is averaged, mm. */
export const BLOCK = 100;
/** Rows of the block map lie this far apart, mm; what it holds changes slowly. */
export const BLOCK_ROW = 2;

/** One side's features at every station and row of a face, ready to be read along any line. */
interface SideMap {
  /** [station][row][EDGE_KEEP], rows 1 mm apart. */
  readonly edge: Float32Array;
  /** [station][row][3], rows 1 mm apart: share of sound wood, grain angle in degrees, how sure that is. */
  readonly near: Float32Array;
  /** [station][row][BLOCK_KEEP], rows BLOCK_ROW apart. */
  readonly block: Float32Array;
}

/**
 * A face ready for joints. Faces prepared together share `kin`: one light, one sharpness, one metric; only such faces can be joined.
 */
export interface FaceFeatures {
  readonly x0: number;
  readonly y0: number;
  readonly stations: number;
  readonly rows: number;
  /** Kept wood at less y, and at more y. */
  readonly sides: readonly [SideMap, SideMap];
  /** High-passed lightness [station][row], 0 where no sound wood is. */
  readonly lines: Float32Array;
  readonly kin: Kin;
}

/** What faces of one flitch share. */
export interface Kin {
  /** Width of the imaginary kerfs that a seam is held against, mm. */
  readonly kerf: number;
  readonly edgeMetric: Metric;
  readonly blockMetric: Metric;
  /** What one degree of the line's own angle changes in the block metric's space. */
  readonly blockTurn: Float32Array;
  /** Mean squared difference of the grain's angle across uncut kerfs, degrees squared. */
  readonly angleSpread: number;
  readonly faces: FaceFeatures[];
  /** Unlikeness of imaginary kerfs by joint length, sorted; filled when first asked for. */
  readonly uncut: Map<number, Float64Array>;
}

/**
 * Features of the faces of one flitch for joints between them: light evened out and sharpness made equal over all, defects masked with
 * a margin, grain turned as lines drawn by hand say, each side of every possible line read without a glance at the other, and the metric learnt from the faces' own uncut wood.
 * @param kerf width of the imaginary kerfs to compare with, mm (the saw's own; a real rip takes that much out of the figure)
 */
export function faceFeatures(faces: readonly WoodFace[], { kerf }: { kerf: number }): FaceFeatures[] {
  const even = evenFaces(faces);
  const sums = even.map((face, i) => stationSums(face, faces[i]?.grainLines));
  const pairs = uncutPairs(sums, kerf);
  const edgeMetric = learnMetric(pairs.edge.uncut, pairs.edge.unrelated, EDGE_KEEP);
  const blockMetric = learnMetric(pairs.block.uncut, pairs.block.unrelated, BLOCK_KEEP);
  const turn = new Float32Array(blockMetric.from);
  for (const i of BLOCK_ANGLES) turn[i] = 1;
  const blockTurn = new Float32Array(BLOCK_KEEP);
  projected(blockMetric, turn, blockTurn, 0);
  const kin: Kin = {
    kerf,
    edgeMetric,
    blockMetric,
    blockTurn,
    angleSpread: pairs.angleSpread,
    faces: [],
    uncut: new Map(),
  };
  sums.forEach((face) => {
    const { stations, rows, x0, y0 } = face;
    const sides = [sideMap(face, LESS, kin), sideMap(face, MORE, kin)] as const;
    kin.faces.push({ x0, y0, stations, rows, sides, lines: highPassed(face), kin });
  });
  return kin.faces;
}

function sideMap(face: StationSums, side: Side, { edgeMetric, blockMetric }: Kin): SideMap {
  const lines = face.rows + 1;
  const blockRows = Math.floor(face.rows / BLOCK_ROW) + 1;
  const edge = new Float32Array(face.stations * lines * EDGE_KEEP);
  const near = new Float32Array(face.stations * lines * 3);
  const block = new Float32Array(face.stations * blockRows * BLOCK_KEEP);
  const one: SideFeatures = emptySide();
  for (let j = 0; j < face.stations; j++) {
    for (let line = 0; line < lines; line++) {
      sideFeatures(face, j, line, side, one, line % BLOCK_ROW === 0);
      const at = j * lines + line;
      near[3 * at] = one.known;
      if (one.known < 1 / 3) continue;
      near[3 * at + 1] = one.degrees;
      near[3 * at + 2] = one.sure;
      projected(edgeMetric, one.edge, edge, at * EDGE_KEEP);
      if (line % BLOCK_ROW === 0)
        projected(blockMetric, one.block, block, (j * blockRows + line / BLOCK_ROW) * BLOCK_KEEP);
    }
  }
  return { edge, near, block };
}
