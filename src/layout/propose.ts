import type { Job, Miss, Plan, Top } from '../job';
import { type Control, type Highs, pause, stage } from '../search';
import { InputProblem } from '../units';
import { alike, type Choice, rankedChoices } from './choose';
import { stripPlaces } from './columns';
import { planOf } from './figures';
import { whyNot } from './miss';
import { type Candidate, measured, onePiece, type SeamPlace, seamed } from './placement';
import { offeredTo } from './sapwood';
import { grainOfPairs } from './seam-grain';
import { seamPlaces } from './seam-places';
import { type FaceStock, type Pictures, prepareStock, stockOf } from './stock';
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
}

const thickEnough = ({ top, placement }: Candidate): boolean =>
  placement.thickness === null || placement.thickness >= top.thickness;

/** All places of one top on the stock that keep every limit but thickness. */
async function placesOf(
  top: Top,
  stock: readonly FaceStock[],
  grain: ReturnType<typeof grainOfPairs>,
  job: Job,
  control: Control,
): Promise<Places> {
  const found: Candidate[] = [];
  const wish = { length: top.length, depth: top.depth, front: top.front, angle: job.shop.seam.angle };
  const sapwood = (face: FaceStock) => (top.sapwood === 'wanted' ? { sapwood: face.sapwood() } : {});
  const offered = stock.map((face) => offeredTo(top, face));
  const views = offers(offered, top, Object.keys(job.tops).length);
  for (const view of views) {
    for (const face of view) {
      for (const place of stripPlaces(face, { ...wish, ...sapwood(face) })) {
        const candidate = onePiece({ ...place, stock: whole(face, stock) }, top, job.shop);
        if (candidate) found.push(candidate);
      }
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
  return sieved(found, job);
}

/**
 * The leaders by worth, their thickness measured by the model of warp. The first sieve's thickness is rather too thick, so what it
 * finds too thin is too thin.
 */
function sieved(found: readonly Candidate[], job: Job): Places {
  const ranked = found.map((candidate) => ({
    candidate,
    rank: worth(candidate) - (thickEnough(candidate) ? 0 : TOO_THIN),
  }));
  ranked.sort((a, b) => b.rank - a.rank);
  const leaders: Candidate[] = [];
  for (const { candidate } of ranked) {
    if (leaders.length === LEADERS) break;
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
    const top = job.tops[topId];
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
  const tops = Object.values(job.tops);
  if (tops.length === 0) {
    throw new InputProblem('The job wants no top yet.', '/tops', 'Add a top with its length, depth and thickness.');
  }
  const stock = prepareStock(job, pictures);
  const grain = grainOfPairs(job.shop.kerf.rip);
  const locked = lockedPlaces(job, stock);
  const good: Candidate[] = [];
  const thin: Candidate[] = [];
  const misses: Miss[] = [];
  for (const [i, top] of tops.entries()) {
    const keep = locked.get(top.id);
    const places = keep
      ? { good: [keep], thin: [] }
      : await placesOf(top, stock, grain, job, stage(control, i / tops.length, (i + 1) / tops.length));
    good.push(...places.good);
    thin.push(...places.thin);
    if (places.good.length === 0) misses.push(whyNot(top, stock, places.thin, job));
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
