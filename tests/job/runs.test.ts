import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  defaultTop,
  emptyJob,
  grainLines,
  type Job,
  MEETINGS,
  type Meeting,
  type Run,
  readJob,
  runsOf,
} from '../../src/job';
import { InputProblem } from '../../src/units';
import { problemOf } from '../support/problem-of';

const jobWith = (tops: readonly string[], runs: readonly Run[]): Job => ({
  ...emptyJob('test', 'Test', '2026-11-25'),
  tops: Object.fromEntries(tops.map((id) => [id, defaultTop(id)])),
  runs: Object.fromEntries(runs.map((run) => [run.id, run])),
});
const run = (id: string, tops: string[], meets: Meeting[]): Run => ({ id, name: id, tops, meets, from: 'anywhere' });

/** A run of two to seven tops, and which of them are taken out again. */
const thinned = fc.integer({ min: 2, max: 7 }).chain((n) =>
  fc.record({
    meets: fc.array(fc.constantFrom(...MEETINGS), { minLength: n - 1, maxLength: n - 1 }),
    gone: fc.array(fc.boolean(), { minLength: n, maxLength: n }),
  }),
);

describe('a run from which tops were taken out', () => {
  it('keeps the order of the rest, and nothing meets over a gap', () => {
    fc.assert(
      fc.property(thinned, ({ meets, gone }) => {
        const names = gone.map((_, i) => `t${i}`);
        const left = names.filter((_, i) => !gone[i]);
        const job = jobWith(left, [run('r', names, meets)]);
        const [kept] = runsOf(job);
        expect(kept?.tops).toEqual(left.length < 2 ? undefined : left);
        kept?.meets.forEach((meeting, i) => {
          const [a, b] = [names.indexOf(left[i] as string), names.indexOf(left[i + 1] as string)];
          expect(meeting).toBe(b === a + 1 ? meets[a] : 'apart');
        });
      }),
    );
  });
});

describe('lines of grain', () => {
  it('are the stretches of a run over which the grain goes on, no top in two of them', () => {
    const job = jobWith(
      ['a', 'b', 'c', 'd', 'e'],
      [
        run('wall', ['a', 'b', 'c', 'd'], ['folds down', 'grain carries on', 'butt']),
        run('other', ['c', 'e', 'd'], ['grain carries on', 'grain carries on']),
      ],
    );
    expect(grainLines(job).map(({ tops, meets }) => [tops.map(({ id }) => id), meets])).toEqual([
      [
        ['a', 'b', 'c'],
        ['folds down', 'grain carries on'],
      ],
      [['e', 'd'], ['grain carries on']],
    ]);
  });
});

describe('a run of the document', () => {
  const read = (change: Partial<Run>) => () =>
    readJob(jobWith(['a', 'b'], [{ ...run('r', ['a', 'b'], ['butt']), ...change }]));

  it.each<[string, Partial<Run>, string]>([
    ['one top alone', { tops: ['a'], meets: [] }, '/runs/r/tops'],
    ['a top twice', { tops: ['a', 'a'] }, '/runs/r/tops'],
    ['a meeting too many', { meets: ['butt', 'butt'] }, '/runs/r/meets'],
    ['an unknown meeting', { meets: ['dovetail' as never] }, '/runs/r/meets/0'],
  ])('is refused with %s', (_, change, where) => {
    expect(problemOf(read(change))).toMatchObject({ where });
    expect(problemOf(read(change))).toBeInstanceOf(InputProblem);
  });

  it('may be left out, as in every job saved before there were any', () => {
    const { runs: _, ...older } = jobWith(['a', 'b'], []);
    expect(readJob(older).runs).toEqual({});
  });
});
