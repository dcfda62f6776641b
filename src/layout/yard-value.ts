import { ringArea } from '../geometry';
import { type Job, type Plan, wantedTop } from '../job';

/**
 * What a set of slabs is worth to somebody who wants certain tops. Having a top outweighs everything else together; then it is as places are
 * ranked (worth.ts), but the price is that of the whole set, once, and weighs more: slabs are bought, not strips. The shares are ours (no source).
 */
const PLACED = 1000;

/** What the buyer looks at first once the tops are had. */
export type YardAim = 'best' | 'cheapest';

interface Shares {
  readonly seam: number;
  readonly spare: number;
  readonly unused: number;
  readonly price: number;
}

const SHARES: Readonly<Record<YardAim, Shares>> = {
  best: { seam: 200, spare: 60, unused: 100, price: 150 },
  cheapest: { seam: 40, spare: 10, unused: 10, price: 800 },
};

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

/** Worth of one top that is had. @param seam its worst seam's share; @param spare thickness over what is wanted, mm, null where not known */
export const topValue = (aim: YardAim, seam: number, spare: number | null): number =>
  PLACED + SHARES[aim].seam * seam + SHARES[aim].spare * Math.min(1, Math.max(0, spare ?? 0) / ENOUGH);

/** What a set costs in worth: its price, and the wood of it that no top uses. @param parts share of the wood that tops use, 0..1 */
export const setCost = (aim: YardAim, price: number, parts: number): number =>
  SHARES[aim].unused * (1 - Math.min(1, parts)) + (SHARES[aim].price * price) / (price + USUAL_PRICE);

/** Tops of a plan that come out thick enough, or of a thickness that nobody can tell. */
export function topsHad(job: Job, plan: Plan): string[] {
  return Object.values(plan.placements).flatMap(({ top: id, thickness }) => {
    const top = wantedTop(job, id);
    return top && (thickness === null || thickness >= top.thickness) ? [id] : [];
  });
}

/** Worth of a set of slabs by the best plan for it. @param price of what must be bought; @param wood area of the set's faces, mm2 */
export function planValue(job: Job, plan: Plan, aim: YardAim, price: number, wood: number): number {
  let [value, parts] = [0, 0];
  for (const id of topsHad(job, plan)) {
    const placement = plan.placements[id] as Plan['placements'][string];
    const top = wantedTop(job, id);
    const seam = Math.min(1, ...placement.joints.map(({ blend }) => seamShare(blend)));
    value += topValue(aim, seam, placement.thickness === null ? null : placement.thickness - (top?.thickness ?? 0));
    parts += placement.strips.reduce((sum, { finished }) => sum + ringArea(finished), 0);
  }
  return value - setCost(aim, price, wood === 0 ? 0 : parts / wood);
}
