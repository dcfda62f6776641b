import { type Job, offerOf, wantedTops } from '../job';
import { bestWithout, inMoney, rackOf, sharesOf, type YardAim, type YardEntry, type YardRanking } from '../layout';
import { formatMoney, listed } from '../units';
import type { YardLook } from './yard-facts';
import { doubtWords, lackWords, leftWords, pricePerArea, setName, slabOf, topWords } from './yard-words';

/** A ranked rack in words: what the screen lists and a buyer reads aloud. */
export interface YardReport {
  /** One or two sentences: what to buy, and how sure that is. */
  readonly verdict: string;
  /** How far the ranking is. */
  readonly progress: string;
  /** Whether nothing is left to look at that could change the first place, or the next best without one of its slabs. */
  readonly settled: boolean;
  /** Sets in their order, the best first. */
  readonly sets: readonly SetLine[];
  /** Every slab of the job, in its order. */
  readonly slabs: readonly SlabLine[];
}

/** A set of slabs. */
export interface SetLine {
  /** Its slabKeys; none where it is what is owned already. */
  readonly slabs: readonly string[];
  readonly name: string;
  /** Null where a price is missing. */
  readonly price: string | null;
  /** Money per finished m2 and ft2; null before it has been laid out, or without a price or a top. */
  readonly each: string | null;
  /** Whether it was laid out, is ranked by its sizes only, or can give nothing. */
  readonly state: 'laid out' | 'by its sizes' | 'gives nothing';
  /** How many of the wanted tops it gives, or may give. */
  readonly gives: { readonly tops: number; readonly of: number };
  /** Each top, and why others are not had. */
  readonly tops: readonly string[];
  readonly misses: readonly string[];
  readonly left: string | null;
  /** What is missing to be sure. */
  readonly doubts: readonly string[];
  /** What becomes of the purchase when one of its slabs is sold first; only for the leader. */
  readonly ifSold: readonly string[];
}

/** One slab. */
export interface SlabLine {
  readonly key: string;
  readonly offer: ReturnType<typeof offerOf>;
  readonly name: string;
  readonly price: string | null;
  /** The place of the best set that it is in, from 1; null where none gives anything. */
  readonly rank: number | null;
  readonly verdict: string;
}

/** So many sets are told in full. */
const TOLD = 60;

/** The ranking in words. Sets with a slab that was sold, or taken out of the job, are left out, so that slabs may be marked while it stands. */
export function yardReport(job: Job, ranking: YardRanking<YardLook>, aim: YardAim): YardReport {
  const { offered, owned, sold } = rackOf(job);
  const there = [...offered, ...owned];
  const entries = ranking.entries.filter(({ bound }) => bound.slabs.every((key) => there.includes(key)));
  const standing: YardRanking<YardLook> = { ...ranking, entries };
  const leader = bestWithout(standing, null);
  const order = [...entries.filter((entry) => entry === leader), ...entries.filter((entry) => entry !== leader)];
  return {
    verdict: verdict(job, leader, ranking, aim),
    progress: progress(ranking),
    settled: ranking.open === 0,
    sets: order
      .slice(0, TOLD)
      .map((entry) => setLine(job, entry, entry === leader ? ifSold(job, standing, entry) : [])),
    slabs: [...there, ...sold].map((key) => slabLine(job, key, order)),
  };
}

function verdict(job: Job, leader: YardEntry<YardLook> | null, ranking: YardRanking<YardLook>, aim: YardAim): string {
  if (!leader?.look) return 'Nothing has been laid out yet.';
  const { bound, look } = leader;
  const tops = wantedTops(job).length;
  const had = look.tops.filter((top) => top.had).length;
  if (had === 0) return 'No set that was laid out gives a top.';
  const buy =
    bound.slabs.length === 0
      ? 'Buy nothing: what you have already'
      : `Buy ${listed(bound.slabs.map((key) => setName(job, [key])))}: ${bound.slabs.length > 1 ? 'together they' : 'it'}`;
  const gives = bound.slabs.length > 1 ? 'give' : 'gives';
  const all = tops === 1 ? 'the top' : tops === 2 ? 'both tops' : `all ${tops} tops`;
  const what = had === tops ? all : `${had} of the ${tops} tops`;
  const sure =
    ranking.open === 0 || ranking.sold !== null
      ? 'No other single slab or pair ranks higher, by the sizes as they are known.'
      : `Not settled: ${ranking.open} ${ranking.open === 1 ? 'set' : 'sets'} not looked at to the end might still rank higher${mightGain(job, bound.price, ranking, aim)}.`;
  const next =
    ranking.open > 0 && ranking.sold !== null
      ? ` What is next best should ${setName(job, [ranking.sold])} be sold is not settled yet.`
      : '';
  return `${buy} ${gives} ${what}. ${sure}${next}`;
}

