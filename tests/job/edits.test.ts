import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { amend, begin, edit, emptyFlitch, emptyJob, type History, type Job, redo, undo } from '../../src/job';

/** A job of one flitch, whose name and whose job's name are what is changed here. */
function start(): History {
  const job: Job = emptyJob('j', 'Job', '2026-11-25');
  return begin({ ...job, flitches: { a: emptyFlitch('a', 'Log 1', 'walnut_black') } });
}
const rename = (name: string) => (draft: Job) => {
  draft.name = name;
};
const late = (draft: Job) => {
  const log = draft.flitches.a;
  if (log) log.name = 'Log 7';
};
const steps = (history: History) => history.done.map(({ name }) => name);

describe('what comes late', () => {
  it('belongs to the step that asked for it: steps after it stay, and one undo takes both back', () => {
    const first = edit(start(), 'read', rename('read'));
    const step = first.done[0]!;
    const later = edit(first, 'draw', rename('drawn'));
    const whole = amend(later, step, late);
    expect(steps(whole)).toEqual(['read', 'draw']);
    expect([whole.job.name, whole.job.flitches.a?.name]).toEqual(['drawn', 'Log 7']);
    const once = undo(whole);
    expect([once.job.name, once.job.flitches.a?.name]).toEqual(['read', 'Log 7']);
    expect(undo(once).job).toEqual(start().job);
  });

  it('is dropped when its step was undone, or nothing came', () => {
    const first = edit(start(), 'read', rename('read'));
    const step = first.done[0]!;
    const undone = undo(first);
    expect(amend(undone, step, late)).toBe(undone);
    expect(amend(first, step, () => {})).toBe(first);
  });

  it('comes back with its step, wherever it came among undo and redo', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4 }), fc.integer({ min: 0, max: 4 }), (after, back) => {
        const first = edit(start(), 'read', rename('read'));
        const step = first.done[0]!;
        let history = first;
        for (let i = 0; i < after; i++) history = edit(history, `draw ${i}`, rename(`drawn ${i}`));
        for (let i = 0; i < Math.min(back, after); i++) history = undo(history);
        const { undone } = history;
        history = amend(history, step, late);
        expect(history.undone).toEqual(undone);
        while (history.undone.length > 0) history = redo(history);
        expect([history.job.name, history.job.flitches.a?.name]).toEqual([
          after > 0 ? `drawn ${after - 1}` : 'read',
          'Log 7',
        ]);
        while (history.done.length > 0) history = undo(history);
        expect(history.job).toEqual(start().job);
        while (history.undone.length > 0) history = redo(history);
        expect(history.job.flitches.a?.name).toBe('Log 7');
      }),
    );
  });
});

it('a new job’s shop is its own: what one sets, no other has', () => {
  const [first, untouched] = [emptyJob('a', 'A', '2026-11-25'), structuredClone(emptyJob('b', 'B', '2026-11-25').shop)];
  first.shop.weights.offcuts += 1;
  first.shop.kerf.rip += 1;
  expect(emptyJob('b', 'B', '2026-11-25').shop).toEqual(untouched);
});
