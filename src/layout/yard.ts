import { type Job, type Plan, wantedTops } from '../job';
import { type Control, pause } from '../search';
import { InputProblem } from '../units';
import { jobWith, rackOf } from './yard-assumed';
import { type YardBound, YardBounds } from './yard-bound';
import { slabReaches, topNeeds } from './yard-reach';
import { sharesOf, type YardAim } from './yard-value';

/**
 * Which slabs of a rack to buy (issue: at the yard). Every single slab and every pair is bounded from its sizes alone; then the most promising are
 * laid out in full, until no other can beat the best, nor what is next best should one of its slabs be sold.
 */

/** What laying out the job on a set gave, and what it is worth by it (planValue). */
export interface Looked {
  readonly plan: Plan;
  readonly value: number;
}

/** A set of slabs, bounded, and laid out or not. */
export interface YardEntry<L extends Looked = Looked> {
  readonly bound: YardBound;
  /** Null until it has been laid out. */
  readonly look: L | null;
  /** What it ranks by: its worth, or while it has not been laid out what it may be hoped to be. */
  readonly stands: number;
}

/** A rack ranked. */
export interface YardRanking<L extends Looked = Looked> {
  /** The best first. */
  readonly entries: readonly YardEntry<L>[];
  /** How many have been laid out. */
  readonly looked: number;
  /** How many of the others may still beat the first, or be the next best should one of its slabs be sold; at 0 the ranking is settled. */
  readonly open: number;
}

/** Sets of more than two slabs are grown from so many of the best smaller ones, to this size. */
const GROWN_FROM = 24;
const MOST_SLABS = 6;
/** So many are laid out before it is asked again which are worth it: the same on one core as on eight. */
const BATCH = 4;
/** Differences in worth that are none. */
const ROUNDING = 1e-6;

/**
 * Every single slab and every pair on the rack, bounded, the most hopeful first; larger sets too where no pair could give all the tops. Takes some
 * seconds for a full rack.
 * @throws InputProblem when the job wants no top, or no slab on offer has an outline or taped sizes
 * @throws Cancelled
 */
export async function boundRack(job: Job, aim: YardAim, control: Control): Promise<YardBound[]> {
  if (wantedTops(job).length === 0)
    throw new InputProblem('The job wants no top yet.', '/tops', 'Say under Tops and doors what is to be made.');
  const { offered, owned } = rackOf(job);
  const needs = topNeeds(job);
  const reaches = [];
  for (const [i, key] of [...owned, ...offered].entries()) {
    await pause(control, i / (owned.length + offered.length), 'What each slab could give');
    reaches.push(...slabReaches(jobWith(job, [key]), needs));
  }
  const known = reaches.map(({ key }) => key);
  const rack = offered.filter((key) => known.includes(key));
  if (rack.length === 0) {
    throw new InputProblem(
      'No slab on offer has an outline or taped sizes.',
      '/flitches',
      'Type the length and a width of a slab on offer, or photograph it.',
    );
  }
  const prices = reaches.flatMap(({ price }) => price ?? []).sort((a, b) => a - b);
  const usual = prices[Math.floor(prices.length / 2)] ?? 0;
  const bounds = new YardBounds(reaches, needs, owned, sharesOf(aim, job.shop.weights), usual, job.shop.seam.angle);
  const nothing = owned.some((key) => known.includes(key)) ? [bounds.of([])] : [];
  const singles = rack.map((key) => bounds.of([key]));
  const pairs = rack.flatMap((a, i) => rack.slice(i + 1).map((b) => bounds.of([a, b])));
  const small = [...nothing, ...singles, ...pairs].sort(byHope);
  return [...small, ...grown(small, rack, bounds, needs.length)].sort(byHope);
}

/** Larger sets, each from a smaller one by another slab, as long as more tops are had by it. */
function grown(small: readonly YardBound[], rack: readonly string[], bounds: YardBounds, tops: number): YardBound[] {
  const made = new Map<string, YardBound>();
  let from = small.filter(({ slabs }) => slabs.length === 2).slice(0, GROWN_FROM);
  let had = Math.max(0, ...small.map((bound) => bound.tops.length));
  for (let size = 3; size <= MOST_SLABS && had < tops && from.length > 0; size++) {
    const next = new Map<string, YardBound>();
    for (const { slabs } of from) {
      for (const key of rack) {
        const set = rack.filter((one) => one === key || slabs.includes(one));
        const name = set.join(' ');
        if (set.length === size && !next.has(name)) next.set(name, bounds.of(set));
      }
    }
    from = [...next.values()].sort(byHope).slice(0, GROWN_FROM);
    had = Math.max(had, ...from.map((bound) => bound.tops.length));
    for (const bound of from) made.set(bound.slabs.join(' '), bound);
  }
  return [...made.values()];
}

