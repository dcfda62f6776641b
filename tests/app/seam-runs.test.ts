import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { runPlace, seamRuns } from '../../src/app/stages/layout/seam-runs';
import { seamWord } from '../../src/grain';

/** Stretches of a seam, one after the other from its right-hand end, as the measure gives them. */
const seam = fc
  .array(
    fc.record({
      mm: fc.integer({ min: 20, max: 250 }),
      blend: fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
      why: fc.constantFrom(null, 'colour', 'grain', 'spacing', 'lines', 'defect'),
    }),
    { minLength: 1, maxLength: 20 },
  )
  .map((parts) => {
    let at = 0;
    const along = parts.map(({ mm, blend, why }) => {
      at += mm;
      return { from: at - mm, to: at, blend, why };
    });
    return { along, length: at };
  });

describe('a seam as it is told from left to right', () => {
  it('is told whole and once, every stretch by its own word, and no two neighbours alike', () => {
    fc.assert(
      fc.property(seam, ({ along, length }) => {
        const runs = seamRuns(along, length);
        expect([runs[0]?.from, runs.at(-1)?.to]).toEqual([0, length]);
        for (const [i, run] of runs.entries()) {
          expect(run.to).toBeGreaterThan(run.from);
          const next = runs[i + 1];
          if (!next) continue;
          expect(next.from).toBe(run.to);
          expect([next.word, next.why]).not.toEqual([run.word, run.why]);
        }
        for (const { from, to, blend, why } of along) {
          // The top's x runs from its right-hand end, words from the left.
          const middle = length - (from + to) / 2;
          const told = runs.find((run) => run.from <= middle && middle <= run.to);
          expect([told?.word, told?.why]).toEqual([blend === null ? null : seamWord(blend), why]);
        }
      }),
    );
  });

  it('says where a run lies in the units of the job', () => {
    const [first, second] = seamRuns(
      [
        { from: 0, to: 254, blend: 0.005, why: 'colour' },
        { from: 254, to: 1016, blend: 0.6, why: null },
      ],
      1016,
    );
    expect(first).toMatchObject({ from: 0, to: 762, why: null });
    expect(second && runPlace(second, 'mm')).toBe('762 to 1016');
    expect(second && runPlace(second, 'in')).toBe('30" to 40"');
  });
});
