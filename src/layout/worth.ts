import { intersection, type Region, regionsArea, ringArea } from '../geometry';
import { DEFAULT_SHOP, slabKey, type Top, type Weights } from '../job';
import type { Candidate } from './candidate';
import { chanceOfFit } from './chance';
import { defectArea } from './defect-area';
import { sapwoodAlong } from './sapwood';
import { sizeShares } from './size-share';
import { sliversBeside } from './slivers';
import type { FaceStock } from './stock';

/**
 * What a place is worth. Placing a top at all, by its size, outweighs everything else together; then the seam, the thickness to spare, defects in sight, little
 * waste and a small price. The shares are ours, settled by looking at plans (no source), and only rank plans: no figure on paper comes from them.
 * The user's weights multiply them.
 */
const PLACED = 1000;
const SEAM = 200;
const SPARE = 60;
/** A slab of the stock's mean size and price that is opened costs so much; what is cut of it gives its share of the first back. */
const WASTE = 100;
const PRICE = 60;
/** Slivers beside the blanks as large as a slab of mean size: what they take is wasted for good, where other wood that is left may serve yet. */
const OFFCUTS = 100;
/** Defects over a hundredth of the top; liked ones give as much. */
const DEFECTS = 60;
/** Sapwood along the whole of a top that wants it, nearly as much as a seam that cannot be seen. */
const SAPWOOD = 150;

/** A seam as continuous as uncut wood's median loses nothing against wood without a seam. */
const AS_UNCUT = 0.5;
/** Thickness to spare beyond this, mm, brings nothing more. */
const ENOUGH = 3;
/** Share of a top that is full of defects to look at. */
const MANY_DEFECTS = 0.01;

/** Where nothing is known of a seam's look, it counts as one that shows. */
const UNKNOWN_BLEND = 0.05;

const seamValue = (blend: number | null): number => Math.min(1, Math.sqrt((blend ?? UNKNOWN_BLEND) / AS_UNCUT));

/** What the maker looks at in a place, apart from where it lies. */
export interface Traits {
  /** Blend of the seam that shows most, as a share of what can be had; 1 without a seam. */
  readonly seam: number;
  /** Thickness over what is wanted as far as it brings something, 0..1. */
  readonly spare: number;
  /** Defects in sight less those that are liked, as a share of what is many; below 0 where liked ones outweigh. */
  readonly defects: number;
  /** Share of the length over which wanted sapwood shows. */
  readonly sapwood: number;
  /** Area of the finished pieces, mm2. */
  readonly area: number;
  /** Wood beside the blanks that is too narrow to keep, mm2. */
  readonly slivers: number;
  /** Chance that it fits, whatever the ± of the outlines. */
  readonly chance: number;
}

/** Defects in sight: those on covered parts do not count, liked ones count against the others. */
function defectsShown({ top, placement, stock }: Candidate): number {
  let shown = 0;
  placement.strips.forEach((strip, i) => {
    const face = stock[i] as FaceStock;
    const body: Region<'face'> = { outer: strip.finished, holes: [] };
    for (const defect of face.defects) {
      const area = regionsArea(intersection([body], defectArea(defect, 0)));
      shown += (top.liked.includes(defect.kind) ? -1 : 1) * area;
    }
  });
  const share = shown / (top.length * top.depth[0] * MANY_DEFECTS);
  return Math.max(-1, Math.min(1, share));
}

const thicknessToSpare = (thickness: number | null, top: Top): number =>
  thickness === null ? 0 : Math.min(1, Math.max(0, thickness - top.thickness) / ENOUGH);

/** What of a place counts. */
function traitsOf(candidate: Candidate): Traits {
  const { top, placement, stock } = candidate;
  const { joints, strips, thickness } = placement;
  return {
    seam: Math.min(1, ...joints.map(({ blend }) => seamValue(blend))),
    spare: thicknessToSpare(thickness, top),
    defects: defectsShown(candidate),
    sapwood:
      top.sapwood === 'wanted'
        ? sapwoodAlong(
            strips,
            stock.map(({ slab, face }) => slab.faces[face].sapwood),
            top.length,
          )
        : 0,
    area: strips.reduce((sum, { finished }) => sum + ringArea(finished), 0),
    slivers: strips.reduce((sum, strip, i) => sum + sliversBeside(strip, stock[i] as FaceStock), 0),
    chance: chanceOfFit(candidate),
  };
}

