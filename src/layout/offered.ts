import { atOdds, type Miss, type Plan, type Top } from '../job';
import { facingPairs } from './book';
import type { Candidate } from './candidate';
import type { Choice } from './choose';
import { type Choosing, faultsOf } from './chosen';
import { planOf } from './figures';
import { type Ground, topOf } from './ground';
import type { KeptPlaces } from './kept-places';
import { whyNot } from './miss';
import { whyUnfit } from './miss-wishes';
import { asItLooks, type LookOf } from './piece-looks';
import { measured } from './placement';
import { idsOf } from './runs';
import { searchedTop } from './sawn';
import { seamLook } from './seam-look';
import type { Valuer } from './worth';

/**
 * Choices as plans, the best first. What each misses is said; where a top has no place that is thick enough, or a better one that is too thin, one plan
 * more shows that, last.
 */
export function offered(choices: readonly Choice[], tops: readonly Top[], ground: Ground, choosing: Choosing): Plan[] {
  const { kept, valuer, fixed } = choosing;
  const { job } = ground;
  const planned = (choice: Pick<Choice, 'candidates' | 'gap'>, number: number, missed: readonly Miss[]): Plan =>
    planOf({ ...choice, candidates: eachAsItLooks(choice.candidates, fixed, ground) }, number, missed, job);
  const open = tops.filter(({ id }) => !fixed.some(({ top }) => top.id === id));
  const misses = open.flatMap((top) => missOf(top, kept, ground) ?? []);
  const plans = choices.map((choice, i) => planned(choice, i + 1, [...misses, ...crowdedOut(choice, open, misses)]));
  const thin = bestThin(open, kept, valuer);
  const plan = thin && thinPlan(measured(thin, job.shop), choices[0], plans.length + 1, misses, ground, choosing);
  if (plan) plans.push(plan);
  return plans.length > 0 ? plans : [planOf({ candidates: fixed, gap: 0 }, 1, misses, job)];
}

/** Pieces of runs with their seams as each looks along its own length; what is fixed stays to the letter. */
function eachAsItLooks(
  candidates: readonly Candidate[],
  fixed: readonly Candidate[],
  ground: Ground,
): readonly Candidate[] {
  const lookOf: LookOf = (front, back) => seamLook(ground.grain(front, back));
  return candidates.map((one) =>
    fixed.includes(one) || idsOf(topOf(ground, one.top.id)).length === 1 ? one : asItLooks(one, lookOf),
  );
}

/** A plan that shows a place which finishes too thin, the rest as in another choice as far as it goes with it; null where the checker does not pass it. */
function thinPlan(
  thin: Candidate,
  choice: Choice | undefined,
  number: number,
  known: readonly Miss[],
  ground: Ground,
  choosing: Choosing,
): Plan | null {
  const { job, stock } = ground;
  const shown = thin.pieces ?? [thin];
  const placed = new Set(shown.map(({ top }) => top.id));
  const others = (choice?.candidates ?? []).filter(
    (one) => !placed.has(one.top.id) && !choosing.conflicts.between([one], shown),
  );
  const candidates = [...others, ...shown];
  const misses = [
    ...known.filter(({ top }) => !placed.has(top)),
    ...shown.map(({ top, placement }) => whyNot(top, stock, [{ ...thin, top, placement }], job)),
  ];
  if (faultsOf(choosing, candidates, misses).length > 0) return null;
  const left = (choice?.candidates ?? []).filter(({ top }) => !candidates.some((one) => one.top.id === top.id));
  return planOf(
    { candidates: eachAsItLooks(candidates, choosing.fixed, ground), gap: 0 },
    number,
    [
      ...misses,
      ...crowdedOut(
        { candidates },
        left.map(({ top }) => top),
        misses,
      ),
    ],
    job,
  );
}

/** Why a top has no place at all; null where it has one. */
function missOf(top: Top, kept: KeptPlaces, ground: Ground): Miss | null {
  const { stock, job } = ground;
  if (kept.placesOf(top.id).length > 0) return null;
  const fault = kept.faults.get(top.id);
  if (fault !== undefined) {
    return {
      top: top.id,
      limit: 'stock',
      by: 0,
      message: `${top.name}: the only place found was left out, for the checker does not pass it (${fault}) Widen the depths or shorten the top.`,
    };
  }
  const apart = atOdds(job, top.id);
  if (apart !== null) return { top: top.id, limit: 'stock', by: 0, message: apart };
  const laid = { ...topOf(ground, top.id), id: top.id };
  const thin = kept.thinOf(top.id);
  if (laid.bookMatched && thin.length === 0)
    return { top: top.id, limit: 'stock', by: 0, message: noBook(laid, ground) };
  const unfit = thin.length === 0 ? whyUnfit(laid, kept.unfitOf(top.id), job) : null;
  return unfit ?? whyNot(searchedTop(laid), stock, thin, job);
}

/** Tops that have places, but not beside the others. */
function crowdedOut({ candidates }: Pick<Choice, 'candidates'>, tops: readonly Top[], known: readonly Miss[]): Miss[] {
  return tops
    .filter(({ id }) => !candidates.some(({ top }) => top.id === id) && !known.some((miss) => miss.top === id))
    .map(({ id, name }) => ({
      top: id,
      limit: 'stock' as const,
      by: 0,
      message: `${name}: the slabs that would give it are taken by the other tops. Another slab, or a shorter top, would do.`,
    }));
}

/** The too-thin place worth showing: of a top that has no other, or better than the best of those that are thick enough. */
function bestThin(tops: readonly Top[], kept: KeptPlaces, valuer: Valuer): Candidate | null {
  let best: Candidate | null = null;
  for (const { id } of tops) {
    const rival = Math.max(0, ...kept.placesOf(id).map((one) => valuer.alone(one)));
    for (const candidate of kept.thinOf(id)) {
      const worth = valuer.alone(candidate);
      if (worth > rival && (!best || worth > valuer.alone(best))) best = candidate;
    }
  }
  return best;
}

/** Why a top of which no two halves were found that open like a book is missed. */
function noBook({ name, seams }: Top, { stock }: Ground): string {
  if (seams < 1) return `${name}: opened like a book it has a seam; none is allowed.`;
  return facingPairs(stock).length === 0
    ? `${name}: to be opened like a book it needs the underside of a slab and the upper face of the next one in its log, both traced. Photograph those two faces; of a resawn slab enter the two halves as neighbours.`
    : `${name}: no two faces of one saw cut give both halves of it alike. Widen the depths, shorten the top, or let it be seamed freely.`;
}
