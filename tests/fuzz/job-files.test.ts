import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { strToU8 } from 'fflate';
import { describe, expect, it } from 'vitest';
import { namedFiles, readJob, readJobFile, writeJobFile } from '../../src/job';
import { differences } from '../support/differences';
import { LONG, metWith, RUNS } from './runs';

/** The reader of job files, against what a stranger, a bad stick or a clever hand makes of one. */

/** All that a job can say, each thing once. */
const whole = JSON.parse(readFileSync('tests/fixtures/jobs/version-2-11-printed.json', 'utf8'));
const photo = Uint8Array.from({ length: 300 }, (_, i) => (i * 31) % 251);
const photos = new Map(namedFiles(readJob(whole)).map((name) => [name, photo]));

type Path = readonly string[];
const pathsOf = (value: unknown, path: Path = []): Path[] => [
  path,
  ...(typeof value === 'object' && value !== null
    ? Object.entries(value).flatMap(([key, part]) => pathsOf(part, [...path, key]))
    : []),
];
const PATHS = pathsOf(whole);

/** Values that fit no field, or only just. Text in « » goes into the file as it stands, since JSON.stringify would not write it. */
const nested = (depth: number): string => `«${'['.repeat(depth)}${']'.repeat(depth)}»`;
const HOSTILE: readonly unknown[] = [
  null,
  true,
  '',
  'NaN',
  'Infinity',
  '1e308',
  0,
  -0,
  -1,
  0.5,
  1e308,
  -1e308,
  5e-324,
  2 ** 53,
  '«1e999»',
  '«-1e999»',
  '«NaN»',
  '«1,»',
  [],
  {},
  [[]],
  [null, null],
  [0, 0],
  nested(50),
  nested(100_000),
  '«{"__proto__":{"id":"a"}}»',
  '«{"constructor":{"prototype":{"x":1}}}»',
  '«{"a":1,"a":2}»',
  { toString: 1, valueOf: 2 },
  { length: 1e9 },
  Array(2000).fill(0),
  'x'.repeat(501),
  '\u0000',
  '\ud800',
  '../../etc/passwd',
  'C:\\a',
  '<img src=x onerror=alert(1)>',
  'constructor',
  '__proto__',
  'nobody',
];
const KEYS = [
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'id',
  'x',
  '',
  'a/b~c',
  'é',
  'x'.repeat(2000),
] as const;

type Change = (value: unknown) => unknown;
const at = (path: Path, change: Change): Change => {
  const [key, ...rest] = path;
  if (key === undefined) return change;
  return (value) => {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return value;
    const copy = (Array.isArray(value) ? [...value] : { ...value }) as Record<string, unknown>;
    copy[key] = at(rest, change)(copy[key]);
    return copy;
  };
};
const withKey = (value: unknown, key: string, part: unknown): unknown =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
    ? // An own key even where it is called __proto__, as JSON.parse makes it.
      Object.defineProperty({ ...value }, key, { value: part, enumerable: true, writable: true, configurable: true })
    : part;

const path = fc.constantFrom(...PATHS);
const change = fc.oneof(
  fc.tuple(path, fc.constantFrom(...HOSTILE)).map(([where, value]) => at(where, () => value)),
  fc
    .tuple(path, fc.constantFrom(...KEYS), fc.constantFrom(...HOSTILE))
    .map(([where, key, value]) => at(where, (old) => withKey(old, key, value))),
  // One thing twice, under another name: its own id is then another than its key.
  fc.tuple(path, fc.constantFrom(...KEYS, 'twin')).map(([where, key]) =>
    at(where, (old) => {
      const first = typeof old === 'object' && old !== null ? Object.values(old)[0] : old;
      return withKey(old, key, first);
    }),
  ),
  // Something gone, and what named it left dangling.
  path.map((where) =>
    at(where.slice(0, -1), (old) => {
      if (Array.isArray(old)) return old.slice(0, -1);
      const { [where.at(-1) ?? '']: _, ...rest } = old as Record<string, unknown>;
      return rest;
    }),
  ),
  // A part of one kind where another belongs.
  fc.tuple(path, path).map(([where, from]) => {
    const part = from.reduce((value: unknown, key) => (value as Record<string, unknown>)[key], whole);
    return at(where, () => part);
  }),
);
const changed = fc
  .array(change, { minLength: 1, maxLength: 3 })
  .map((all) => all.reduce((job, one) => one(job), whole));
