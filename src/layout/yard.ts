import { type Job, type Plan, wantedTops } from '../job';
import { type Control, pause } from '../search';
import { InputProblem } from '../units';
import { jobWith, rackOf } from './yard-assumed';
import { type YardBound, YardBounds } from './yard-bound';
import { slabReaches, topNeeds } from './yard-reach';
import { type PlanWorth, sharesOf, type YardAim } from './yard-value';

/**
 * Which slabs of a rack to buy (issue: at the yard). Every single slab and every pair is bounded from its sizes alone; the most promising are laid out by
 * shape, and those that still lead with the seams of their pictures, until no other can beat the best, nor what is next best should one of its slabs be
 * sold.
 */

/** What laying out the job on a set gave, and what it is worth by it. */
export interface Looked extends Pick<PlanWorth, 'value' | 'most' | 'hope'> {
  readonly plan: Plan;
  /** Whether its seams were looked for in the pictures, as far as there are any. */
  readonly seen: boolean;
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
  /** How many may still beat the first, or be the next best should one of its slabs be sold; at 0 the ranking is settled. */
  readonly open: number;
  /** The slab whose sale they are the next best for; null where they may beat the first. */
  readonly sold: string | null;
  /** By how much worth at most, and how many of them might give more tops than the first does. */
  readonly gain: number;
  readonly moreTops: number;
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
  /** Lays out the job on a set (and what is owned), by shape alone or with its pictures; several may be asked for at a time. */
  look(bound: YardBound, pictures: boolean): Promise<L>;
  /** One unit of its budget is one set that is laid out, by shape or with its pictures. */
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
    const { rivals, value, sold } = rivalsIn(rack, looks);
    const ranking = rankingOf(rack, looks, rivals, value, sold);
    heard?.(ranking);
    const next = rivals.slice(0, Math.min(BATCH, control.budget.left));
    if (next.length === 0) return ranking;
    await pause(
      control,
      looks.size / (looks.size + rivals.length),
      `${looks.size} laid out, ${rivals.length} might still be better`,
    );
    const found = await Promise.all(next.map((bound) => look(bound, looks.has(bound))));
    next.forEach((bound, i) => {
      looks.set(bound, found[i] as L);
    });
    control.budget.spend(next.length);
  }
}

type Looks = ReadonlyMap<YardBound, Looked>;

/** What a set is worth at most, and may be hoped to be worth, as far as it has been looked at. */
const mostOf = (bound: YardBound, looks: Looks): number => looks.get(bound)?.most ?? bound.most;
const hopeOf = (bound: YardBound, looks: Looks): number => looks.get(bound)?.hope ?? bound.hope;

/** Whether another look could tell more of a set. */
const isOpen = (bound: YardBound, looks: Looks): boolean => {
  const look = looks.get(bound);
  return look ? !look.seen && look.most > look.value + ROUNDING : bound.tops.length > 0;
};

/** A rack with what is known of its sets. */
function rankingOf<L extends Looked>(
  bounds: readonly YardBound[],
  looks: ReadonlyMap<YardBound, L>,
  rivals: readonly YardBound[],
  value: number,
  sold: string | null,
): YardRanking<L> {
  const entries = bounds.map((bound): YardEntry<L> => {
    const look = looks.get(bound) ?? null;
    const known = look !== null && !isOpen(bound, looks);
    return { bound, look, stands: known ? look.value : hopeOf(bound, looks) };
  });
  // What has been laid out stands before what has not, where they are alike.
  entries.sort(
    (a, b) => b.stands - a.stands || Number(b.look !== null) - Number(a.look !== null) || byHope(a.bound, b.bound),
  );
  const had = leaderOf(bounds, looks, null)?.tops.length ?? 0;
  return {
    entries,
    looked: looks.size,
    open: rivals.length,
    sold,
    gain: Number.isFinite(value) ? Math.max(0, ...rivals.map((bound) => mostOf(bound, looks) - value)) : Infinity,
    moreTops: rivals.filter((bound) => !looks.has(bound) && bound.tops.length > had).length,
  };
}

/**
 * The sets that may still beat the best of those laid out, the most hopeful first; where none may, those that may be the next best without one of its
 * slabs; and what is to be beaten. Sets that can give no top are never laid out.
 */
function rivalsIn(
  bounds: readonly YardBound[],
  looks: Looks,
): { rivals: YardBound[]; value: number; sold: string | null } {
  const best = leaderOf(bounds, looks, null);
  for (const sold of [null, ...(best?.slabs ?? [])]) {
    const leader = leaderOf(bounds, looks, sold);
    const value = leader ? (looks.get(leader) as Looked).value : -Infinity;
    const rivals = bounds
      .filter((bound) => isOpen(bound, looks) && !has(bound, sold) && mostOf(bound, looks) > value + ROUNDING)
      .sort((a, b) => hopeOf(b, looks) - hopeOf(a, looks));
    if (rivals.length > 0) return { rivals, value, sold };
  }
  return { rivals: [], value: 0, sold: null };
}

/** The best of those laid out, one slab left aside. */
function leaderOf(bounds: readonly YardBound[], looks: Looks, sold: string | null): YardBound | null {
  let best: YardBound | null = null;
  for (const bound of bounds) {
    const look = looks.get(bound);
    if (!look || has(bound, sold)) continue;
    if (!best || look.value > (looks.get(best) as Looked).value) best = bound;
  }
  return best;
}

/** What is best of the sets that were laid out once a slab is sold to somebody else; null where there is none. @param sold slabKey of it */
export function bestWithout<L extends Looked>({ entries }: YardRanking<L>, sold: string | null): YardEntry<L> | null {
  let best: YardEntry<L> | null = null;
  for (const entry of entries) {
    if (!entry.look || has(entry.bound, sold)) continue;
    if (!best?.look || entry.look.value > best.look.value) best = entry;
  }
  return best;
}

const has = ({ slabs }: YardBound, key: string | null): boolean => key !== null && slabs.includes(key);
