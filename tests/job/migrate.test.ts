import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readJob, SCHEMA_VERSION } from '../../src/job';
import { differences } from '../support/differences';
import { problemOf } from '../support/problem-of';

const FOLDER = 'tests/fixtures/jobs';
const sample = (name: string): unknown => JSON.parse(readFileSync(`${FOLDER}/${name}`, 'utf8'));

/** What stands at a JSON pointer. */
const at = (value: unknown, pointer: string): unknown =>
  pointer
    .split('/')
    .slice(1)
    .reduce((part, key) => (part as Record<string, unknown> | undefined)?.[key], value);

/**
 * A document as the app of each time wrote it, with all that its schema knew and (bare) with nothing that it did not ask for. They are kept
 * for ever: whoever changes what one says, or takes one away, locks somebody's job.
 */
const SAMPLES = readdirSync(FOLDER);

describe('a job of an older version', () => {
  it.each(SAMPLES)('opens, and keeps what it said: %s', (name) => {
    const old = sample(name);
    const job = readJob(old);
    expect(job.schema).toBe(SCHEMA_VERSION);
    // What it left out has its default; what it said is as it was.
    const lost = differences(old, job).filter((place) => place !== '/schema' && at(old, place) !== undefined);
    expect(lost).toEqual([]);
    expect(readJob(JSON.parse(JSON.stringify(job)))).toEqual(job);
  });

  it('has samples of every version', () => {
    const versions = new Set(SAMPLES.map((name) => at(sample(name), '/schema')));
    expect([...versions].sort()).toEqual(Array.from({ length: SCHEMA_VERSION }, (_, i) => i + 1));
  });

  it('2: what version 1 did not keep of a face is not known', () => {
    const faces = Object.values(readJob(sample('version-1.json')).flitches).flatMap(({ slabs }) =>
      Object.values(slabs).flatMap((slab) => Object.values(slab.faces)),
    );
    expect(faces.length).toBeGreaterThan(0);
    for (const face of faces)
      expect(face).toMatchObject({ unseen: [], pith: null, grainLines: [], strokes: [], outlineByHand: false });
  });

  it('that is damaged is refused with its path, not mended into something else', () => {
    const damaged = { ...(sample('version-1.json') as object), flitches: { a: { slabs: 7 } } };
    expect(problemOf(() => readJob(damaged)).where).toMatch(/^\/flitches\/a/);
  });

  it('of a newer version is refused', () => {
    expect(problemOf(() => readJob({ schema: SCHEMA_VERSION + 1 })).message).toContain('newer');
  });

  it('with a key that every object has by itself is refused, not opened without what it holds', () => {
    for (const key of ['__proto__', 'constructor', 'toString']) {
      const odd = JSON.parse(
        readFileSync(`${FOLDER}/version-2-11-printed.json`, 'utf8').replace('"tops":{"a"', `"tops":{"${key}"`),
      );
      expect(problemOf(() => readJob(odd)).where, key).toBe(`/tops/${key}`);
    }
  });
});