const written = (value: unknown): string =>
  (JSON.stringify(value) ?? 'undefined').replace(/"«(.*?)»"/g, (_, raw: string) => JSON.parse(`"${raw}"`));

const bytesOf = (text: string) => strToU8(text) as Uint8Array<ArrayBuffer>;

describe('a job file from anywhere', () => {
  it('opens with all that it says, or is refused', LONG, async () => {
    await fc.assert(
      fc.asyncProperty(changed, async (value) => {
        const text = written(value);
        const read = await metWith(() => readJobFile(bytesOf(text), photos));
        if (!read) return;
        // Nothing that it said was dropped without a word (what it left out has its default), and it can be stored and read again.
        const said = JSON.parse(text);
        expect(differences(said, read.job).filter((place) => valueAt(said, place) !== undefined)).toEqual([]);
        expect(readJob(JSON.parse(JSON.stringify(read.job)))).toEqual(read.job);
        expect(({} as { id?: string }).id).toBeUndefined();
      }),
      { numRuns: RUNS },
    );
  });

  it('that is no job at all is refused', LONG, async () => {
    const anything = fc.oneof(
      fc.json({ maxDepth: 6 }),
      fc.anything({ withNullPrototype: true }).map((value) => written({ schema: 2, ...(value as object) })),
      fc.string({ unit: 'binary' }),
      fc.constantFrom(...HOSTILE).map((value) => written({ schema: value })),
      fc.constantFrom(...HOSTILE).map(written),
    );
    await fc.assert(
      fc.asyncProperty(anything, async (text) => {
        expect(await metWith(() => readJobFile(bytesOf(text)))).toBeNull();
      }),
      { numRuns: RUNS },
    );
  });

  it(
    'whose bytes were changed, cut, doubled or shuffled on the way opens as the same job or is refused',
    LONG,
    async () => {
      const file = { job: readJob(whole), files: photos };
      const packed = await writeJobFile(file);
      const place = fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true });
      const spoil = fc.oneof(
        fc.tuple(fc.constant<string>('flip'), place, fc.integer({ min: 1, max: 255 })),
        fc.tuple(fc.constant<string>('cut'), place, place),
        fc.tuple(fc.constant<string>('double'), place, place),
        fc.tuple(fc.constant<string>('zero'), place, place),
        fc.tuple(fc.constant<string>('tail'), place, fc.integer({ min: 1, max: 255 })),
      );
      await fc.assert(
        fc.asyncProperty(fc.array(spoil, { minLength: 1, maxLength: 4 }), async (spoils) => {
          const bytes = spoils.reduce<Bytes>((now, [how, a, b]) => spoilt(now, how, a, b), packed);
          const read = await metWith(() => readJobFile(bytes));
          if (read) expect(read).toEqual(file);
        }),
        { numRuns: RUNS },
      );
    },
  );
});

type Bytes = Uint8Array<ArrayBuffer>;

/** Bytes with one thing done to them between two places of theirs, as shares of their length. */
function spoilt(bytes: Bytes, how: string, a: number, b: number): Bytes {
  const from = Math.floor(a * bytes.length);
  const to = Math.floor(Math.max(a, b) * bytes.length);
  const copy = Uint8Array.from(bytes);
  if (how === 'flip') copy[from] = (copy[from] ?? 0) ^ b;
  // The directory is at the end, and is what a reader goes by.
  if (how === 'tail') {
    const near = Math.max(0, bytes.length - 1 - Math.floor(a * 200));
    copy[near] = (copy[near] ?? 0) ^ b;
  }
  if (how === 'zero') copy.fill(0, from, to);
  if (how === 'cut') return Uint8Array.from([...bytes.subarray(0, from), ...bytes.subarray(to)]);
  if (how === 'double') return Uint8Array.from([...bytes.subarray(0, to), ...bytes.subarray(from)]);
  return copy;
}

const valueAt = (value: unknown, place: string): unknown =>
  place
    .split('/')
    .slice(1)
    .reduce((part, key) => (part as Record<string, unknown> | undefined)?.[key], value);
