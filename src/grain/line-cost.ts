import type { Segment } from '../geometry';
import { BlockLooks } from './block-looks';
import { compareEdges, type Look, type Parts, unlikeness } from './compare';
import { type Edge, linesOver } from './edge';
import type { FaceFeatures } from './face-features';
import { LINE_REACH, LINE_TAPS } from './lines';

/** Lines are averaged over so many stations along the joint: grain is long, pores and noise are not. */
const STATIONS_A_BIN = 4;
/** Only the rows next to the joint are looked at, the nearest most, mm: farther off the rings of a true continuation drift apart, since each face cuts them at a slope of its own. */
const REACH = 4;
const TAPS = 2 * REACH + 1;
const NEARNESS = Float32Array.from({ length: TAPS }, (_, i) => Math.exp(-((i - REACH) ** 2) / (4 * 1.5 ** 2)));
/** A line that stands out by more than so many times the mean counts for no more: the sapwood's border must not decide alone. */
const OUTSTANDING = 2.5;

/** The lines over a joint line, both sides of it, made ready to be held against others: sums of products of these are correlations. */
interface Figure {
  /** How they wander along the joint, without what each row holds from end to end; of unit length. */
  readonly wander: Float32Array;
  /** What each row holds from end to end, and what share of all it is; with `wander` scaled down to the rest, of unit length. */
  readonly level: Float32Array;
  readonly wandering: number;
}

/** One side of a joint with all that the search's cost looks at. */
export interface JointSide {
  readonly edge: Look;
  readonly figure: Figure;
}

/** Reads one side of many joints of a face for `jointCost`: the figure of each line exactly, its look near enough. */
export class SidesOfFace {
  readonly #looks: readonly [BlockLooks, BlockLooks];

  /** @param left whether the wood to the left of the lines is kept */
  constructor(
    readonly face: FaceFeatures,
    left: boolean,
  ) {
    this.#looks = [new BlockLooks(face, false, left), new BlockLooks(face, true, left)];
  }

  read(line: Segment<'face'>): JointSide {
    const [[px, py], [qx, qy]] = line;
    return { edge: this.#looks[qx >= px ? 1 : 0].look(line), figure: figureOf(linesOver(this.face, px, py, qx, qy)) };
  }
}

export const sideOf = (edge: Edge): JointSide => ({ edge, figure: figureOf(edge.lines) });

function figureOf(lines: Float32Array): Figure {
  const count = lines.length / LINE_TAPS;
  const bins = Math.max(1, Math.round(count / STATIONS_A_BIN));
  let size = 0;
  let known = 0;
  for (let i = LINE_REACH; i < lines.length; i += LINE_TAPS) {
    const x = Math.abs(lines[i] as number);
    size += x;
    if (x > 0) known++;
  }
  const most = known > 0 ? (OUTSTANDING * size) / known : 0;
  const wander = new Float32Array(bins * TAPS);
  const level = new Float32Array(TAPS);
  for (let k = 0; k < count; k++) {
    const bin = Math.floor((k * bins) / count) * TAPS;
    const from = k * LINE_TAPS + LINE_REACH - REACH;
    for (let i = 0; i < TAPS; i++) {
      const x = lines[from + i] as number;
      wander[bin + i] = (wander[bin + i] as number) + Math.max(-most, Math.min(most, x));
    }
  }
  let power = 0;
  for (let at = 0; at < wander.length; at += TAPS) {
    for (let i = 0; i < TAPS; i++) {
      const x = (wander[at + i] as number) * (NEARNESS[i] as number);
      wander[at + i] = x;
      power += x * x;
      level[i] = (level[i] as number) + x / bins;
    }
  }
  let rest = 0;
  for (let at = 0; at < wander.length; at += TAPS) {
    for (let i = 0; i < TAPS; i++) {
      const x = (wander[at + i] as number) - (level[i] as number);
      wander[at + i] = x;
      rest += x * x;
    }
  }
  const [whole, wandering] = [Math.sqrt(power) || 1, Math.sqrt(rest) || 1];
  for (let i = 0; i < wander.length; i++) wander[i] = (wander[i] as number) / wandering;
  const scale = Math.sqrt(bins) / whole;
  for (let i = 0; i < TAPS; i++) level[i] = (level[i] as number) * scale;
  return { wander, level, wandering: power > 0 ? Math.sqrt(rest) / whole : 0 };
}

/**
 * How much a joint costs beside its unlikeness when its lines have nothing in common, and when their wander has not. Set by hand, and kept after `npm run accuracy -- seams`:
 * how the line that goes on, across the saw's kerf, ranks among all lines of both faces. With each of three rendered flitches left out in turn the
 * others ask for 2.5 to 4 of the wander (8 without the leaves), and hardly tell 0 to 1.5 of the lines apart; these put the right line first
 * as often as what is asked or oftener, in the flitch left out.
 */
const LINES_COUNT = 1;
const WANDER_COUNT = 4;

/** What a joint's cost is made of. */
export interface CostParts {
  readonly unlike: number;
  /** Shares of the lines over one side, and of their wander, that those over the other do not explain, 0..1. */
  readonly lines: number;
  readonly wander: number;
}

export function costParts(p: JointSide, q: JointSide, kin: FaceFeatures['kin']): CostParts {
  const [f, g] = [p.figure, q.figure];
  let wander = 0;
  for (let i = 0; i < f.wander.length; i++) wander += (f.wander[i] as number) * (g.wander[i] as number);
  let all = f.wandering * g.wandering * wander;
  for (let i = 0; i < TAPS; i++) all += (f.level[i] as number) * (g.level[i] as number);
  const unlike = unlikeness(compareEdges(p.edge, q.edge, kin, scratch));
  return { unlike, lines: unexplained(all), wander: unexplained(wander) };
}
const scratch: Parts = { look: 0, known: 0 };
const unexplained = (correlation: number): number => 1 - Math.max(0, correlation) ** 2;

/**
 * What a search for a seam minimises: unlikeness, and the share of the lines over one side that those over the other do not explain (one
 * less the squared correlation, as in any regression). So lines that match no better than by chance change next to nothing, and those that
 * are the same lines count for much. Their wander along the joint counts most: rings parallel to the joint meet by chance wherever their
 * spacing is alike; that they wander alike does not happen by chance.
 */
export function jointCost(p: JointSide, q: JointSide, kin: FaceFeatures['kin']): number {
  const { unlike, lines, wander } = costParts(p, q, kin);
  return unlike + LINES_COUNT * lines + WANDER_COUNT * wander;
}