const byHope = (a: YardBound, b: YardBound): number =>
  b.hope - a.hope || b.most - a.most || a.slabs.length - b.slabs.length || (a.slabs.join() < b.slabs.join() ? -1 : 1);

/** What ranking a rack needs. */
export interface YardRace<L extends Looked> {
  /** From `boundRack`. */
  readonly bounds: readonly YardBound[];
  /** Lays out the job on a set (and what is owned); several may be asked for at a time. */
  look(bound: YardBound): Promise<L>;
  /** One unit of its budget is one set that is laid out. */
  readonly control: Control;
  /** Hears the ranking as it is so far, each better known than the one before. */
  heard?(ranking: YardRanking<L>): void;
}

/**
 * The rack ranked. Which sets are looked at is settled batch by batch, so the answer is the same in whatever order looks come back.
 * @throws Cancelled
 */
export async function rankYard<L extends Looked>({
  bounds,
  look,
  control,
  heard,
}: YardRace<L>): Promise<YardRanking<L>> {
  const rack = [...bounds].sort(byHope);
  const looks = new Map<YardBound, L>();
  for (;;) {
    const rivals = rivalsIn(rack, looks);
    const ranking = rankingOf(rack, looks, rivals.length);
    heard?.(ranking);
    const next = rivals.slice(0, Math.min(BATCH, control.budget.left));
    if (next.length === 0) return ranking;
    await pause(
      control,
      looks.size / (looks.size + rivals.length),
      `${looks.size} laid out, ${rivals.length} might still be better`,
    );
    const found = await Promise.all(next.map(look));
    next.forEach((bound, i) => {
      looks.set(bound, found[i] as L);
    });
    control.budget.spend(next.length);
  }
}

/** A rack with what is known of its sets. */
function rankingOf<L extends Looked>(
  bounds: readonly YardBound[],
  looks: ReadonlyMap<YardBound, L>,
  open: number,
): YardRanking<L> {
  const entries = bounds.map((bound): YardEntry<L> => {
    const look = looks.get(bound) ?? null;
    return { bound, look, stands: look ? look.value : bound.hope };
  });
  // What has been laid out stands before what has not, where they are alike.
  entries.sort(
    (a, b) => b.stands - a.stands || Number(b.look !== null) - Number(a.look !== null) || byHope(a.bound, b.bound),
  );
  return { entries, looked: looks.size, open };
}

/**
 * The sets that may still beat the best of those laid out, the most hopeful first; where none may, those that may be the next best without one of its
 * slabs. Sets that can give no top are never laid out.
 */
function rivalsIn(bounds: readonly YardBound[], looks: ReadonlyMap<YardBound, Looked>): YardBound[] {
  const best = leaderOf(bounds, looks, null);
  for (const sold of [null, ...(best?.slabs ?? [])]) {
    const leader = leaderOf(bounds, looks, sold);
    const value = leader ? (looks.get(leader) as Looked).value : -Infinity;
    const rivals = bounds.filter(
      (bound) => !looks.has(bound) && bound.tops.length > 0 && !has(bound, sold) && bound.most > value + ROUNDING,
    );
    if (rivals.length > 0) return rivals;
  }
  return [];
}

/** The best of those laid out, one slab left aside. */
function leaderOf(
  bounds: readonly YardBound[],
  looks: ReadonlyMap<YardBound, Looked>,
  sold: string | null,
): YardBound | null {
  let best: YardBound | null = null;
  for (const bound of bounds) {
    const look = looks.get(bound);
    if (!look || has(bound, sold)) continue;
    if (!best || look.value > (looks.get(best) as Looked).value) best = bound;
  }
  return best;
}

/** What is best of the sets that were laid out once a slab is sold to somebody else; null where there is none. @param sold slabKey of it */
export const bestWithout = <L extends Looked>({ entries }: YardRanking<L>, sold: string | null): YardEntry<L> | null =>
  entries.find(({ bound, look }) => look !== null && !has(bound, sold)) ?? null;

const has = ({ slabs }: YardBound, key: string | null): boolean => key !== null && slabs.includes(key);
