import { type Job, type Plan, refuseBadTops, type Strip, type Top, wantedTop, wantedTops } from '../job';
import { Cancelled, type Control, type Highs, pause, stage } from '../search';
import { InputProblem } from '../units';
import type { Candidate } from './candidate';
import { chainSearch } from './chain-search';
import { type Choice, Conflicts } from './choose';
import { type Checker, type Choosing, choose, chooseSeveral } from './chosen';
import { type Ground, groundOf } from './ground';
import { KeptPlaces } from './kept-places';
import { KnownSeams } from './known-seams';
import { offered } from './offered';
import { onePieces, shapedPlaces } from './own-places';
import { withReglued } from './reglue-beside';
import { packed, relay } from './relay';
import { groupsToLay, lockedWith } from './runs';
import { promisingPairs, type Rounds, searchRounds } from './seam-rounds';
import { type SeamSearch, searchHere } from './seam-task';
import { type Pictures, stockOf } from './stock';
import { valuer } from './worth';

/** How many plans are offered: enough to choose from, few enough to compare. */
const PLANS = 4;

/** Places of one piece of a face, and places with a seam by shape, that a first plan is made of. */
const FIRST_ON_FACE = 3;
const FIRST_SHAPED = 6;
/** Places of one piece of a face in the end. */
const ON_FACE = 8;
/** As many tops are laid one after the other for the very first plan: with more of them that is no quicker than looking at all places. */
const FEW = 6;
/** Orders in which tops are laid one after the other while one of them has no place. */
const PACKED = 3;

export interface ProposeOptions {
  /**
   * Hears plans as they come, each time the best so far, the first within about a second. With it, work that is called off after the first plan gives
   * what was found until then.
   */
  readonly heard?: (plans: readonly Plan[]) => void;
  /** Says what is wrong with placements; no plan with a fault is given. */
  readonly check?: Checker;
  /** Who searches pairs of faces for seams; this thread, if left out. */
  readonly search?: SeamSearch;
}

/** The locked placements of the job; those whose slab or top is gone are let go. */
function lockedPlaces({ job, stock }: Ground): Candidate[] {
  return lockedWith(job).flatMap(({ plan, top: topId }): Candidate[] => {
    const placement = job.plans[plan]?.placements[topId];
    const top = wantedTop(job, topId);
    const faces = placement && stockOf(placement.strips, stock);
    return top && placement && faces ? [{ top, placement, stock: faces }] : [];
  });
}

const area = ({ length, depth }: Top): number => length * depth[0];

/**
 * Plans for the job's tops, the best first, each different enough that a maker would see it. A plan that misses a wanted top carries the miss, and
 * stands last when it shows a place that is only too thin. Locked places stay, and the rest is laid around them. Deterministic unless the control's
 * budget is one of time.
 * @param pictures rectified faces by key (faceKey); a pair of faces without both pictures is seamed by shape alone, its blend unknown
 * @param highs the loaded mixed-integer solver
 * @throws InputProblem when the job wants no top, or one that cannot be as it was typed or drawn
 * @throws Cancelled when the caller stops it
 */
export async function proposePlans(
  job: Job,
  pictures: Pictures,
  highs: Highs,
  control: Control,
  options: ProposeOptions = {},
): Promise<Plan[]> {
  const tops = wantedTops(job);
  if (tops.length === 0) {
    throw new InputProblem('The job wants no top yet.', '/tops', 'Add a top with its length, depth and thickness.');
  }
  refuseBadTops(job);
  const ground = groundOf(job, pictures);
  const fixed = lockedPlaces(ground);
  const groups = groupsToLay(job)
    .map((copies) => copies.filter(({ id }) => !fixed.some(({ top }) => top.id === id)))
    .filter((copies) => copies.length > 0);
  const ranks = valuer(ground.stock, tops, job.shop.weights);
  const kept = new KeptPlaces(job, ranks, groups);
  const choosing: Choosing = {
    highs,
    kept,
    valuer: ranks,
    conflicts: new Conflicts(job),
    fixed,
    check: options.check ?? (() => []),
  };
  const taken: Strip[] = fixed.flatMap(({ placement }) => placement.strips);
  const search = options.search ?? searchHere(ground);
  const rounds: Rounds = { ground, kept, valuer: ranks, taken, search, seams: new KnownSeams() };
  const give = (choices: readonly Choice[]): Plan[] => offered(choices, tops, ground, choosing);
  let best: Choice | null = null;
  const chosen = (): Choice => {
    const choice = choose(choosing);
    if (options.heard && (!best || choice.value > best.value)) options.heard(give([choice]));
    best = choice;
    return choice;
  };
  try {
    await layOut(rounds, groups, chosen, control);
  } catch (error) {
    if (!(error instanceof Cancelled) || !options.heard || !best) throw error;
  }
  const plans = give(withReglued(choosing, chooseSeveral(choosing, PLANS)));
  control.progress(1);
  return plans;
}

/** Finds places until nothing that is worth its time is left, or the budget is. */
async function layOut(
  rounds: Rounds,
  groups: readonly (readonly Top[])[],
  chosen: () => Choice,
  control: Control,
): Promise<void> {
  const { ground, kept, taken } = rounds;
  await pause(control, 0, 'Laying the slabs out');
  const pairs = promisingPairs(groups, rounds);
  const open = groups.flat();
  if (open.length <= FEW) {
    packed(
      rounds,
      [...open].sort((a, b) => area(b) - area(a)),
      pairs,
    );
    chosen();
    await pause(control, 0.01);
  }
  onEach(rounds, groups, FIRST_ON_FACE);
  for (const [top] of groups) {
    if (!top || top.seams === 0) continue;
    const own = pairs.filter(({ most }) => most.has(top.id));
    // Where every edge swings too much the calmest is to be told.
    const both = (
      own.length > 0 || top.swing === null ? own : promisingPairs([[{ ...top, swing: null }]], rounds)
    ).flatMap(({ faces: [a, b] }) => [[a, b] as const, [b, a] as const]);
    const { fit, unfit } = shapedPlaces(top, ground, both, FIRST_SHAPED);
    kept.add(top.id, fit, unfit);
  }
  let choice = chosen();
  for (let i = 0; i < PACKED; i++) {
    const placed = new Set(choice.candidates.map(({ top }) => top.id));
    const missing = open.filter(({ id }) => !placed.has(id));
    if (missing.length === 0) break;
    await pause(control, 0.02);
    const rest = open.filter(({ id }) => placed.has(id)).sort((a, b) => area(b) - area(a));
    packed(rounds, i % 2 === 0 ? [...missing, ...rest] : [...rest, ...missing], pairs);
    choice = chosen();
  }
  choice = await searchRounds(rounds, groups, pairs, choice, chosen, stage(control, 0.05, 0.75));
  onEach(rounds, groups, ON_FACE);
  choice = chosen();
  if (control.budget.left > 0) choice = await relay(rounds, open, choice, chosen, stage(control, 0.75, 0.9));
  if (control.budget.left > 0) {
    const placed = new Set(choice.candidates.map(({ top }) => top.id));
    await chainSearch(ground, kept, groups, taken, placed, stage(control, 0.9, 1));
    chosen();
  }
}

/** Places of one piece for every top. */
function onEach({ ground, kept, taken }: Rounds, groups: readonly (readonly Top[])[], most: number): void {
  for (const copies of groups) {
    const [top] = copies;
    if (!top) continue;
    const { fit, unfit } = onePieces(top, copies.length, ground, taken, most);
    kept.add(top.id, fit, unfit);
  }
}
