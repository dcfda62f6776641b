import type { Polygon } from '../geometry';
import type { Placement, Shop, Top } from '../job';
import type { Candidate } from './candidate';
import { clearBeside } from './clear-beside';
import type { StripPlace } from './columns';
import { joined } from './joined';
import { seamedLive } from './live-seams';
import { outlineOf } from './outline-of';
import { asThick } from './runs';
import type { SeamPlace } from './seam-place';
import { besideZone, crossedBy, seamZones } from './seam-zones';
import { type Refusal, refusalOf } from './sound';
import { frontDepth, layEdge, makeStrip, type StripSpec } from './strips';
import { thinnest } from './thinnest';

export type { Candidate, SeamPlace };

/** The candidate with its thickness by the model of warp: what the plan promises. */
export function measured(candidate: Candidate, shop: Shop): Candidate {
  const { stock, placement, pieces } = candidate;
  const thickness = thinnest(stock, placement.strips, shop, 'surfaces');
  return {
    ...candidate,
    ...(pieces && { pieces: asThick(pieces, thickness) }),
    placement: { ...placement, thickness },
  };
}

/** A top of one piece. Null where the exact outline does not give what the columns promised. */
export function onePiece(place: StripPlace, top: Top, shop: Shop): Candidate | null {
  const { stock, back } = place;
  const probe = layEdge(back, 0);
  const live = top.front === 'live';
  const depth = live ? frontDepth(stock, probe, 0, top.length) : place.depth;
  if (!depth || depth[0] < top.depth[0] || depth[1] > top.depth[1]) return null;
  const spec: StripSpec = {
    stock,
    toTop: layEdge(back, depth[1]),
    front: live ? 'live' : 0,
    back: depth[1],
    frontIsJoint: false,
    backIsJoint: false,
  };
  const strip = makeStrip(spec, top, shop);
  if (!strip || refusalOf(stock, strip, spec, top)) return null;
  const thickness = thinnest([stock], [strip], shop, 'facets');
  return {
    top,
    stock: [stock],
    placement: { top: top.id, strips: [strip], joints: [], depth: [depth[0], depth[1]], thickness },
  };
}

/**
 * A top of two strips on a seam. The strip behind is as deep as the band allows at its middle, or where the wood is not sound there, as near to it
 * as may be; `backDepth` fixes it instead.
 * @returns the candidate, or what keeps it from being sawn
 */
export function seamed(seam: SeamPlace, top: Top, shop: Shop, backDepth?: number): Candidate | Refusal {
  if (top.back === 'live') return seamedLive(seam, top, shop);
  const wood = frontDepth(seam.front.stock, layEdge(seam.front.line, 0), 0, top.length);
  if (!wood) return 'wood';
  const [least, most] = top.depth;
  const live = top.front === 'live';
  const low = Math.max(top.leastStrip, live ? least - wood[0] : 0);
  const high = live ? most - wood[1] : most - top.leastStrip;
  if (high < low) return live && most - wood[1] < least - wood[0] ? 'depth' : 'strip';
  // A straight front is ripped to suit: then the joint may also stand right beside a zone that it must not cross.
  const beside = live ? [] : seamZones(top).flatMap((zone) => besideZone(zone).map((y) => most - y));
  // Where no such share goes, the strip in front may yet be all its wood, and the one behind what is still wanted.
  const full = wood[0] - 2 * seam.front.stock.margin;
  const rest = live ? [] : [most - full, least - full];
  const laid = (b: number, room = full): Candidate | Refusal => {
    if (b < low - ROUNDING || b > high + ROUNDING) return 'depth';
    // A straight front is ripped where the top has its most depth, as far as the margin of the wood allows.
    const front: readonly [number, number] = live ? wood : both(Math.min(most - b, room));
    if (front[0] < top.leastStrip) return 'strip';
    if (seamZones(top).some((zone) => crossedBy(front[1], zone) > ROUNDING)) return 'zone';
    return front[0] + b < least - ROUNDING ? 'depth' : twoStrips(seam, top, shop, front, b);
  };
  if (backDepth !== undefined) return laid(backDepth);
  const middle = (low + high) / 2;
  let refusal: Refusal = 'depth';
  for (const b of [middle, low, high, ...beside, ...rest]) {
    const made = laid(b);
    if (typeof made !== 'string') return live && b !== middle ? towards(middle, b, made, laid) : made;
    if (made !== 'depth') refusal = made;
  }
  // What must be kept off may leave less than the wood: between what is clear of it on both sides of the joint.
  const room = live ? wood[0] : Math.min(full, clearBeside(seam.front.stock, seam.front.line, -1));
  const [from, to] = [Math.max(low, least - room), Math.min(high, clearBeside(seam.back.stock, seam.back.line, 1))];
  for (const b of from > to ? [] : [(from + to) / 2, from, to]) {
    const made = laid(b, room);
    if (typeof made !== 'string') return made;
  }
  return refusal;
}

/** Halvings of the way to the middle of the band: a top at the very end of it fits only if no ± falls badly. */
const HALVINGS = 3;

/** The candidate that is nearest to `middle` on the way from `b`, where one was made. */
function towards(middle: number, b: number, made: Candidate, laid: (b: number) => Candidate | Refusal): Candidate {
  let [sound, step, best] = [b, (middle - b) / 2, made];
  for (let i = 0; i < HALVINGS; i++, step /= 2) {
    const next = laid(sound + step);
    if (typeof next === 'string') continue;
    [sound, best] = [sound + step, next];
  }
  return best;
}

/** A strip is measured on the clipped polygon, whose corners stand on whole micrometres: two of them, mm, are no fault. */
const ROUNDING = 0.002;
const both = (depth: number): readonly [number, number] => [depth, depth];

function twoStrips(
  seam: SeamPlace,
  top: Top,
  shop: Shop,
  front: readonly [number, number],
  behind: number,
): Candidate | Refusal {
  const { blend, lines, slide, flipped } = seam;
  const strips = [
    { stock: seam.front.stock, line: seam.front.line, depth: front[1] },
    { stock: seam.back.stock, line: seam.back.line, depth: behind },
  ];
  return joined({ strips, joints: [{ blend, lines, slide, flipped }], swing: front[1] - front[0] }, top, shop);
}

/** The finished top's outline: its strips joined. */
export const topOutline = ({ strips }: Placement): Polygon<'top'> => outlineOf(strips);
