import { type FlatteningShop, finishedThickness, thicknessOfBlank } from '../flattening';
import { applyAll, offset, type Polygon, regionArea, type Segment } from '../geometry';
import { type Flitch, moistureOf, type Placement, type Shop, type Slab, type Strip, type Top } from '../job';
import type { StripPlace } from './columns';
import { type Refusal, refusalOf } from './sound';
import type { FaceStock } from './stock';
import { frontDepth, layEdge, makeStrip, type StripSpec, stripInTop } from './strips';

/** A place for a top on the stock: what the solver chooses among. Its thickness is a first sieve's until `measured`. */
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

/** How a slab's blanks are flattened, and dried to the moisture of the site where the slab's own is known. */
export function flatteningShop(flitch: Flitch, slab: Slab, shop: Shop): FlatteningShop {
  const { sled, planer, drumSander, chips, sanding, reserve, siteMoisture } = shop;
  const from = moistureOf(flitch, slab);
  return {
    sled,
    planer,
    drumSander,
    chips,
    sanding,
    reserve,
    ...(from === null ? {} : { drying: { species: flitch.species, from, to: siteMoisture } }),
  };
}

/** Finished thickness of the thinnest strip after all reserves, by one way of reading the surfaces; null where a slab has no readings. */
function thinnest(
  stocks: readonly FaceStock[],
  strips: readonly Strip[],
  shop: Shop,
  by: 'facets' | 'surfaces',
): number | null {
  let least = Infinity;
  for (const [i, strip] of strips.entries()) {
    const stock = stocks[i] as FaceStock;
    const faces = stock[by]();
    if (!faces || !stock.toReadings) return null;
    const { thickest } = thicknessOfBlank(faces, applyAll(stock.toReadings, strip.rough));
    least = Math.min(least, finishedThickness(thickest, flatteningShop(stock.flitch, stock.slab, shop)));
  }
  return least;
}

/** The candidate with its thickness by the model of warp: what the plan promises. */
export function measured(candidate: Candidate, shop: Shop): Candidate {
  const { stock, placement } = candidate;
  return { ...candidate, placement: { ...placement, thickness: thinnest(stock, placement.strips, shop, 'surfaces') } };
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
 * A top of two strips on a seam. The strip behind is as deep as the band allows at its middle, or where the wood is not sound there, at its
 * least or its most; `backDepth` fixes it instead.
 * @returns the candidate, or what keeps it from being sawn
 */
export function seamed(seam: SeamPlace, top: Top, shop: Shop, backDepth?: number): Candidate | Refusal {
  const wood = frontDepth(seam.front.stock, layEdge(seam.front.line, 0), 0, top.length);
  if (!wood) return 'wood';
  const [least, most] = top.depth;
  const live = top.front === 'live';
  const low = Math.max(top.leastStrip, live ? least - wood[0] : 0);
  const high = live ? most - wood[1] : most - top.leastStrip;
  if (high < low) return live && most - wood[1] < least - wood[0] ? 'depth' : 'strip';
  const tried = backDepth === undefined ? [(low + high) / 2, low, high] : [backDepth];
  let refusal: Refusal = 'depth';
  for (const b of tried) {
    if (b < low - ROUNDING || b > high + ROUNDING) continue;
    // A straight front is ripped where the top has its most depth, as far as the margin of the wood allows.
    const front: readonly [number, number] = live
      ? wood
      : both(Math.min(most - b, wood[0] - 2 * seam.front.stock.margin));
    if (front[0] < top.leastStrip) return 'strip';
    if (front[0] + b < least - ROUNDING) continue;
    const made = twoStrips(seam, top, shop, front, b);
    if (typeof made !== 'string') return made;
    refusal = made;
  }
  return refusal;
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
  const f = front[1];
  const specs: readonly StripSpec[] = [
    {
      stock: seam.front.stock,
      toTop: layEdge(seam.front.line, f),
      front: top.front === 'live' ? 'live' : 0,
      back: f,
      frontIsJoint: false,
      backIsJoint: true,
    },
    {
      stock: seam.back.stock,
      toTop: layEdge(seam.back.line, f),
      front: f,
      back: f + behind,
      frontIsJoint: true,
      backIsJoint: false,
    },
  ];
  const strips: Strip[] = [];
  for (const spec of specs) {
    const strip = makeStrip(spec, top, shop);
    const refusal = strip ? refusalOf(spec.stock, strip, spec, top) : 'wood';
    if (!strip || refusal) return refusal ?? 'wood';
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
      depth: [front[0] + behind, f + behind],
      thickness: thinnest(stock, strips, shop, 'facets'),
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
