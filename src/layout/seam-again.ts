import { bounds } from '../geometry';
import { type Control, pause, stage } from '../search';
import type { KnownSeam } from './known-seams';
import { placeOf } from './seam-behind';
import { settle } from './seam-climb';
import {
  benchOf,
  distinct,
  type FoundSeam,
  measuredSeams,
  offsetsDiffer,
  type SeamLimits,
  type SearchedSlab,
} from './seam-found';
import type { Pair, Scored } from './seam-pair';
import type { LinePlace, SeamWish } from './seam-room';
import { spread } from './spread';

/**
 * Seams of two slabs along joint lines that are known from another top: a seam goes on beyond that top's ends, and a shorter one lies along a part of it.
 * So a further top on a pair that was searched costs a look along its lines, not the whole search again.
 */

/** Steps along the lines, mm. */
const ALONG = 60;
/** So many are followed to the best near them, and so many given. */
const FOLLOWED = 4;
const GIVEN = 8;
/** Seams along one line differ when they lie so far apart along it, those of two lines when an offset does, mm. */
const APART = 200;
const DIFFERENT = 25;

/** A line moved along itself, in its own direction. */
function movedAlong(place: LinePlace, by: number): LinePlace {
  const t = (place.degrees * Math.PI) / 180;
  return { ...place, x: place.x + place.way * by * Math.cos(t), y: place.y + place.way * by * Math.sin(t) };
}

const differs = (a: Pair, b: Pair): boolean =>
  offsetsDiffer(a, b, DIFFERENT) || Math.abs(a.front.x - b.front.x) >= APART;

/**
 * The best seams along known lines, best first; none where none of them makes the top. Deterministic; one unit of the budget is one full evaluation.
 * @throws Cancelled
 */
export async function seamsAlong(
  front: SearchedSlab,
  back: SearchedSlab,
  wish: SeamWish,
  limits: SeamLimits,
  known: readonly KnownSeam[],
  control: Control,
): Promise<FoundSeam[]> {
  const bench = benchOf(front, back, wish, limits);
  const { minX, maxX } = bounds(front.outline.outer);
  const looked: Scored[] = [];
  for (const [i, seam] of known.entries()) {
    await pause(control, (0.5 * i) / known.length);
    const [f, b] = [placeOf(seam.front), placeOf(seam.back)];
    const ends = [minX + wish.length / 2, maxX - wish.length / 2].map((x) => f.way * (x - f.x)).sort((p, q) => p - q);
    const steps = spread(ends[0] as number, ends[1] as number, ALONG);
    const own = [0, ...steps].flatMap((by): Scored[] => {
      const pair: Pair = { front: movedAlong(f, by), back: movedAlong(b, by) };
      const done = bench.evaluated;
      const cost = control.budget.left === 0 ? Infinity : bench.cost(pair);
      control.budget.spend(bench.evaluated - done);
      return Number.isFinite(cost) ? [{ ...pair, cost }] : [];
    });
    looked.push(...own);
  }
  const modes = distinct(looked, GIVEN, differs);
  const quiet: Control = { ...stage(control, 0, 1), progress: () => {} };
  const seams: Scored[] = [];
  for (const [i, mode] of modes.entries()) {
    await pause(control, 0.5 + (0.5 * i) / modes.length);
    seams.push(i < FOLLOWED ? await settle(bench, mode, quiet) : mode);
  }
  control.progress(1);
  return measuredSeams(distinct(seams, GIVEN, differs), front, back, wish.length);
}
