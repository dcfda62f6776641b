import { ringArea } from '../geometry';
import type { Candidate } from './placement';
import { sapwoodAlong } from './sapwood';

/**
 * What a place is worth. Placing a top at all outweighs everything else together; then the seam, the thickness to spare, little waste
 * and a small price. The shares are ours, settled by looking at plans (no source), and only rank plans: no figure on paper comes from them.
 */
const PLACED = 1000;
const SEAM = 200;
const SPARE = 60;
const WASTE = 100;
const PRICE = 60;
/** Sapwood along the whole of a top that wants it, nearly as much as a seam that cannot be seen. */
const SAPWOOD = 150;

/** A seam as continuous as uncut wood's median loses nothing against wood without a seam. */
const AS_UNCUT = 0.5;
/** Thickness to spare beyond this, mm, brings nothing more. */
const ENOUGH = 3;

/** Where nothing is known of a seam's look, it counts as one that shows. */
const UNKNOWN_BLEND = 0.05;

const seamValue = (blend: number | null): number => Math.min(1, Math.sqrt((blend ?? UNKNOWN_BLEND) / AS_UNCUT));

/** Share of the used faces that is not in the finished top. */
function unused(candidate: Candidate): number {
  const stock = new Map(candidate.stock.map((s) => [s.key, ringArea(s.outline.outer)]));
  const total = [...stock.values()].reduce((a, b) => a + b, 0);
  const parts = candidate.placement.strips.reduce((sum, strip) => sum + ringArea(strip.finished), 0);
  return total === 0 ? 1 : 1 - parts / total;
}

/** Slabs that cost so much together, in the job's currency, weigh half of what any price can. */
const USUAL_PRICE = 500;

/** Price of the slabs that a candidate opens, as a share that grows with it. */
function priceShare(candidate: Candidate): number {
  const slabs = new Map(candidate.stock.map((s) => [`${s.flitch.id}/${s.slab.id}`, s.slab.price ?? 0]));
  const total = [...slabs.values()].reduce((a, b) => a + b, 0);
  return total / (total + USUAL_PRICE);
}

/** Share of the length of a top that wants sapwood over which it shows; 0 for others. */
function wantedSapwood({ top, placement, stock }: Candidate): number {
  if (top.sapwood !== 'wanted') return 0;
  const sapwood = stock.map(({ slab, face }) => slab.faces[face].sapwood);
  return sapwoodAlong(placement.strips, sapwood, top.length);
}

/** Worth of a candidate; more is better, always above 0. */
export function worth(candidate: Candidate): number {
  const { joints, thickness } = candidate.placement;
  const seams = joints.length === 0 ? 1 : Math.min(...joints.map(({ blend }) => seamValue(blend)));
  const spare = thickness === null ? 0 : Math.min(1, Math.max(0, thickness - candidate.top.thickness) / ENOUGH);
  const area = candidate.top.length * candidate.top.depth[0];
  const wished = SEAM * seams + SPARE * spare + SAPWOOD * wantedSapwood(candidate);
  return PLACED + area * 1e-6 + wished - WASTE * unused(candidate) - PRICE * priceShare(candidate);
}
