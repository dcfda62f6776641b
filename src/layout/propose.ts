import { type Job, type Miss, type Plan, type Top, topGroups, wantedTop, wantedTops } from '../job';
import { type Control, type Highs, pause, stage } from '../search';
import { InputProblem } from '../units';
import { type ChainSearch, chains, ownSeams } from './chains';
import { alike, type Choice, rankedChoices } from './choose';
import { type StripPlace, stripPlaces } from './columns';
import { forCopy, placesBeside } from './copies';
import { planOf } from './figures';
import { fitted, isFit } from './fitted';
import { whyNot } from './miss';
import { whyUnfit } from './miss-wishes';
import { type Candidate, measured, onePiece, type SeamPlace, seamed } from './placement';
import { offeredTo } from './sapwood';
import { searchedTop } from './sawn';
import { grainOfPairs } from './seam-grain';
import { seamPlaces } from './seam-places';
import { type FaceStock, type Pictures, stockAtHand, stockOf } from './stock';
import type { Unfit } from './unfit';
import { offers, whole } from './window';
import { worth } from './worth';

/** How many plans are offered: enough to choose from, few enough to compare. */
const PLANS = 4;

/** Places of a top that are measured closely and chosen among. */
const LEADERS = 24;
/** Of places that a maker would call the same, so many: one may fit beside another top where its twin does not. */
const ALIKE_LEADERS = 3;
/** Ranks every place that is too thin behind all that are not. */
const TOO_THIN = 1e6;

interface Places {
  /** Sound and thick enough, or of unknown thickness. */
  readonly good: readonly Candidate[];
  /** Sound, but finishing too thin. */
  readonly thin: readonly Candidate[];
  /** What keeps the rest from being what is wanted. */
  readonly unfit: readonly Unfit[];
}

const thickEnough = ({ top, placement }: Candidate): boolean =>
  placement.thickness === null || placement.thickness >= top.thickness;

/** All places of one top on the stock that keep every limit but thickness. @param count how many alike are wanted beside each other */
async function placesOf(
  wanted: Top,
  count: number,
  stock: readonly FaceStock[],
  grain: ReturnType<typeof grainOfPairs>,
  job: Job,
  control: Control,
): Promise<Places> {
  const found: Candidate[] = [];
  const top = searchedTop(wanted);
  const wish = { length: top.length, depth: top.depth, front: top.front, angle: job.shop.seam.angle };
  const sapwood = (face: FaceStock) => (top.sapwood === 'wanted' ? { sapwood: face.sapwood() } : {});
  const offered = stock.map((face) => offeredTo(top, face));
  const views = offers(offered, top, wantedTops(job).length);
  for (const view of views) {
    for (const face of view) {
      for (const place of stripPlaces(face, { ...wish, ...sapwood(face) })) {
        const candidate = onePiece({ ...place, stock: whole(face, stock) }, top, job.shop);
        if (candidate) found.push(candidate);
      }
    }
  }
  const side: Candidate[] = [];
  if (count > 1) {
    for (const face of offered) {
      const cut = (place: StripPlace) => onePiece({ ...place, stock: whole(face, stock) }, top, job.shop);
      side.push(...placesBeside(face, { ...wish, ...sapwood(face) }, count, job.shop, cut));
    }
  }
  if (top.seams > 0) {
    const pairs = views.flatMap((view) =>
      view.flatMap((front) => view.filter((back) => back.slab !== front.slab).map((back) => [front, back] as const)),
    );
    for (const [i, [front, back]] of pairs.entries()) {
      const part = stage(control, i / pairs.length, (i + 1) / pairs.length);
      await pause(part, 0, `${top.name}: ${front.slab.name} in front, ${back.slab.name} behind`);
      const seams = await seamPlaces(front, back, grain(front, back), top, job.shop, part);
      for (const seam of seams) {
        const onWhole: SeamPlace = {
          ...seam,
          front: { ...seam.front, stock: whole(seam.front.stock, stock) },
          back: { ...seam.back, stock: whole(seam.back.stock, stock) },
        };
        const candidate = seamed(onWhole, top, job.shop);
        if (typeof candidate !== 'string') found.push(candidate);
      }
    }
  }
  const search: ChainSearch = { top, shop: job.shop, offered, stock, grain };
  found.push(...(await ownSeams(search, stage(control, 1, 1))));
  // More strips are for tops that fewer do not give: every seam more is one more to show.
  if (!found.some(thickEnough)) found.push(...(await chains(search, stage(control, 1, 1))));
  const fit = (candidates: readonly Candidate[]) => candidates.map((one) => fitted(one, wanted, job.shop));
  const [places, beside] = [fit(found), fit(side)];
  const unfit = [...places, ...beside].filter((one) => !isFit(one));
  return { ...sieved(places.filter(isFit), beside.filter(isFit), job), unfit };
}

