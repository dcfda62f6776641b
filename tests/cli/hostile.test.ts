import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { runs } from '../support/runs';
import { Bench, errorOf, faultsAgainst } from './call';
import { board, cracked, slabA } from './inputs';

/** Numbers that a person or a script may well send, and that break what was thought of for others. */
const AWKWARD = [0, -1, 1e-9, 1e-4, 0.0005, 3, 1e3, 1e6, 1e12, 1e300, -1e300];

type Path = readonly (string | number)[];

/** Paths of all parts of a value for which `is` holds. */
const partsOf = (value: unknown, is: (part: unknown) => boolean, path: Path = []): Path[] => [
  ...(is(value) ? [path] : []),
  ...(typeof value === 'object' && value !== null
    ? Object.entries(value).flatMap(([key, part]) => partsOf(part, is, [...path, key]))
    : []),
];

/** The value with the part at `path` changed. */
function changed(value: unknown, [key, ...rest]: Path, change: (part: never) => unknown): unknown {
  if (key === undefined) return change(value as never);
  const copy = structuredClone(value) as Record<string, unknown>;
  copy[key] = changed(copy[key], rest, change);
  return copy;
}

/** Lists as they come out of a careless hand: empty, an entry twice, the last one lost, back to front, all the same. */
const LISTS: readonly ((list: readonly unknown[]) => unknown[])[] = [
  () => [],
  ([first, ...rest]) => [first, first, ...rest],
  (list) => list.slice(0, -1),
  (list) => [...list].reverse(),
  (list) => list.map(() => list[0]),
];

/** An input with one or two of its numbers or lists spoilt. */
const spoilt = (input: unknown) => {
  const number = fc
    .tuple(fc.constantFrom(...partsOf(input, (part) => typeof part === 'number')), fc.constantFrom(...AWKWARD))
    .map(
      ([path, x]) =>
        (value: unknown) =>
          changed(value, path, () => x),
    );
  const list = fc.tuple(fc.constantFrom([], ...partsOf(input, Array.isArray)), fc.constantFrom(...LISTS)).map(
    ([path, spoil]) =>
      (value: unknown) =>
        path.length === 0 ? value : changed(value, path, spoil),
  );
  return fc.tuple(number, fc.option(fc.oneof(number, list))).map(([first, second]) => {
    const once = first(input);
    try {
      return second ? second(once) : once;
    } catch {
      // The second place went with the first.
      return once;
    }
  });
};

describe('awkward numbers', () => {
  for (const [command, input] of Object.entries({ flatten: slabA, leaves: board, keys: cracked })) {
    it(`get an answer that fits the schema, or a sentence, from ${command}`, async () => {
      await using bench = await Bench.make();
      const schema = JSON.parse((await bench.call(['schema', command])).out);
      await fc.assert(
        fc.asyncProperty(spoilt(input), async (sent) => {
          const called = await bench.call([command], JSON.stringify(sent));
          expect(called.status === 0 || called.status === 2, called.told.join('\n')).toBe(true);
          if (called.status === 0) expect(faultsAgainst(schema, JSON.parse(called.out))).toEqual([]);
          else expect(errorOf(called).where).not.toBe('');
        }),
        { numRuns: Number(process.env.RUNS ?? runs(40)) },
      );
    });
  }
});
