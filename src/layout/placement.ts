import { thicknessOfBlank } from '../flattening';
import {
  applyAll,
  difference,
  offset,
  type Polygon,
  type Region,
  rectangle,
  regionArea,
  type Segment,
} from '../geometry';
import type { Placement, Shop, Strip, Top } from '../job';
import type { StripPlace } from './columns';
import type { FaceStock } from './stock';
import { frontDepth, layEdge, makeStrip, type StripSpec, stripInTop, stripMap } from './strips';

/** A place for a top on the stock, measured: what the solver chooses among. */
export interface Candidate {
  readonly top: Top;
  readonly placement: Placement;
  /** The faces that its strips are cut from, in the order of the strips. */
  readonly stock: readonly FaceStock[];
}

/** A seam to build a top on: joint lines whose first points meet, as their last ones do. */
export interface SeamPlace {
  readonly front: { readonly stock: FaceStock; readonly line: Segment<'face'> };
  readonly back: { readonly stock: FaceStock; readonly line: Segment<'face'> };
  readonly blend: number | null;
  readonly lines: number | null;
  readonly slide: number;
  readonly flipped: boolean;
}

/** What a blank loses before it is a finished strip, both faces together. */
export const reserveOf = (shop: Shop): number => shop.reserve.second + shop.reserve.level + shop.sanding;

/** Finished thickness that a strip's blank gives after all reserves; null without readings. */
export function finishedThickness(stock: FaceStock, rough: Polygon<'face'>, shop: Shop): number | null {
  if (!stock.surfaces || !stock.toReadings) return null;
  const { thickest } = thicknessOfBlank(stock.surfaces, applyAll(stock.toReadings, rough));
  return thickest - reserveOf(shop);
}

function thinnest(stocks: readonly FaceStock[], strips: readonly Strip[], shop: Shop): number | null {
  let least: number | null = null;
  for (const [i, strip] of strips.entries()) {
    const finished = finishedThickness(stocks[i] as FaceStock, strip.rough, shop);
    if (finished === null) return null;
    least = Math.min(least ?? Infinity, finished);
  }
  return least;
}

/** Wood smaller than this (mm2) is the rounding of the clipping library, not a fault. */
const SLIVER = 2;

/**
 * Whether a strip is sound: wood everywhere, straight edges and body inside the margin, and clear of forbidden defects but where the top
 * is covered. `liveDepth` is the least depth of wood in front of the back edge where the front is live.
 */
function sound(stock: FaceStock, strip: Strip, spec: StripSpec, top: Top): boolean {
  const body = stripInTop(strip);
  const map = stripMap(strip);
  const laid = (regions: readonly Region<'face'>[]) =>
    regions.map(({ outer, holes }) => ({ outer: applyAll(map, outer), holes: holes.map((h) => applyAll(map, h)) }));
  const area = (regions: readonly Region<'top'>[]) => regions.reduce((sum, r) => sum + regionArea(r), 0);
  const covered = Object.values(top.covered).map(({ polygon }) => ({ outer: polygon, holes: [] }));
  const whole = { outer: body, holes: [] };
  const spoilt = difference([whole], [...difference([whole], laid(stock.forbidden)), ...covered]);
  if (area(spoilt) > SLIVER) return false;
  // The live edge is the wood's own: only what stands back from it must keep the margin.
  const from = spec.front === 'live' ? spec.back - 1 : spec.front;
  const straight = { outer: rectangle<'top'>(0, from, top.length, spec.back), holes: [] };
  return area(difference([straight], [...laid(stock.inside)])) <= SLIVER;
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
  if (!strip || !sound(stock, strip, spec, top)) return null;
  const thickness = thinnest([stock], [strip], shop);
  return {
    top,
    stock: [stock],
    placement: { top: top.id, strips: [strip], joints: [], depth: [depth[0], depth[1]], thickness },
  };
}

/**
 * A top of two strips on a seam. The strip behind is as deep as the band allows at its middle.
 * `backDepth` fixes it instead. Null where the wood or the band does not allow it.
 */
export function seamed(seam: SeamPlace, top: Top, shop: Shop, backDepth?: number): Candidate | null {
  const probe = layEdge(seam.front.line, 0);
  const live = top.front === 'live';
  const wood = frontDepth(seam.front.stock, probe, 0, top.length);
  if (!wood) return null;
  const [least, most] = top.depth;
  const front = live ? wood : undefined;
  const low = front ? least - front[0] : top.leastStrip;
  const high = front ? most - front[1] : most - top.leastStrip;
  const b = backDepth ?? Math.max(top.leastStrip, (low + high) / 2);
  if (b < low - 1e-6 || b > high + 1e-6) return null;
  // A straight front is ripped where the top has its most depth, as far as the margin of the wood allows.
  const f = front ? front[1] : Math.min(most - b, wood[0] - 2 * seam.front.stock.margin);
  if ((front ? front[0] : f) < top.leastStrip || b < top.leastStrip || (!front && f + b < least)) return null;
  const frontSpec: StripSpec = {
    stock: seam.front.stock,
    toTop: layEdge(seam.front.line, f),
    front: live ? 'live' : 0,
    back: f,
    frontIsJoint: false,
    backIsJoint: true,
  };
  const backSpec: StripSpec = {
    stock: seam.back.stock,
    toTop: layEdge(seam.back.line, f),
    front: f,
    back: f + b,
    frontIsJoint: true,
    backIsJoint: false,
  };
  const strips: Strip[] = [];
  for (const spec of [frontSpec, backSpec]) {
    const strip = makeStrip(spec, top, shop);
    if (!strip || !sound(spec.stock, strip, spec, top)) return null;
    strips.push(strip);
  }
  const stock = [seam.front.stock, seam.back.stock];
  const { blend, lines, slide, flipped } = seam;
  return {
    top,
    stock,
    placement: {
      top: top.id,
      strips,
      joints: [{ blend, lines, slide, flipped }],
      depth: [(front ? front[0] : f) + b, f + b],
      thickness: thinnest(stock, strips, shop),
    },
  };
}

const JOIN = 0.01;

/** The finished top's outline: its strips joined. */
export function topOutline(placement: Placement): Polygon<'top'> {
  const strips = placement.strips.map((strip) => ({ outer: stripInTop(strip), holes: [] }));
  // Strips that meet edge to edge may be a micrometre apart after rounding: grown by more than that they join, and shrink back.
  const joined = offset(offset(strips, JOIN, 'mitre'), -JOIN, 'mitre');
  const [first, ...rest] = joined;
  if (!first) throw new RangeError('A placement without wood has no outline.');
  return rest.reduce((a, b) => (regionArea(b) > regionArea(a) ? b : a), first).outer;
}
