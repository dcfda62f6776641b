import * as v from 'valibot';
import { keyRulesSchema } from './key-rules';
import { pressingSchema } from './pressing';
import { shopResaw } from './resaw';
import { finite, id, moisture, notNegative, positive, text } from './shapes';

/** The shop's settings. Every one has a default (defaults.ts) and is the user's to change. Lengths in mm. */

const keySize = v.pipe(
  v.strictObject({
    id,
    /** Along the key's own grain, across the crack. */
    length: positive,
    /** Width at each end and at the waist. */
    end: positive,
    waist: positive,
    depths: v.pipe(v.array(positive), v.minLength(1, 'must name at least one depth')),
  }),
  v.forward(
    v.check(({ end, waist }) => waist < end, 'the waist must be narrower than the ends, or the key holds nothing'),
    ['waist'],
  ),
);
export type KeySize = v.InferOutput<typeof keySize>;

/** What cuts pockets and keys along a template. Only the bushing and the bit are needed; what is left out is not reckoned with. */
const router = v.strictObject({
  /** Outer diameter of the guide bushing, and diameter of the bit. */
  bushing: positive,
  bit: positive,
  /** Outer diameter of a collar that slips on the bushing: with it pockets are cut, without it keys, both from one template. */
  collar: v.optional(positive),
  /** How far under the template's foot the bit can cut. */
  reach: v.optional(positive),
});
export type Router = v.InferOutput<typeof router>;

const keyFit = v.strictObject({
  gap: v.pipe(notNegative, v.maxValue(1, 'must not be over 1')),
  taperDegrees: v.pipe(notNegative, v.maxValue(5, 'must not be over 5')),
});
export type KeyFit = v.InferOutput<typeof keyFit>;

const saws = v.strictObject({
  /** Rough crosscuts; rough rips; joints and trims on the flat blank. */
  crosscut: text,
  rip: text,
  fine: text,
});
export type Saws = v.InferOutput<typeof saws>;

const resin = v.strictObject({
  allowance: v.pipe(finite, v.minValue(1, 'must be at least 1'), v.maxValue(3, 'must not be over 3')),
  pour: v.nullable(positive),
});
export type Resin = v.InferOutput<typeof resin>;

export const sledSchema = v.strictObject({
  /** Diameter of the surfacing bit. */
  bit: v.pipe(finite, v.minValue(1, 'must be at least 1')),
  /** Most that one pass takes. */
  depth: v.pipe(finite, v.minValue(0.01, 'must be at least 0.01')),
  /** Share of the bit's diameter that the sled moves over between strokes. */
  stepover: v.pipe(finite, v.minValue(0.01, 'must be at least 0.01'), v.maxValue(1, 'must not be over 1')),
  /** mm/s. */
  feed: positive,
  /** Turns a minute and cutting edges of the bit; left out, what such a bit may turn at most and two edges are reckoned with. */
  rpm: v.optional(positive),
  edges: v.optional(v.pipe(v.number(), v.integer(), v.minValue(1))),
  /** How low over the bench the bit can reach. */
  lowest: v.optional(notNegative, 0),
});
export type Sled = v.InferOutput<typeof sledSchema>;

/** A planer or drum sander: it makes a face parallel to the flat one that lies on its table. */
const thicknesser = v.strictObject({
  /** Widest and thickest that goes through, shortest that it holds. */
  width: positive,
  thickness: positive,
  shortest: notNegative,
  /** Most that one pass takes. */
  depth: positive,
  /** mm/s. */
  feed: positive,
});
export type Thicknesser = v.InferOutput<typeof thicknesser>;

/** What is kept back of the thickness: totals for both faces. */
export const reserveSchema = v.strictObject({ second: notNegative, level: notNegative });

const weight = v.pipe(finite, v.minValue(0), v.maxValue(4, 'must not be over 4'));

