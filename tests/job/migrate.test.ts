import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readJob, SCHEMA_VERSION } from '../../src/job';
import { problemOf } from '../support/problem-of';

const sample = (version: number): unknown =>
  JSON.parse(readFileSync(new URL(`../fixtures/jobs/version-${version}.json`, import.meta.url), 'utf8'));

describe('a job of an older version', () => {
  const versions = Array.from({ length: SCHEMA_VERSION - 1 }, (_, i) => i + 1);

  it.each(versions)('%i opens, and keeps what it said', (version) => {
    const old = sample(version) as { name: string; flitches: Record<string, { slabs: object }> };
    const job = readJob(old);
    expect(job.schema).toBe(SCHEMA_VERSION);
    expect(job.name).toBe(old.name);
    expect(job).toMatchObject({ flitches: old.flitches });
  });

  it('2: what version 1 did not keep of a face is not known', () => {
    const faces = Object.values(readJob(sample(1)).flitches).flatMap(({ slabs }) =>
      Object.values(slabs).flatMap((slab) => Object.values(slab.faces)),
    );
    expect(faces.length).toBeGreaterThan(0);
    for (const face of faces)
      expect(face).toMatchObject({ unseen: [], pith: null, grainLines: [], strokes: [], outlineByHand: false });
  });

  it('that is damaged is refused with its path, not mended into something else', () => {
    const damaged = { ...(sample(1) as object), flitches: { a: { slabs: 7 } } };
    expect(problemOf(() => readJob(damaged)).where).toMatch(/^\/flitches\/a/);
  });

  it('of a newer version is refused', () => {
    expect(problemOf(() => readJob({ schema: SCHEMA_VERSION + 1 })).message).toContain('newer');
  });
});
