import * as v from 'valibot';
import type { Frame, Point, Polygon, Region } from '../geometry';
import { leadsOut } from './paths';

/**
 * The small shapes that the job document is made of. Every object is strict: a key that we do not know is refused
 * with its path, since a misspelt key that is silently dropped would change a cut.
 */

/** Far more than any slab or price comes to: beyond it, sums and squares lose the figures that matter. */
export const MOST = 1e9;

/** A number that is neither infinite nor NaN nor absurd. */
export const finite = v.pipe(
  v.number('must be a number'),
  v.finite('must be a finite number'),
  v.minValue(-MOST, `must not be less than -${MOST}`),
  v.maxValue(MOST, `must not be over ${MOST}`),
);
/** A length or amount above zero. */
export const positive = v.pipe(finite, v.gtValue(0, 'must be more than 0'));
/** A length or amount of zero or more. */
export const notNegative = v.pipe(finite, v.minValue(0, 'must not be less than 0'));
/** Moisture content of wood, in percent of its dry mass. 300 % is beyond any green wood of the species table. */
export const moisture = v.pipe(
  finite,
  v.minValue(0, 'must not be less than 0'),
  v.maxValue(300, 'must not be over 300'),
);

const pair = v.strictTuple([finite, finite], 'must be a point [x, y]');

/** A point of one frame. The frame lives in the type only. */
export const point = <F extends Frame>() => pair as unknown as v.GenericSchema<Point<F>>;

/** A ring of at least three points. */
export const polygon = <F extends Frame>() =>
  v.pipe(
    v.array(pair, 'must be a list of points'),
    v.minLength(3, 'must have at least three points'),
  ) as unknown as v.GenericSchema<Polygon<F>>;

/** An area with holes. */
export const region = <F extends Frame>() =>
  v.strictObject({ outer: polygon<F>(), holes: v.array(polygon<F>()) }) as unknown as v.GenericSchema<Region<F>>;

/** A straight piece between two points. */
export const segment = <F extends Frame>() =>
  v.strictTuple([pair, pair]) as unknown as v.GenericSchema<readonly [Point<F>, Point<F>]>;

/** A line on a slab's face, through two points or more. */
export const line = v.pipe(
  v.array(pair, 'must be a list of points'),
  v.minLength(2, 'must have at least two points'),
) as unknown as v.GenericSchema<readonly Point<'face'>[]>;

/** A crack's line on a slab face: x, y and its width there, in mm. */
export const crackLine = v.pipe(
  v.array(v.strictTuple([finite, finite, notNegative], 'must be a place on the crack [x, y, width]')),
  v.minLength(2, 'must have at least two places'),
);

/** Names that objects refer to each other by. Plain, so that they can be used in file names and layers. */
export const id = v.pipe(
  v.string('must be a name'),
  v.regex(/^[A-Za-z0-9_-]{1,64}$/, 'must be 1 to 64 letters, digits, hyphens or underscores'),
);

/** A text that a person typed. */
export const text = v.pipe(v.string('must be text'), v.maxLength(500, 'must not be longer than 500 characters'));

/** A file of the job: a path inside its folder or archive, or the key of the stored blob. */
export const file = v.pipe(
  v.string('must be a path'),
  v.minLength(1, 'must be a path'),
  v.check((path) => !leadsOut(path), 'must be a path that stays inside the job'),
);

/** Things by their id. Keyed so that an edit of one leaves the others alone and undo stays small. */
export const byId = <S extends v.GenericSchema>(schema: S) => v.record(id, schema);