/** How much each thing counts against the others when plans are ranked: 1 as we do, 0 not at all. That a top is had at all counts before all of them. */
const weightsSchema = v.strictObject({
  /** Little waste. */
  yield: weight,
  /** Seams that disappear. */
  blend: weight,
  /** Few defects in sight, and those that are liked in sight. */
  defects: weight,
  /** Thickness to spare. */
  spare: weight,
  /** Cheap slabs. */
  cost: weight,
  /** Offcuts worth keeping. */
  offcuts: weight,
});
export type Weights = v.InferOutput<typeof weightsSchema>;

export const shopSchema = v.strictObject({
  /** Of the saws that crosscut and rip the rough slab (a chainsaw, a rail saw), and of the one that makes joints and trims on the flat blank. */
  kerf: v.strictObject({ crosscut: notNegative, rip: notNegative, fine: v.optional(notNegative, 2.4) }),
  /** Kept at each end of a blank over the finished length. */
  endAllowance: notNegative,
  /** A blank is rough-ripped this much wide of a joint, which is settled on the flat faces. */
  jointAllowance: notNegative,
  /** Sanding both faces together. */
  sanding: notNegative,
  reserve: reserveSchema,
  sled: sledSchema,
  /** Null where the shop has none. */
  planer: v.optional(v.nullable(thicknesser), null),
  drumSander: v.optional(v.nullable(thicknesser), null),
  /** How many times the room of the solid wood its chips take, and litres that go into a bag. */
  chips: v.optional(v.strictObject({ bulk: positive, bag: positive }), { bulk: 5, bag: 100 }),
  keySizes: v.array(keySize),
  keySpecies: v.nullable(id),
  /** The rules that keys are placed by; left out, each has its first value. */
  keyRules: v.optional(keyRulesSchema),
  router,
  /** How a key sits in its pocket: glue gap on every side at the foot, and how far its sides lean out towards the face. */
  keyFit: v.optional(keyFit),
  /** What fills cracks: over what the crack holds, times that, and the deepest single pour that its maker allows; null where nobody looked it up. */
  resin: v.optional(resin),
  resaw: v.strictObject({
    kerf: notNegative,
    dressing: notNegative,
    faceAllowance: notNegative,
    lastPiece: notNegative,
    leaf: v.strictObject({ thickness: positive, sanding: notNegative }),
    ...shopResaw,
  }),
  /** Left out, panels are pressed as most are. */
  pressing: v.optional(pressingSchema),
  /** Moisture that the wood comes to where the work will stand, %. */
  siteMoisture: moisture,
  /** How far the site's moisture swings to either side of that over a year, %. */
  seasonSwing: v.optional(v.pipe(notNegative, v.maxValue(20)), 2),
  /** Air of the site that `siteMoisture` was worked out from; null where the moisture itself was given. */
  /** The saw that makes each kind of cut, as the shop calls it. */
  saws: v.optional(saws),
  /** Whether photos in a job file that is handed on tell where they were taken. Left out: they do not. */
  tellPlace: v.optional(v.boolean()),
  siteAir: v.optional(v.nullable(v.strictObject({ celsius: finite, humidity: finite })), null),
  /** What one clamp of the shop presses with, N. */
  clampForce: v.optional(positive, 4500),
  /** Screws that hold a top down. */
  screw: v.optional(positive, 5),
  /** The longest and widest that passes the stairs and doors on the way in; null where nothing is in the way. */
  stairs: v.optional(v.nullable(v.strictObject({ length: positive, width: positive })), null),
  weights: v.optional(weightsSchema, { yield: 1, blend: 1, defects: 1, spare: 1, cost: 1, offcuts: 1 }),
  /** Limits of the search for a seam: slide along the joint (mm), angle of a joint line against the slab (degrees). */
  seam: v.strictObject({
    slide: notNegative,
    angle: v.pipe(notNegative, v.maxValue(15)),
    ends: v.picklist(['same', 'either']),
  }),
});
export type Shop = v.InferOutput<typeof shopSchema>;
