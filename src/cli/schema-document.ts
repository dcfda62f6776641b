import { type JsonSchema, toJsonSchema } from '@valibot/to-json-schema';
import type { GenericSchema } from 'valibot';
import { shapes } from '../job';
import type { Shapes } from './command';

const DIALECT = 'https://json-schema.org/draft/2020-12/schema';

/** The schema without the limit of sense of what is taken: what is computed from it may go beyond. */
function unlimited({ minimum, maximum, ...schema }: JsonSchema): JsonSchema {
  return {
    ...schema,
    ...(minimum !== undefined && minimum !== -shapes.MOST && { minimum }),
    ...(maximum !== undefined && maximum !== shapes.MOST && { maximum }),
  };
}

/** A shape as it is printed (`output`), or as it may be given (`input`: what has a default may be left out). */
function schemaOf(shape: GenericSchema, typeMode: 'input' | 'output'): JsonSchema {
  const { $schema: _, ...schema } = toJsonSchema(shape, {
    typeMode,
    target: 'draft-2020-12',
    errorMode: 'ignore',
    overrideAction: ({ jsonSchema }) => (typeMode === 'output' ? unlimited(jsonSchema) : null),
  });
  return schema;
}

/**
 * The JSON Schema (2020-12) of what a command prints; its `$defs` hold the schemas of what it reads, with the defaults.
 * Checks between several values (least depth not over the most, say) cannot be said in it; the command itself makes them.
 */
export function schemaDocument(command: string, { output, inputs, exact }: Shapes): JsonSchema {
  const printed = schemaOf(output, 'output');
  const but = exact ? `, those under ${exact.keys.join(', ')} to 1e-9 since ${exact.because}` : '';
  return {
    $schema: DIALECT,
    title: `Output of waneline ${command}`,
    description: `Lengths in mm, areas in mm2, volumes in litres, angles in degrees from +x to +y. Numbers are rounded to 0.001${but}.`,
    ...printed,
    $defs: {
      ...printed.$defs,
      ...Object.fromEntries(Object.entries(inputs).map(([name, shape]) => [name, schemaOf(shape, 'input')])),
    },
  };
}
