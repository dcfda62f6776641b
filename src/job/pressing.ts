import * as v from 'valibot';
import { notNegative, positive, text } from './shapes';

/** How veneered panels are pressed, and the sheets that their cores are cut from. Lengths in mm. */

/** How the grain of the core's sheet lies under the veneer: along it, across it, or it has none. */
export const CORE_GRAINS = ['none', 'along', 'across'] as const;

const size = v.strictObject({ length: positive, width: positive });

export const pressingSchema = v.strictObject({
  /** What the core is of, in the maker's words. */
  core: text,
  /** Of a front that is veneered all over, and of a panel between rails and stiles. */
  thickness: positive,
  framed: positive,
  /** A whole sheet, its own grain along the length. */
  sheet: size,
  /** Taken off each edge of a sheet before it is cut up. */
  trim: notNegative,
  grain: v.picklist(CORE_GRAINS),
  /** What a sheet costs; null where nobody asked. */
  price: v.nullable(notNegative),
  /** Glue on one glue line, g/m2. */
  spread: positive,
  /** Room inside the vacuum bag or on the press; null where it is not known. */
  bag: v.nullable(size),
});
export type Pressing = v.InferOutput<typeof pressingSchema>;