/**
 * The leaders by worth, their thickness measured by the model of warp. The first sieve's thickness is rather too thick, so what it
 * finds too thin is too thin.
 * @param side places beside each other for alike tops, which stand whatever their rank
 */
function sieved(found: readonly Candidate[], side: readonly Candidate[], job: Job): Omit<Places, 'unfit'> {
  const ranked = found.map((candidate) => ({
    candidate,
    rank: worth(candidate) - (thickEnough(candidate) ? 0 : TOO_THIN),
  }));
  ranked.sort((a, b) => b.rank - a.rank);
  const leaders = side.map((candidate) => measured(candidate, job.shop));
  const most = leaders.length + LEADERS;
  for (const { candidate } of ranked) {
    if (leaders.length === most) break;
    if (leaders.filter((leader) => alike(leader, candidate)).length < ALIKE_LEADERS)
      leaders.push(measured(candidate, job.shop));
  }
  return { good: leaders.filter(thickEnough), thin: leaders.filter((candidate) => !thickEnough(candidate)) };
}

/** The locked placements of the job as candidates; those whose slab or top is gone are let go. */
function lockedPlaces(job: Job, stock: readonly FaceStock[]): Map<string, Candidate> {
  const locked = new Map<string, Candidate>();
  for (const { plan, top: topId } of Object.values(job.locks)) {
    const placement = job.plans[plan]?.placements[topId];
    const top = wantedTop(job, topId);
    if (!placement || !top) continue;
    const faces = stockOf(placement.strips, stock);
    if (faces) locked.set(topId, { top, placement, stock: faces });
  }
  return locked;
}

/**
 * Plans for the job's tops, the best first, each different enough that a maker would see it. A plan that misses a wanted top carries the miss, and
 * stands last when it shows a place that is only too thin.
 * @param pictures rectified faces by key (faceKey); a pair of faces without both pictures is seamed by shape alone, its blend unknown
 * @param highs the loaded mixed-integer solver
 * @throws InputProblem when the job wants no top
 * @throws Cancelled when the caller stops it
 */
export async function proposePlans(job: Job, pictures: Pictures, highs: Highs, control: Control): Promise<Plan[]> {
  const tops = wantedTops(job);
  if (tops.length === 0) {
    throw new InputProblem('The job wants no top yet.', '/tops', 'Add a top with its length, depth and thickness.');
  }
  const stock = stockAtHand(job, pictures);
  const grain = grainOfPairs(job.shop.kerf.rip);
  const locked = lockedPlaces(job, stock);
  const good: Candidate[] = [];
  const thin: Candidate[] = [];
  const misses: Miss[] = [];
  const groups = topGroups(job);
  for (const [i, copies] of groups.entries()) {
    const open = copies.filter(({ id }) => !locked.has(id));
    good.push(...copies.flatMap(({ id }) => locked.get(id) ?? []));
    const [first] = open;
    if (!first) continue;
    const part = stage(control, i / groups.length, (i + 1) / groups.length);
    const places = await placesOf(first, open.length, stock, grain, job, part);
    for (const top of open) {
      good.push(...places.good.map((candidate) => forCopy(candidate, top)));
      thin.push(...places.thin.map((candidate) => forCopy(candidate, top)));
      if (places.good.length > 0) continue;
      const miss = places.thin.length === 0 ? whyUnfit(top, places.unfit, job) : null;
      misses.push(miss ?? whyNot(searchedTop(top), stock, places.thin, job));
    }
  }
  const choices = rankedChoices(highs, good, job.shop, PLANS);
  const plans = choices.map((choice, i) =>
    planOf(choice, i + 1, [...misses, ...crowdedOut(choice, tops, misses)], job),
  );
  const missing = bestThin(thin, good);
  if (missing) {
    const others = (choices[0]?.candidates ?? []).filter(({ top }) => top.id !== missing.top.id);
    const miss = whyNot(missing.top, stock, [missing], job);
    plans.push(
      planOf(
        { candidates: [...others, missing], gap: 0 },
        plans.length + 1,
        [...misses.filter((m) => m.top !== missing.top.id), miss],
        job,
      ),
    );
  }
  if (plans.length === 0) plans.push(planOf({ candidates: [], gap: 0 }, 1, misses, job));
  control.progress(1);
  return plans;
}

/** Tops that have places, but not beside the others. */
function crowdedOut({ candidates }: Choice, tops: readonly Top[], known: readonly Miss[]): Miss[] {
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
function bestThin(thin: readonly Candidate[], good: readonly Candidate[]): Candidate | null {
  let best: Candidate | null = null;
  for (const candidate of thin) {
    const rival = good
      .filter(({ top }) => top.id === candidate.top.id)
      .reduce((most, c) => Math.max(most, worth(c)), 0);
    if (worth(candidate) > rival && (!best || worth(candidate) > worth(best))) best = candidate;
  }
  return best;
}
