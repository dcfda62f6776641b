import { intersection, type Polygon } from '../geometry';
import { grainLines, type Job, type Plan, type Strip, wantedTop } from '../job';
import { Edges } from './check-edges';
import { beyondRounding, CLOSE, type Fault, findings, reachFrom, said, solid } from './check-laid';

/** Whether the pieces of one slab leave room for the saw between them. */

interface Piece {
  readonly top: string;
  readonly strip: Strip;
  readonly name: string;
}

/** The room between two rings along one direction: negative where they pass each other. */
function roomAlong(p: Polygon<'face'>, q: Polygon<'face'>, [x, y]: readonly [number, number]): number {
  const reach = (ring: Polygon<'face'>): readonly [number, number] => {
    const at = ring.map((point) => point[0] * x + point[1] * y);
    return [Math.min(...at), Math.max(...at)];
  };
  const [[from, to], [otherFrom, otherTo]] = [reach(p), reach(q)];
  return Math.max(otherFrom - to, from - otherTo);
}

/** Distance between two rings that do not overlap, where it is less than `limit`; else `limit`. */
function distanceBetween(p: Polygon<'face'>, q: Polygon<'face'>, limit: number): number {
  const edges = new Edges([q]);
  return p.reduce((least, a, i) => Math.min(least, edges.within([a, p[(i + 1) % p.length] ?? a], limit)), limit);
}

/**
 * What is lacking for a saw between two pieces, mm; 0 where nothing is. A straight cut must fit between them: one across a strip with the crosscut's kerf,
 * or one along it with the rip's; or both kerfs all around, where no straight cut divides them.
 */
function lacks(p: Polygon<'face'>, q: Polygon<'face'>, strips: readonly Strip[], kerf: Job['shop']['kerf']): number {
  let lacking = Infinity;
  for (const { toTop: m } of strips) {
    lacking = Math.min(lacking, kerf.crosscut - roomAlong(p, q, [m[0], m[2]]));
    lacking = Math.min(lacking, kerf.rip - roomAlong(p, q, [m[1], m[3]]));
  }
  if (lacking <= CLOSE) return 0;
  const wide = Math.max(kerf.crosscut, kerf.rip);
  const around = wide - distanceBetween(p, q, wide);
  return around <= CLOSE ? 0 : Math.min(lacking, around);
}

function checkPair(job: Job, a: Piece, b: Piece, oneBlank: boolean): Fault[] {
  const { faults, say } = findings(`/flitches/${a.strip.flitch}/slabs/${a.strip.slab}`);
  const names = `${a.name} and ${b.name}`;
  if (a.strip.face !== b.strip.face) {
    say('overlap', `${names} are laid on the two faces of one slab.`);
    return faults;
  }
  const both = beyondRounding(intersection([solid(a.strip.finished)], [solid(b.strip.finished)]));
  if (both.length > 0) {
    say('overlap', `${names} overlap by ${said(job, reachFrom(both, [a.strip.finished]))}.`);
    return faults;
  }
  const part = oneBlank ? 'finished' : 'rough';
  const short = lacks(a.strip[part], b.strip[part], [a.strip, b.strip], job.shop.kerf);
  if (short > 0) say('kerf', `There is no room for the saw between ${names}: ${said(job, short)} too little.`);
  return faults;
}

/** @returns faults of `overlap` and `kerf` */
export function checkBetween(job: Job, plan: Plan): Fault[] {
  const pieces = Object.values(plan.placements).flatMap(({ top, strips }) =>
    strips.map((strip, i): Piece => ({ top, strip, name: `${wantedTop(job, top)?.name ?? top}, strip ${i + 1}` })),
  );
  const lines = grainLines(job).map(({ tops }) => tops.map(({ id }) => id));
  /** Tops of one line of grain are cut one after the other from the same blank. */
  const oneBlank = (a: Piece, b: Piece): boolean => lines.some((ids) => ids.includes(a.top) && ids.includes(b.top));
  return pieces.flatMap((a, i) =>
    pieces
      .slice(i + 1)
      .filter(({ strip }) => strip.flitch === a.strip.flitch && strip.slab === a.strip.slab)
      .flatMap((b) => checkPair(job, a, b, oneBlank(a, b))),
  );
}