/** By how much sets that are not looked at to the end could be better at most: a top more, or what a price off the first would do. */
function mightGain(job: Job, price: number | null, { gain, moreTops }: YardRanking<YardLook>, aim: YardAim): string {
  if (moreTops > 0) return `; by ${moreTops === 1 ? 'its' : 'their'} sizes ${moreTops} might give a top more`;
  if (price === null || price === 0) return '';
  const money = inMoney(sharesOf(aim, job.shop.weights), price, gain);
  return money === null
    ? ', by more than any price off this one would make up for'
    : `, by as much at most as ${formatMoney(money, job.currency)} off the price of this one`;
}

function progress({ entries, looked, open, sold }: YardRanking<YardLook>): string {
  const nothing = entries.filter(({ bound }) => bound.tops.length === 0).length;
  const rest =
    open === 0
      ? 'none of the others can be better'
      : `${open} might still be ${sold === null ? 'better' : 'the next best'}`;
  return `${entries.length} sets: ${nothing} can give no top, ${looked} ${looked === 1 ? 'was' : 'were'} laid out, ${rest}.`;
}

function setLine(job: Job, entry: YardEntry<YardLook>, sold: readonly string[]): SetLine {
  const { bound, look } = entry;
  const had = look?.tops.filter((top) => top.had) ?? [];
  const name = (id: string): string => wantedTops(job).find((top) => top.id === id)?.name ?? id;
  const lacks = bound.lacks.map((lack) => lackWords(job, lack));
  const able = bound.tops.map((id) => `${name(id)}: by its sizes it may be had; not laid out yet`);
  const beside = wantedTops(job)
    .filter(({ id }) => !bound.tops.includes(id) && !bound.lacks.some((lack) => lack.top === id))
    .map((top) => `${top.name}: not beside the others`);
  return {
    slabs: bound.slabs,
    name: setName(job, bound.slabs),
    price: bound.price === null ? null : formatMoney(bound.price, job.currency),
    each: look ? pricePerArea(job, bound.price, look.finished) : null,
    state: look
      ? had.length > 0
        ? 'laid out'
        : 'gives nothing'
      : bound.tops.length > 0
        ? 'by its sizes'
        : 'gives nothing',
    gives: { tops: look ? had.length : bound.tops.length, of: wantedTops(job).length },
    tops: look ? had.map((top) => topWords(job, top)) : able,
    misses: look ? look.plan.misses.map(({ message }) => message) : [...lacks, ...beside],
    left: look && had.length > 0 ? leftWords(job, look) : null,
    doubts: doubtWords(job, entry),
    ifSold: sold,
  };
}

/** What stands once a slab of the leader is sold. */
function ifSold(job: Job, standing: YardRanking<YardLook>, leader: YardEntry<YardLook>): string[] {
  const tops = (entry: YardEntry<YardLook>): number => entry.look?.tops.filter((top) => top.had).length ?? 0;
  return leader.bound.slabs.map((key) => {
    const name = setName(job, [key]);
    const next = bestWithout(standing, key);
    if (!next || tops(next) === 0)
      return `If ${name} is sold, this fails, and no other set that was laid out gives a top.`;
    const dearer = priceChange(job, leader.bound.price, next.bound.price);
    const fewer = tops(next) < tops(leader) ? `, but gives only ${tops(next)} of ${wantedTops(job).length} tops` : '';
    return `If ${name} is sold, this fails; the next best is ${setName(job, next.bound.slabs)}${dearer}${fewer}.`;
  });
}

function priceChange(job: Job, from: number | null, to: number | null): string {
  if (from === null || to === null) return '';
  if (to === from) return ' at the same price';
  return `, ${formatMoney(Math.abs(to - from), job.currency)} ${to > from ? 'dearer' : 'cheaper'}`;
}

function slabLine(job: Job, key: string, order: readonly YardEntry<YardLook>[]): SlabLine {
  const slab = slabOf(job, key);
  const useful = order.filter(({ bound, look }) => (look ? look.tops.some((top) => top.had) : bound.tops.length > 0));
  const at = useful.findIndex(({ bound }) => bound.slabs.includes(key));
  const best = useful[at];
  const own = order.find(({ bound }) => bound.slabs.length === 1 && bound.slabs[0] === key);
  const offer = offerOf(slab);
  return {
    key,
    offer,
    name: setName(job, [key]),
    price: slab.price === null ? null : formatMoney(slab.price, job.currency),
    rank: best ? at + 1 : null,
    verdict: verdictOf(),
  };

  function verdictOf(): string {
    if (offer === 'sold') return 'Sold: every set with it is gone.';
    if (offer === 'bought') return 'Yours: it costs nothing more, and every set may use it.';
    if (!own) return 'Not ranked: type its length and a width, or photograph it.';
    if (!best)
      return own.bound.lacks.length > 0
        ? own.bound.lacks.map((lack) => lackWords(job, lack)).join('; ')
        : 'Gives no top.';
    const others = best.bound.slabs.filter((other) => other !== key);
    const company = others.length === 0 ? 'alone' : `with ${listed(others.map((other) => setName(job, [other])))}`;
    const place = at === 0 ? 'In the best set' : `At best in place ${at + 1}`;
    return `${place}, ${company}${best.look ? '' : ' (by its sizes, not laid out yet)'}.`;
  }
}
