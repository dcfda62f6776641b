import type { Arrangement, Match } from '../job';
import { steps } from './match-patterns';

/** An outer leaf of a centred panel is at least this share of a whole one, and the last of a running one this wide, mm (practice). */
const OUTER = 1 / 3;
const LAST = 25;

/** What leaves the bench can give: asked by how wide and how long a window must be. */
export interface Columns {
  /** Fewest equal columns of a width that enough leaves reach, in so many bays; `Infinity` never: as many as it likes where none do. */
  readonly fewest: (width: number, height: number, bays: number) => number;
  /** Breadth that leaves commonly give at a height, edges to be jointed taken off, mm. */
  readonly broad: (height: number) => number;
}

/** What is known of a bay: the stretch of a panel between two lines that must be joints. */
export interface Bay {
  readonly from: number;
  readonly to: number;
  readonly height: number;
  readonly match: Match;
  readonly arrangement: Arrangement;
  readonly leaves: number | null;
}

const even = (n: number): number => n + (n % 2);

/** Lines at which the leaves of a bay meet, its two ends among them. */
export function linesOfBay({ from, to, height, match, arrangement, leaves }: Bay, bays: number, of: Columns): number[] {
  const width = to - from;
  const fewest = (at: number) => leaves ?? of.fewest(width, at, bays);
  if (match === 'slip centre book') {
    // 4-1.2.20.3: four leaves or more, an even count, so that the middle is a joint.
    const n = fewest(height);
    return steps(from, to, bays % 2 === 1 ? Math.max(bays === 1 ? 4 : 2, even(n)) : n);
  }
  if (arrangement === 'running')
    return running(from, to, leaves ?? Math.ceil(width / of.broad(height) - 1e-9), of.broad(height));
  if (arrangement === 'centred') {
    const n = leaves ?? Math.ceil(width / of.broad(height) - 1e-9);
    return centred(from, to, Math.max(1, n), of.broad(height));
  }
  const n = fewest(height);
  const count = leaves === null && arrangement === 'balanced and centred' ? even(n) : n;
  return steps(from, to, count);
}

/** Whole leaves about the middle, the outer two cut alike. */
function centred(from: number, to: number, n: number, broad: number): number[] {
  const width = to - from;
  if (n < 3) return steps(from, to, n);
  const pitch = Math.min(broad, width / (n - 2 + 2 * OUTER));
  const middle = (from + to) / 2;
  const inner = Array.from({ length: n - 1 }, (_, i) => middle + (i + 1 - n / 2) * pitch);
  return [from, ...inner, to];
}

/** Whole leaves from the left, the last one cut. */
function running(from: number, to: number, n: number, broad: number): number[] {
  const width = to - from;
  if (n < 2) return [from, to];
  const pitch = Math.min(broad, (width - LAST) / (n - 1));
  return [...Array.from({ length: n }, (_, i) => from + i * pitch), to];
}
