import { type Job, type Miss, type Placement, type Plan, type Top, wantedTop } from '../job';
import type { Choice } from './choose';
import { cutsOf } from './cuts';
import { finishedDepth } from './finished-edge';
import { whyNot } from './miss';
import { leftOver } from './offcuts';
import type { Candidate } from './placement';
import { type FaceStock, prepareStock, stockOf } from './stock';
import { slabKeyOf } from './worth';

/** Share of the used slabs that becomes neither part nor offcut. */
function wasteOf(candidates: readonly Candidate[], job: Job): number {
  const bySlab = new Map<FaceStock, Candidate['placement']['strips'][number][]>();
  for (const { stock, placement } of candidates) {
    placement.strips.forEach((strip, i) => {
      const face = stock[i] as FaceStock;
      bySlab.set(face, [...(bySlab.get(face) ?? []), strip]);
    });
  }
  let [stock, lost] = [0, 0];
  for (const [face, strips] of bySlab) {
    const { areas } = leftOver(face.outline, strips, cutsOf(face.outline, strips, job.shop), face.forbidden);
    stock += areas.stock;
    lost += areas.waste + areas.kerf;
  }
  return stock === 0 ? 0 : Math.min(1, Math.max(0, lost / stock));
}

/** Price of the slabs that the candidates open; null where one of them has none. */
function costOf(candidates: readonly Candidate[]): number | null {
  const slabs = new Map(candidates.flatMap(({ stock }) => stock.map((s) => [slabKeyOf(s), s.slab.price] as const)));
  let total = 0;
  for (const price of slabs.values()) {
    if (price === null) return null;
    total += price;
  }
  return total;
}

/** A choice as a plan of the document, with the figures that a list of plans shows. */
export function planOf(
  { candidates, gap }: Pick<Choice, 'candidates' | 'gap'>,
  number: number,
  misses: readonly Miss[],
  job: Job,
): Plan {
  return {
    id: `plan-${number}`,
    name: `Plan ${number}`,
    placements: Object.fromEntries(candidates.map(({ top, placement }) => [top.id, placement])),
    misses: [...misses],
    waste: wasteOf(candidates, job),
    cost: costOf(candidates),
    gap,
  };
}

/** A placement as moved, with what the maker said of the blanks of the one before it: where their spare wood goes, what may stay low. */
function saidBefore(placement: Placement, before: Placement | undefined): Placement {
  const strips = placement.strips.map((strip, i) => {
    const { spare, accept } = before?.strips[i] ?? {};
    return { ...strip, ...(spare && { spare }), ...(accept && { accept }) };
  });
  return { ...placement, strips };
}

/**
 * A plan with placements put in others' stead by hand: its figures and its misses of thickness follow. What the solver proved of it no longer holds,
 * so its gap is taken as it was and the placements are not locked. Tops that the plan does not have are left out of it.
 */
export function withPlacements(job: Job, plan: Plan, moved: readonly Placement[]): Plan {
  const put = moved
    .filter(({ top }) => plan.placements[top])
    .map((placement) => saidBefore(placement, plan.placements[placement.top]));
  const ids = put.map(({ top }) => top);
  const placements = { ...plan.placements, ...Object.fromEntries(put.map((placement) => [placement.top, placement])) };
  const stock = prepareStock(job, new Map());
  const candidates = candidatesOf(job, placements, stock);
  const thin = candidates.filter(
    ({ top, placement: { thickness } }) => ids.includes(top.id) && thickness !== null && thickness < top.thickness,
  );
  const misses = [
    ...plan.misses.filter((miss) => !ids.includes(miss.top) || miss.limit !== 'thickness'),
    ...thin.map((one) => whyNot(one.top, stock, [one], job)),
  ];
  return { ...plan, placements, misses, waste: wasteOf(candidates, job), cost: costOf(candidates) };
}

function candidatesOf(job: Job, placements: Plan['placements'], stock: readonly FaceStock[]): Candidate[] {
  return Object.values(placements).flatMap((placement): Candidate[] => {
    const top = wantedTop(job, placement.top);
    const faces = stockOf(placement.strips, stock);
    return top && faces ? [{ top, placement, stock: faces }] : [];
  });
}

/** Share of the used slabs that a plan wastes as it lies now: for one that was moved with its slab. */
export const wasteNow = (job: Job, { placements }: Plan): number =>
  wasteOf(candidatesOf(job, placements, prepareStock(job, new Map())), job);

/** Depth of a placed top on its finished face, where a live edge slopes and that is known; else null. */
export function depthFinished(job: Job, top: Top, { strips, depth }: Placement): readonly [number, number] | null {
  const faces = stockOf(strips, prepareStock(job, new Map()));
  return faces ? finishedDepth(top, strips, faces, depth) : null;
}
