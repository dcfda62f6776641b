import * as v from 'valibot';
import { shapes } from '../job';

/** Doors on their leaves, as `plan.json` holds them. Lengths in mm. */

const { finite, id, notNegative, point, polygon, positive, segment, text } = shapes;
const whole = v.pipe(v.number(), v.integer(), v.minValue(0));
const share = v.pipe(finite, v.minValue(0), v.maxValue(1));

const piece = v.strictObject({
  number: v.pipe(whole, v.description('In its panel, from 1')),
  board: id,
  leaf: id,
  place: v.pipe(
    v.nullable(whole),
    v.description('Of the leaf in sawing order; null where its board has no such leaf any more'),
  ),
  face: v.pipe(
    v.picklist(['top', 'bottom']),
    v.description("The face that shows; top is the one towards the board's outer face"),
  ),
  flip: v.picklist(['none', 'over', 'end', 'over and end']),
  along: v.pipe(v.strictTuple([finite, finite]), v.description('Cut lines, from the marked end of the leaf')),
  inward: v.pipe(v.strictTuple([finite, finite]), v.description('Cut lines, from its marked edge')),
  window: v.pipe(polygon<'face'>(), v.description("In the frame of the leaf's top face")),
  cell: v.pipe(polygon<'panel'>(), v.description('In the panel as it is pressed, from its upper left corner')),
  toPanel: v.strictTuple([finite, finite, finite, finite, finite, finite]),
});

const box = v.strictObject({ width: finite, height: finite });

const front = v.strictObject({
  id,
  number: v.pipe(whole, v.description('In the sequence of the set')),
  name: text,
  at: v.pipe(point<'elevation'>(), v.description('Upper left corner in the elevation, x right, y down')),
  finished: box,
  pressed: box,
  trimmed: polygon<'panel'>(),
  sight: polygon<'panel'>(),
  pieces: v.array(piece),
  back: v.array(piece),
  joints: v.array(
    v.strictObject({
      between: v.strictTuple([whole, whole]),
      kind: v.picklist(['side', 'end', 'slant']),
      line: segment<'panel'>(),
      blend: v.nullable(share),
    }),
  ),
  blend: v.pipe(v.nullable(share), v.description('The least of its joints')),
  taping: v.pipe(
    v.array(v.strictObject({ one: v.array(whole), other: v.array(whole), ends: v.boolean() })),
    v.description('Steps of taping: pieces laid beside pieces'),
  ),
});

const leafUse = v.strictObject({
  board: id,
  leaf: id,
  place: whole,
  uses: v.array(v.strictObject({ front: id, panel: whole, side: v.picklist(['face', 'back']), piece: whole })),
  without: v.boolean(),
});

const core = v.strictObject({
  thickness: positive,
  sheets: whole,
  least: v.pipe(whole, v.description('No fewer sheets would do')),
  parts: v.array(
    v.strictObject({
      sheet: whole,
      panel: v.string(),
      x: finite,
      y: finite,
      long: positive,
      across: positive,
      turned: v.boolean(),
    }),
  ),
});

export const panelSetOutput = v.strictObject({
  id,
  name: text,
  gap: v.pipe(notNegative, v.description('How much better the best set could still be, as a share of its cost')),
  fronts: v.pipe(v.array(front), v.description('In sequence')),
  leaves: v.pipe(v.array(leafUse), v.description('The stack in sawing order, board by board, with what is used where')),
  misses: v.array(v.strictObject({ front: id, what: v.picklist(['face', 'back']), reason: text, mend: text })),
  cores: v.pipe(
    v.array(core),
    v.description('How cores come out of sheets: x along the sheet, y across it, from its corner'),
  ),
  glue: v.strictObject({ area: notNegative, grams: notNegative }),
});