/** Ranks places of one job, by its own stock and weights. */
export interface Valuer {
  /** What of a place counts, found once. */
  traits(candidate: Candidate): Traits;
  /** Worth of a place, what its slabs cost apart; more is better, always above 0. */
  value(candidate: Candidate): number;
  /** What it costs to open a slab, once, however many pieces come from it. */
  charge(face: FaceStock): number;
  /** Worth of a place that opens its slabs for itself alone. */
  alone(candidate: Candidate): number;
  /** No place of that top with a seam between, or on, these faces is worth more, its slabs' cost apart. */
  most(top: Top, faces: readonly FaceStock[]): number;
}

/** Which slab a face is of. */
export const slabKeyOf = ({ flitch, slab }: FaceStock): string => slabKey(flitch.id, slab.id);

/** The faces of a place, one a slab. */
export const slabsOf = (faces: readonly FaceStock[]): FaceStock[] => [
  ...new Map(faces.map((face) => [slabKeyOf(face), face])).values(),
];

const mean = (values: readonly number[]): number =>
  values.length === 0 ? 0 : values.reduce((a, b) => a + b, 0) / values.length;

/** A valuer for the places of some tops on some stock. @param tops all that are wanted, each copy for itself */
export function valuer(
  stock: readonly FaceStock[],
  tops: readonly Top[],
  weights: Weights = DEFAULT_SHOP.weights,
): Valuer {
  const sizeOf = sizeShares(tops);
  const usualArea = mean(stock.map(({ outline }) => ringArea(outline.outer)));
  const usualPrice = mean(slabsOf(stock).flatMap(({ slab }) => slab.price ?? []));
  // That a top is had outweighs all, whatever the weights.
  const placed = PLACED * Math.max(1, ...Object.values(weights));
  const known = new WeakMap<Candidate['placement'], Traits>();
  const traits = (candidate: Candidate): Traits => {
    const have = known.get(candidate.placement) ?? traitsOf(candidate);
    known.set(candidate.placement, have);
    return have;
  };
  const worthOf = (top: Top, { seam, spare, defects, sapwood, area, slivers, chance }: Traits): number =>
    placed * sizeOf(top) * chance +
    top.length * top.depth[0] * 1e-6 +
    SEAM * weights.blend * seam +
    SPARE * weights.spare * spare +
    SAPWOOD * sapwood -
    DEFECTS * weights.defects * defects +
    (usualArea === 0 ? 0 : (WASTE * weights.yield * area - OFFCUTS * weights.offcuts * slivers) / usualArea);
  const value = (candidate: Candidate): number => worthOf(candidate.top, traits(candidate));
  const charge = ({ outline, slab }: FaceStock): number =>
    (WASTE * weights.yield * ringArea(outline.outer)) / (usualArea || 1) +
    (usualPrice === 0 ? 0 : (PRICE * weights.cost * (slab.price ?? usualPrice)) / usualPrice);
  return {
    traits,
    value,
    charge,
    alone: (candidate) => value(candidate) - slabsOf(candidate.stock).reduce((sum, face) => sum + charge(face), 0),
    most: (top, faces) =>
      worthOf(top, {
        seam: faces.some(({ picture }) => picture === null) ? seamValue(null) : 1,
        spare: faces.some((face) => face.facets() === null) ? 0 : 1,
        defects: faces.some((face) => face.defects.some(({ kind }) => top.liked.includes(kind))) ? -1 : 0,
        sapwood: top.sapwood === 'wanted' ? 1 : 0,
        area: top.length * top.depth[1],
        slivers: 0,
        chance: 1,
      }),
  };
}
