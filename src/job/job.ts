import * as v from 'valibot';
import { doorSchema } from './doors';
import { lockSchema, planSchema } from './plans';
import { runSchema } from './runs';
import { panelSetSchema } from './sets';
import { byId, id, text } from './shapes';
import { shopSchema } from './shop';
import { boardSchema, flitchSchema } from './stock';
import { topSchema } from './wanted';

/** The version of the job document that this code writes. Older ones are migrated on reading, newer ones refused. */
export const SCHEMA_VERSION = 2;

/** The whole job (DESIGN 3, last point). Plain JSON: what is stored, what undo works on, and what the job file holds. */
export const jobSchema = v.strictObject({
  schema: v.literal(SCHEMA_VERSION),
  id,
  name: text,
  note: text,
  /** The job's own date, which its papers bear: no clock is read, so the same job prints the same bytes. */
  date: v.pipe(v.string(), v.isoDate('must be a date such as 2026-11-25')),
  units: v.picklist(['mm', 'in']),
  /** How the papers give lengths; left out, in the job's units alone, inches to 1/32. */
  printed: v.optional(
    v.strictObject({
      /** The finest fraction of an inch. */
      fraction: v.picklist([16, 32]),
      /** In the other units as well, in brackets. */
      both: v.boolean(),
    }),
  ),
  /** ISO 4217 code. */
  currency: v.pipe(v.string(), v.regex(/^[A-Z]{3}$/, 'must be a currency code of three letters')),
  shop: shopSchema,
  flitches: byId(flitchSchema),
  boards: byId(boardSchema),
  tops: byId(topSchema),
  doors: byId(doorSchema),
  runs: v.optional(byId(runSchema), {}),
  plans: byId(planSchema),
  keptPlan: v.nullable(id),
  locks: byId(lockSchema),
  /** Doors laid out on their leaves; left out, none is. */
  sets: v.optional(byId(panelSetSchema), {}),
  /** The set that is kept for the papers; null keeps none. */
  keptSet: v.optional(v.nullable(id), null),
});
export type Job = v.InferOutput<typeof jobSchema>;
