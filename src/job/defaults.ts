import type { Door } from './doors';
import type { Job } from './job';
import { SCHEMA_VERSION } from './job';
import type { Pressing } from './pressing';
import type { KeyFit, Resin, Saws, Shop } from './shop';
import type { Face, Flitch, Slab } from './stock';
import type { Top } from './wanted';

/**
 * What a new job begins with. Lengths in mm. Sources: the project's trade notes, where 'practice' is common practice, no source.
 */
export const DEFAULT_SHOP: Shop = {
  /** Track saw 1.6-2.4 mm (1.6 read in a listing, the rest from memory); a rip or crosscut of a slab is made with one. */
  kerf: { crosscut: 2.4, rip: 2.4, fine: 2.4 },
  /** 25 mm at each end (practice). */
  endAllowance: 25,
  /** 10 mm wide of a joint that is still provisional (practice). */
  jointAllowance: 10,
  /** 1 mm for sanding both faces (practice). */
  sanding: 1,
  /** 1.5 mm a face for the second flattening and 0.5 mm a face for levelling after glue-up (practice): totals of both. */
  reserve: { second: 3, level: 1 },
  planer: null,
  drumSander: null,
  /** Loose shavings take four to eight times the wood's own room; a common bag holds 100 litres (practice, no source). */
  chips: { bulk: 5, bag: 100 },
  /** Surfacing bit 38-64 mm, passes of 3 mm (read in magazines); stepover 40-75 % and 3-6 m/min by hand (practice). */
  sled: { bit: 50, depth: 3, stepover: 0.5, feed: 75, lowest: 0 },
  /** Flare 14.5 degrees: end = waist + length tan 14.5 (flank angle read; sizes are practice). */
  keySizes: [
    { id: 'small', length: 50, end: 27.9, waist: 15, depths: [8, 10, 12] },
    { id: 'medium', length: 70, end: 39.1, waist: 21, depths: [10, 12, 14] },
    { id: 'large', length: 90, end: 50.3, waist: 27, depths: [12, 14, 16, 18] },
  ],
  keySpecies: null,
  /** A 30 mm bushing with a 10 mm bit (the trade's worked example). */
  router: { bushing: 30, bit: 10 },
  /** Carbide resaw blade 1.2-1.6 mm (memory); leaf 1.5-3 mm, sanding 0.2-0.5 mm a face, last piece 6-12 mm (practice). */
  resaw: { kerf: 1.3, dressing: 0.5, faceAllowance: 1, lastPiece: 8, leaf: { thickness: 2, sanding: 0.6 } },
  /** Interior target for most of the USA, Wood Handbook Table 13-2 (from memory). */
  siteMoisture: 8,
  /** 6 to 10 % around 8, the same table (from memory). */
  seasonSwing: 2,
  siteAir: null,
  /** A bar clamp pulled tight by hand, about 1,000 lbf (practice, no source). */
  clampForce: 4500,
  screw: 5,
  stairs: null,
  weights: { yield: 1, blend: 1, defects: 1, spare: 1, cost: 1, offcuts: 1 },
  seam: { slide: 150, angle: 2, ends: 'either' },
};

/** One sigma of an outline that has no ± of its own, mm: what a careful hand reaches (practice). */
export const HAND_SIGMA = 2;

/** A thin glue line (practice, no source), and the sides of a key leaning half a degree, fat at the face (read: 0.5 to 1). */
export const DEFAULT_KEY_FIT: KeyFit = { gap: 0.1, taperDegrees: 0.5 };

/** The bit that the two marks of a slab are drilled through with, mm (DESIGN 6). */
export const MARK_DRILL = 4;

/** What a one-person shop saws a heavy slab with (practice, no source): the slab lies, the saw moves. */
export const DEFAULT_SAWS: Saws = {
  crosscut: 'chainsaw or circular saw',
  rip: 'circular saw on a rail',
  fine: 'circular saw on a rail',
};

/** A tenth to a fifth over what the crack holds soaks in and is lost (practice); how deep a pour may be only its maker's sheet says. */
export const DEFAULT_RESIN: Resin = { allowance: 1.2, pour: null };

/**
 * Doors of 18 mm fibreboard, panels of 6 mm in rails and stiles, out of sheets of 2,440 x 1,220, 5 mm off each edge of a sheet for its
 * bruises, 180 g of glue on a square metre of core (all practice, no source; a glue's own sheet says how much). How large the bag is only
 * its owner knows.
 */
export const DEFAULT_PRESSING: Pressing = {
  core: 'MDF',
  thickness: 18,
  framed: 6,
  sheet: { length: 2440, width: 1220 },
  trim: 5,
  grain: 'none',
  price: null,
  spread: 180,
  bag: null,
};

/** A face of which nothing is known yet. */
export const emptyFace = (): Face => ({
  photos: {},
  outline: null,
  bark: null,
  outlineSigma: null,
  unseen: [],
  sapwood: [],
  pith: null,
  grainLines: [],
  strokes: [],
  outlineByHand: false,
  picture: null,
  hidden: [],
  defects: {},
});

/** A slab of which only its place in the log is known. */
export const emptySlab = (id: string, place: number): Slab => ({
  id,
  name: `Slab ${place}`,
  place,
  thickness: null,
  moisture: null,
  price: null,
  faces: { top: emptyFace(), bottom: emptyFace() },
  tie: null,
  spots: {},
  heights: 'together',
  warp: null,
  marks: null,
});

/** A flitch without slabs. */
export const emptyFlitch = (id: string, name: string, species: string): Flitch => ({
  id,
  name,
  species,
  moisture: null,
  slabs: {},
});

/** A counter of common size: 2,200 x 600-650, 38 mm, one seam. */
export const defaultTop = (id: string): Top => ({
  id,
  name: 'Counter',
  count: 1,
  length: 2200,
  depth: [600, 650],
  thickness: 38,
  front: 'live',
  back: 'straight',
  ends: { right: { edge: 'straight', degrees: 90, short: 40 }, left: { edge: 'straight', degrees: 90, short: 40 } },
  shape: null,
  swing: null,
  bevel: null,
  seams: 1,
  leastStrip: 120,
  covered: {},
  noSeam: {},
  cutOuts: {},
  scribe: { back: 0, right: 0, left: 0 },
  wallBow: 0,
  grain: null,
  liked: [],
  sapwood: 'allowed',
  fast: 'front',
});

/** A common kitchen door, veneered all over; 10 mm of trim a side (practice). */
export const defaultDoor = (id: string): Door => ({
  id,
  name: 'Doors',
  width: 400,
  height: 720,
  count: 2,
  match: 'book',
  backed: true,
  trim: 10,
  at: [],
  arrangement: 'balanced',
  leaves: null,
  ends: null,
  run: null,
  flitch: null,
  frame: null,
  covered: [],
  grade: null,
});

/** A job with nothing in it. `date` is the day that its papers will bear. */
export const emptyJob = (id: string, name: string, date: string): Job => ({
  schema: SCHEMA_VERSION,
  id,
  name,
  note: '',
  date,
  units: 'mm',
  currency: 'EUR',
  shop: structuredClone(DEFAULT_SHOP),
  flitches: {},
  boards: {},
  tops: {},
  doors: {},
  runs: {},
  plans: {},
  keptPlan: null,
  locks: {},
  sets: {},
  keptSet: null,
});

/**
 * One standard deviation of a height or thickness read by hand, mm, where none is given: read to 0.5 mm (0.5 / sqrt 12 = 0.14) with
 * 0.15 mm of hand and eye (practice, no source).
 */
export const READING_SIGMA = 0.2;
