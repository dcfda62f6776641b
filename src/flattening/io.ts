import * as v from 'valibot';
import { DEFAULT_SHOP, reserveSchema, shapes, sledSchema } from '../job';

/** What `flatten` takes and gives (COMMANDS). Lengths in mm, z up, both faces in one frame. */

const { finite, positive, notNegative, polygon, point, id, moisture } = shapes;

const spot = v.strictTuple([finite, finite, finite], 'must be a spot [x, y, z]');
const spots = v.pipe(
  v.array(spot, 'must be a list of spots [x, y, z]'),
  v.minLength(3, 'must have at least three readings: fewer do not tell how a face lies'),
);
const share = v.pipe(finite, v.minValue(0), v.maxValue(1));
const face = v.picklist(['top', 'bottom']);

const dryingSchema = v.strictObject({
  species: v.pipe(v.string('must be a name'), v.description('Id or name of the species')),
  from: v.pipe(moisture, v.description('Moisture now, %')),
  to: v.pipe(moisture, v.description('Moisture at the place of use, %')),
});

export const flattenInput = v.strictObject({
  surfaces: v.optional(
    v.pipe(v.strictObject({ top: spots, bottom: spots }), v.description('Readings of both faces; or give `warp`')),
  ),
  warp: v.optional(
    v.pipe(
      v.strictObject({
        length: positive,
        width: positive,
        thickness: positive,
        bow: finite,
        cup: finite,
        twist: finite,
      }),
      v.description(
        'Origin at the centre; bow and cup positive with ends or edges high; twist: lift of the fourth corner',
      ),
    ),
  ),
  interpolate: v.optional(v.picklist(['linear', 'smooth']), 'linear'),
  blanks: v.pipe(
    v.array(
      v.strictObject({
        id,
        polygon: polygon<'face'>(),
        holes: v.optional(
          v.pipe(v.array(polygon<'face'>()), v.description('Parts that need not be met: filled voids, cut-outs')),
        ),
        finished: v.optional(positive),
        spare: v.optional(
          v.pipe(
            v.picklist(['balanced', 'keep top', 'keep bottom']),
            v.description('Where the rest goes when it gets thicker than wanted; balanced where left out'),
          ),
        ),
        accept: v.optional(
          v.pipe(
            v.strictObject({ face, skip: v.pipe(finite, v.minValue(0), v.maxValue(0.1)) }),
            v.description('The face that planing may leave low in places, and over what share of the blank at most'),
          ),
        ),
      }),
    ),
    v.minLength(1, 'must name at least one blank'),
  ),
  sled: v.optional(sledSchema, DEFAULT_SHOP.sled),
  sanding: v.optional(v.pipe(notNegative, v.description('Both faces together')), DEFAULT_SHOP.sanding),
  reserve: v.optional(v.pipe(reserveSchema, v.description('Both faces together')), DEFAULT_SHOP.reserve),
  drying: v.optional(dryingSchema),
});
export type FlattenInput = v.InferOutput<typeof flattenInput>;

const BUDGET_ITEMS = ['rough', 'lost under', 'lost over', 'second', 'level', 'sanding', 'drying', 'finished'] as const;

const plane = v.strictObject({ a: finite, b: finite, c: finite });

const blankOutput = v.strictObject({
  id,
  thickest: v.pipe(finite, v.description('Thickest parallel board, square to its planes, before sanding and reserves')),
  sigma: v.pipe(notNegative, v.description('One standard deviation of `thickest`')),
  plane: v.pipe(plane, v.description("The thickest board's underside, z = a x + b y + c")),
  finish: v.pipe(v.strictObject({ under: plane, upper: plane }), v.description('The planes that the passes end at')),
  limits: v.pipe(
    v.array(v.strictObject({ at: point<'face'>(), face })),
    v.description('The few spots that hold the board from being thicker'),
  ),
  shims: v.pipe(
    v.array(v.strictObject({ at: point<'face'>(), height: notNegative })),
    v.description("What holds the blank's corners over a level bench so that the board lies level"),
  ),
  faces: v.array(
    v.strictObject({
      face,
      passes: v.array(
        v.strictObject({
          depth: positive,
          contact: v.pipe(share, v.description("Share of the blank's area that the pass cuts")),
        }),
      ),
      strokes: v.pipe(notNegative, v.description('Strokes of one pass')),
      removed: v.pipe(notNegative, v.description('Litres')),
      minutes: notNegative,
      tool: v.pipe(
        v.picklist(['sled', 'planer', 'drum sander', 'none']),
        v.description('What the face is made with; none where it needs no pass'),
      ),
      metres: v.pipe(notNegative, v.description('Way of the bit over all passes, m')),
      cutting: v.pipe(notNegative, v.description('How much of that way meets wood, m')),
      chips: v.pipe(notNegative, v.description('Litres of loose chips')),
      load: v.pipe(
        v.nullable(
          v.strictObject({
            rate: v.pipe(notNegative, v.description('Wood that the deepest pass cuts away in a second, mm3')),
            rpm: v.nullable(positive),
            perEdge: v.pipe(
              v.nullable(notNegative),
              v.description('Chip that one cutting edge takes, mm along the feed'),
            ),
          }),
        ),
        v.description('Work of the bit; null without one'),
      ),
    }),
  ),
  budget: v.pipe(
    v.array(v.strictObject({ item: v.picklist(BUDGET_ITEMS), mm: finite })),
    v.description('The first item, rough, is the sum of the others'),
  ),
  accept: v.pipe(
    v.array(
      v.strictObject({
        face,
        skip: share,
        thickest: finite,
        most: v.pipe(finite, v.description('Proven: no board that misses as little is thicker')),
      }),
    ),
    v.description('What the board gains where planing may miss a share of a face; each is reached'),
  ),
  short: v.pipe(notNegative, v.description('How much the finished thickness misses what was wanted')),
  beyond: v.pipe(share, v.description("Share of the blank's area that no reading encloses: a guess")),
  tooLow: v.pipe(notNegative, v.description('How far the finished plane lies below what the bit reaches down to, mm')),
});
/** Everything that flattening says of one blank. */
export type BlankFlattening = v.InferOutput<typeof blankOutput>;

export const flattenOutput = v.strictObject({
  blanks: v.array(blankOutput),
  whole: v.pipe(
    v.strictObject({ thickest: finite }),
    v.description('The slab flattened before crosscutting: all that the readings enclose'),
  ),
});
export type FlattenOutput = v.InferOutput<typeof flattenOutput>;
