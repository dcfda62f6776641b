import { type Point, simplifyLine } from '../geometry';
import { joined, type Place } from './crack-joints';
import { type Darkness, type Threshold, threshold } from './dark';
import type { ProposedDefect } from './trace-types';

export type Crack = Extract<ProposedDefect, { kind: 'crack' }>;

/**
 * Cracks: dark valleys that run along the slab, followed column by column of its turned picture. Rings are as narrow but shallow, and
 * many: how much lightness is missing tells them apart, held against the figure round about.
 */

/** Missing lightness from which a valley is a crack, and down to which it is followed: at least so, so many times the figure, at most so. */
const SURE: Threshold = { least: 0.45, figure: 7, most: 0.6 };
const FAINT: Threshold = { least: 0.28, figure: 4.5, most: 0.42 };
/** A crack misses at least this much where it is open to the dark. */
const OPEN = 0.7;
/** Shorter ones are left to the eye; pieces shorter than PIECE are not even joined, mm. */
const SHORTEST = 35;
const PIECE = 10;
/** Share of its length over which a crack is beyond doubt. */
const SHARE = 0.2;
/** A crack is at least this many times as long as wide. Darkness wider than WIDEST, mm, is none, unless of open cracks side by side. */
const SLENDER = 25;
const WIDEST = 14;
/** A crack this wide lets no light back: it misses so much in the mean; bark does not. */
const BROAD = 2;
const HOLLOW = 0.58;
/** Two valleys in one column are two where the ridge between them is so much shallower than both. */
const RIDGE = 0.85;
/** How far a crack moves sideways from one column to the next at most, and columns that it may skip. */
const SIDEWAYS = 2;
const SKIP = 3;
/** The centre line is smoothed over so many places to either side. */
const SMOOTH = 3;
/** Centre lines are simplified to within this, mm. */
const SIMPLER = 0.5;

/** A valley where one column crosses it, px. */
interface Crossing {
  readonly x: number;
  readonly y: number;
  readonly from: number;
  readonly to: number;
  /** All lightness missing across it, and the most. */
  readonly sum: number;
  readonly deepest: number;
  readonly sure: boolean;
}

/** Cracks from tip to tip as centre lines on the face, with their widths, mm. */
export function findCracks(dark: Darkness): Crack[] {
  const pieces = follow(dark).filter((piece) => piece.length >= PIECE);
  return joined(
    pieces.map((piece) => placesOf(piece)),
    dark,
  ).flatMap((line) => {
    const own = line.filter(({ bridged }) => !bridged);
    const length = own.length;
    const sure = own.filter((place) => place.sure).length;
    if (length < SHORTEST || sure < SHARE * length) return [];
    const wide = own.reduce((sum, place) => sum + place.width, 0) / length;
    const depth = own.reduce((sum, place) => sum + place.depth, 0) / length;
    if (length < SLENDER * wide || (wide > BROAD && depth < HOLLOW)) return [];
    const confidence = Math.min(0.95, Math.max(0.1, (depth * Math.min(1, length / 100)) / OPEN));
    return [{ kind: 'crack' as const, line: simpler(line, dark), confidence }];
  });
}

/** Valleys followed from column to column. */
function follow(dark: Darkness): Crossing[][] {
  const done: Crossing[][] = [];
  let open: Crossing[][] = [];
  const runs = darkRuns(dark);
  for (let x = 0; x < dark.width; x++) {
    const crossings = crossingsOf(dark, x, runs[x] as Run[]);
    const pairs = open
      .flatMap((track) => {
        const last = track.at(-1) as Crossing;
        return crossings
          .filter((next) => next.from <= last.to + SIDEWAYS && next.to >= last.from - SIDEWAYS)
          .map((next) => ({ track, next, off: Math.abs(next.y - onward(track, x)) }));
      })
      .sort((p, q) => p.off - q.off);
    const taken = new Set<Crossing | Crossing[]>();
    for (const { track, next } of pairs) {
      if (taken.has(track) || taken.has(next)) continue;
      taken.add(track).add(next);
      track.push(next);
    }
    const [still, over] = [
      open.filter((t) => x - (t.at(-1) as Crossing).x < SKIP),
      open.filter((t) => x - (t.at(-1) as Crossing).x >= SKIP),
    ];
    done.push(...over);
    open = [...still, ...crossings.filter((next) => !taken.has(next)).map((next) => [next])];
  }
  return [...done, ...open];
}

