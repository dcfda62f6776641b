import { seamDoes, seamWord } from '../grain';
import { findSlab, type Job, moistureOf, type Slab, wantedTop } from '../job';
import type { YardBound, YardEntry } from '../layout';
import { formatLength, formatMoney, formatPlusMinus, formatShare, listed } from '../units';
import { tapedOnlyWords } from './taped-only';
import { moistureDoubts } from './wood-facts';
import type { YardLook, YardTop } from './yard-facts';

/** What is said of sets of slabs on a rack, by the job's units. */

const MM2_PER_M2 = 1e6;
const MM2_PER_FT2 = 304.8 * 304.8;
/** A chance to fit over this needs no word. */
const SURE = 0.97;
const MOST_OFFCUTS = 3;

/** A slab by its slabKey. */
export const slabOf = (job: Job, key: string): Slab => {
  const [flitch, slab] = key.split('/') as [string, string];
  return findSlab(job, flitch, slab).slab;
};

/** `Slab 3 + Slab 7`; the log is named where the job holds several. */
export function setName(job: Job, slabs: readonly string[]): string {
  if (slabs.length === 0) return 'What you have already';
  const several = Object.keys(job.flitches).length > 1;
  const own = (key: string): string => {
    const { name } = slabOf(job, key);
    const alike = several && slabNames(job).filter((other) => other === name).length > 1;
    return alike ? `${job.flitches[key.split('/')[0] as string]?.name}, ${name}` : name;
  };
  return slabs.map(own).join(' + ');
}

const slabNames = (job: Job): string[] =>
  Object.values(job.flitches).flatMap(({ slabs }) => Object.values(slabs).map(({ name }) => name));

/** `1200.00 EUR/m² (111.48 EUR/ft²)`, the job's own unit first; null without a price or a top. */
export function pricePerArea(job: Job, price: number | null, finished: number): string | null {
  if (price === null || finished === 0) return null;
  const each = (mm2: number, unit: string) => `${formatMoney((price / finished) * mm2, job.currency)}/${unit}`;
  const both = [each(MM2_PER_M2, 'm²'), each(MM2_PER_FT2, 'ft²')];
  const [first, second] = job.units === 'mm' ? both : both.reverse();
  return `${first} (${second})`;
}

/** What a seam looks like, said of the worst. */
export function seamsWord({ seams, unseen }: Pick<YardTop, 'seams' | 'unseen'>): string {
  if (seams.length === 0) return 'no seam';
  if (unseen) return 'its seam is not looked at yet';
  if (seams.some((blend) => blend === null)) return 'no picture yet of its seam';
  return `its seam ${seamDoes(seamWord(Math.min(...(seams as number[]))))}`;
}

/** `Counter: 2200 × 612–640, finishes at 39.5 ±0.8 (38 wanted), its seam disappears`. */
export function topWords(job: Job, top: YardTop): string {
  const { name, size, gives, wanted, had, chance } = top;
  const say = (mm: number) => formatLength(mm, job.units, { decimals: 0 });
  const [least, most] = size.depth;
  const depth = say(least) === say(most) ? say(least) : `${say(least)}–${say(most)}`;
  const thick =
    gives === null
      ? 'its thickness is not known: nothing was read'
      : `finishes at ${formatLength(gives.thickness, job.units)} ${formatPlusMinus(gives.plusMinus, job.units)} (${formatLength(wanted, job.units)} wanted)`;
  return [
    `${name}: ${say(size.length)} × ${depth}`,
    had ? thick : `too thin: ${thick}`,
    seamsWord(top),
    ...(had && chance < SURE ? [`fits with a chance of ${formatShare(chance)}`] : []),
  ].join(', ');
}

/** Why sizes alone keep a top from coming out of a set. */
export function lackWords(job: Job, { top, limit, by }: YardBound['lacks'][number]): string {
  const missing = formatLength(by, job.units, { decimals: 0, unit: true });
  const how = { length: 'too short', depth: 'too narrow', thickness: 'too thin' }[limit];
  return `${wantedTop(job, top)?.name ?? top}: ${missing} ${how} at the least`;
}

/** What is left over, the best pieces first. */
export function leftWords(job: Job, { offcuts, plan }: YardLook): string {
  const say = (mm: number) => formatLength(mm, job.units, { decimals: 0 });
  const pieces = offcuts
    .slice(0, MOST_OFFCUTS)
    .map(({ slab, length, width }) => `${say(length)} × ${say(width)} of ${slab}`);
  const more = offcuts.length > MOST_OFFCUTS ? ` and ${offcuts.length - MOST_OFFCUTS} smaller` : '';
  const kept = pieces.length === 0 ? 'No offcut worth keeping' : `Left over: ${pieces.join(', ')}${more}`;
  return `${kept}; ${formatShare(plan.waste)} is waste.`;
}

/** What is missing to be sure of a set, each with what would help. */
export function doubtWords(job: Job, { bound, look }: YardEntry<YardLook>): string[] {
  const slabs = bound.slabs.map((key) => ({ key, slab: slabOf(job, key) }));
  const named = (which: (slab: Slab, key: string) => boolean): string | null => {
    const found = slabs.filter(({ slab, key }) => which(slab, key)).map(({ key }) => setName(job, [key]));
    return found.length === 0 ? null : listed(found);
  };
  const drawn = (slab: Slab) => slab.faces.top.outline !== null || slab.faces.bottom.outline !== null;
  const pictured = (slab: Slab) => slab.faces.top.picture !== null || slab.faces.bottom.picture !== null;
  const assumed = named((slab) => !drawn(slab));
  const unpictured = named((slab) => drawn(slab) && !pictured(slab));
  const unread = named((slab) => Object.keys(slab.spots).length === 0 && (slab.warp?.bow ?? null) === null);
  const thick = named(
    (slab) =>
      slab.thickness === null &&
      Object.keys(slab.spots).length === 0 &&
      !slab.taped?.thicknesses.some((t) => t !== null),
  );
  const damp = named(
    (slab, key) => moistureOf(findSlab(job, ...(key.split('/') as [string, string])).flitch, slab) === null,
  );
  const unpriced = named((slab) => slab.price === null);
  const seams = look?.tops.some((top) => top.seams.length > 0) ?? true;
  return [
    ...(assumed ? [`${assumed}: ${tapedOnlyWords(job)}. A photo would tell them, and how a seam looks.`] : []),
    ...(unpictured && seams ? [`${unpictured}: no picture yet, so nobody knows how a seam looks.`] : []),
    ...(thick ? [`${thick}: no thickness. Read the edge at four places.`] : []),
    ...(unread && unread !== thick
      ? [`${unread}: no bow was read, so the thickness may be off by several millimetres. Stretch a string along it.`]
      : []),
    ...(damp ? [`${damp}: no moisture was read. Slabs more than 2 % apart are not glued.`] : []),
    ...(unpriced ? [`${unpriced}: no price; in the ranking it counts as the usual one of this rack.`] : []),
    ...Object.values(look?.plan.placements ?? {}).flatMap((placement) => moistureDoubts(job, placement)),
  ];
}
