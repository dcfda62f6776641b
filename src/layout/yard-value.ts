import { ringArea } from '../geometry';
import { findSlab, type Job, type Placement, type Plan, type Weights, wantedTop, wantedTops } from '../job';
import { chanceOfFit } from './chance';
import { sizeShares } from './size-share';
import { prepareStock, stockOf } from './stock';
import { jobWith } from './yard-assumed';

/**
 * What a set of slabs is worth to somebody who wants certain tops. Having a top, by its size, outweighs everything else; then it is as places are ranked
 * (worth.ts), but the price is that of the whole set, once, and weighs more: slabs are bought, not strips. The shares are ours (no source).
 */

/** What the buyer looks at first once the tops are had. */
export type YardAim = 'best' | 'cheapest';

/** What each thing counts. */
export interface Shares {
  readonly placed: number;
  readonly seam: number;
  readonly spare: number;
  readonly unused: number;
  readonly price: number;
}

const PLACED = 1000;
const BEST = { seam: 200, spare: 60, unused: 100, price: 150 };
const CHEAPEST = { seam: 40, spare: 10, unused: 10, price: 800 };

/** Shares by the maker's own weights, or with the price before all. */
export function sharesOf(aim: YardAim, weights: Weights): Shares {
  if (aim === 'cheapest') return { placed: 2 * PLACED, ...CHEAPEST };
  return {
    placed: PLACED * Math.max(1, ...Object.values(weights)),
    seam: BEST.seam * weights.blend,
    spare: BEST.spare * weights.spare,
    unused: BEST.unused * weights.yield,
    price: BEST.price * weights.cost,
  };
}

/** A seam as continuous as uncut wood's median loses nothing against wood without a seam. */
const AS_UNCUT = 0.5;
/** Where nothing is known of a seam's look, it counts as one that shows. */
const UNKNOWN_BLEND = 0.05;
/** Thickness to spare beyond this, mm, brings nothing more. */
const ENOUGH = 3;
/** Slabs that cost so much together, in the job's currency, weigh half of what any price can. */
const USUAL_PRICE = 500;

/** What a seam adds, 0..1; null where no picture tells. */
export const seamShare = (blend: number | null): number => Math.min(1, Math.sqrt((blend ?? UNKNOWN_BLEND) / AS_UNCUT));

/** What one top that is had is worth. */
export interface TopWorth {
  /** What having it counts by its size (size-share.ts). */
  readonly size: number;
  /** Chance that it fits, whatever the ± of the outlines. */
  readonly chance: number;
  /** Its worst seam's share. */
  readonly seam: number;
  /** Thickness over what is wanted, mm; null where it is not known. */
  readonly spare: number | null;
}

export const topValue = (shares: Shares, { size, chance, seam, spare }: TopWorth): number =>
  shares.placed * size * chance + shares.seam * seam + shares.spare * Math.min(1, Math.max(0, spare ?? 0) / ENOUGH);

/** What a set costs in worth: its price, and the wood of it that no top uses. @param parts share of the wood that tops use, 0..1 */
export const setCost = (shares: Shares, price: number, parts: number): number =>
  shares.unused * (1 - Math.min(1, parts)) + (shares.price * price) / (price + USUAL_PRICE);

/** What a difference in worth is in money: by how much less a set would have to cost for it; null where it is worth more than all of the price. */
export function inMoney({ price: share }: Shares, price: number, worth: number): number | null {
  const left = share === 0 ? -1 : price / (price + USUAL_PRICE) - worth / share;
  return left < 0 ? null : price - (USUAL_PRICE * left) / (1 - left);
}

/** Tops of a plan that come out thick enough, or of a thickness that nobody can tell. */
export function topsHad(job: Job, plan: Plan): string[] {
  return Object.values(plan.placements).flatMap(({ top: id, thickness }) => {
    const top = wantedTop(job, id);
    return top && (thickness === null || thickness >= top.thickness) ? [id] : [];
  });
}

/** What a plan makes of a set of slabs. */
export interface PlanWorth {
  readonly value: number;
  /** The same should every seam disappear that nobody has looked at though there are pictures of it, and should they look as seams usually do. */
  readonly most: number;
  readonly hope: number;
  readonly chances: Readonly<Record<string, number>>;
}

/** How seams between two slabs of a log usually look, by how far apart they were sawn, and between two logs (settled on rendered logs, no source). */
const USUAL_BLEND = { neighbours: 0.3, sameLog: 0.15, otherLog: 0.03 };

/** Where a slab was sawn: neighbours look alike. */
interface Sawn {
  readonly flitch: string;
  readonly place: number;
}

/** How a seam between slabs is hoped to look; between strips of one slab as between neighbours. */
export function usualBlend([a, b, ...more]: readonly Sawn[]): number {
  if (!a || !b) return USUAL_BLEND.neighbours;
  if (a.flitch !== b.flitch) return USUAL_BLEND.otherLog;
  return more.length === 0 && Math.abs(a.place - b.place) <= 1 ? USUAL_BLEND.neighbours : USUAL_BLEND.sameLog;
}

/** Whether a seam could be looked at that nobody has looked at yet. */
export const isUnseen = (job: Job, { joints, strips }: Placement): boolean =>
  joints.some(({ blend }) => blend === null) &&
  strips.every((strip) => findSlab(job, strip.flitch, strip.slab).slab.faces[strip.face].picture !== null);

/**
 * Worth of a set of slabs by the best plan for it, and the chance of each of its tops.
 * @param slabs slabKey of all that the plan may use
 */
export function planValue(
  job: Job,
  plan: Plan,
  aim: YardAim,
  slabs: readonly string[],
  { paid, wood }: { readonly paid: number; readonly wood: number },
): PlanWorth {
  const shares = sharesOf(aim, job.shop.weights);
  const stock = prepareStock(jobWith(job, slabs), new Map());
  const chances: Record<string, number> = {};
  const sizeOf = sizeShares(wantedTops(job));
  let [value, parts, more, hoped] = [0, 0, 0, 0];
  for (const id of topsHad(job, plan)) {
    const placement = plan.placements[id];
    const top = wantedTop(job, id);
    const faces = placement && stockOf(placement.strips, stock);
    if (!placement || !top || !faces) continue;
    const chance = chanceOfFit({ top, placement, stock: faces });
    chances[id] = chance;
    const seam = Math.min(1, ...placement.joints.map(({ blend }) => seamShare(blend)));
    const spare = placement.thickness === null ? null : placement.thickness - top.thickness;
    value += topValue(shares, { size: sizeOf(top), chance, seam, spare });
    if (isUnseen(job, placement)) {
      const usual = usualBlend(faces.map(({ flitch, slab }) => ({ flitch: flitch.id, place: slab.place })));
      more += shares.seam * (1 - seam);
      hoped += shares.seam * (seamShare(usual) - seam);
    }
    parts += placement.strips.reduce((sum, { finished }) => sum + ringArea(finished), 0);
  }
  value -= setCost(shares, paid, wood === 0 ? 0 : parts / wood);
  return { value, most: value + more, hope: value + hoped, chances };
}