/** Where a track would be at a column, from its last few. */
function onward(track: readonly Crossing[], x: number): number {
  const last = track.at(-1) as Crossing;
  const before = track[Math.max(0, track.length - 8)] as Crossing;
  const slope = last.x > before.x ? (last.y - before.y) / (last.x - before.x) : 0;
  return last.y + slope * (x - last.x);
}

/** Where a column is dark without a break, px: [from, to). */
type Run = readonly [from: number, to: number];

/** The dark runs of every column, found row by row as the picture lies in memory. */
function darkRuns({ below, figure, width, height }: Darkness): Run[][] {
  const runs = Array.from({ length: width }, (): Run[] => []);
  const begun = new Int32Array(width).fill(-1);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const from = begun[x] as number;
      if ((below[i] as number) > threshold(FAINT, figure[i] as number)) {
        if (from < 0) begun[x] = y;
      } else if (from >= 0) {
        runs[x]?.push([from, y]);
        begun[x] = -1;
      }
    }
  }
  begun.forEach((from, x) => {
    if (from >= 0) runs[x]?.push([from, height]);
  });
  return runs;
}

/** The valleys of one column, those that run together split where a ridge parts them. */
function crossingsOf({ below, figure, width }: Darkness, x: number, runs: readonly Run[]): Crossing[] {
  const at = (y: number) => below[y * width + x] as number;
  const found: Crossing[] = [];
  for (const [start, end] of runs) {
    for (const [from, to] of split(at, start, end)) {
      if (to - from > WIDEST) continue;
      let [sum, moment, deepest] = [0, 0, 0];
      for (let k = from; k < to; k++) {
        sum += at(k);
        moment += at(k) * (k + 0.5);
        deepest = Math.max(deepest, at(k));
      }
      if (end - start > WIDEST && deepest < OPEN) continue;
      const middle = Math.floor(moment / sum);
      const sure = deepest > threshold(SURE, figure[middle * width + x] as number);
      found.push({ x, y: moment / sum, from, to, sum, deepest, sure });
    }
  }
  return found;
}

/** Spans [from, to) of a dark run between its ridges. */
function split(at: (y: number) => number, from: number, to: number): Run[] {
  const cuts = [from];
  let [peak, low] = [at(from), from];
  for (let y = from + 1; y < to; y++) {
    if (at(y) < at(low)) low = y;
    if (at(low) < RIDGE * Math.min(peak, at(y))) {
      cuts.push(low);
      [peak, low] = [at(y), y];
    } else if (at(y) > peak) [peak, low] = [at(y), y];
  }
  return cuts.map((cut, i) => [cut, cuts[i + 1] ?? to]);
}

/** A piece as places: its centre smoothed, its width that of as much full darkness as it holds. */
function placesOf(piece: readonly Crossing[]): Place[] {
  const depths = piece.map(({ deepest }) => deepest).sort((a, b) => a - b);
  // A slit narrower than the picture's blur is shallower than it is dark: the crack's own open stretches tell how dark.
  const full = Math.max(OPEN, depths[Math.floor(0.9 * depths.length)] as number);
  return piece.map(({ x, sum, deepest, sure }, i) => {
    const near = piece.slice(Math.max(0, i - SMOOTH), i + SMOOTH + 1);
    const y =
      near.reduce((s, p) => s + p.y, 0) / near.length +
      slopeOf(near) * (x - near.reduce((s, p) => s + p.x, 0) / near.length);
    return { x: x + 0.5, y, width: sum / full, depth: deepest, sure, bridged: false };
  });
}

function slopeOf(near: readonly Crossing[]): number {
  const [first, last] = [near[0] as Crossing, near.at(-1) as Crossing];
  return last.x > first.x ? (last.y - first.y) / (last.x - first.x) : 0;
}

/** On the face, with fewer places: between them neither place nor width is off by more than that. */
function simpler(line: readonly Place[], { toFace }: Darkness): Crack['line'] {
  const places = line.map(({ x, y }) => toFace(x, y));
  const widths = line.map(({ x, width }): Point<'face'> => [x, width]);
  const kept = new Set([...simplifyLine(places, SIMPLER), ...simplifyLine(widths, SIMPLER)]);
  return line.flatMap(({ width }, i) => {
    const [p, w] = [places[i] as Point<'face'>, widths[i] as Point<'face'>];
    return kept.has(p) || kept.has(w) ? [[p[0], p[1], width] as const] : [];
  });
}
