import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addToRun,
  goOn,
  type MeetingChoice,
  meetingOf,
  moveInRun,
  putTogether,
  setMeeting,
  takeFromRun,
} from '../../src/app/stages/wanted/run-edits';
import { begin, defaultTop, edit, emptyJob, grainLines, type Job, readJob, runsOf } from '../../src/job';

const CHOICES: readonly MeetingChoice[] = ['apart', 'butt', 'mitre in', 'mitre out', 'grain carries on', 'folds down'];

const fresh = (): Job => ({
  ...emptyJob('test', 'Test', '2026-11-25'),
  tops: Object.fromEntries(['a', 'b', 'c', 'd'].map((id) => [id, { ...defaultTop(id), name: id }])),
});
const changed = (job: Job, change: (draft: Job) => void): Job => edit(begin(job), 'change', change).job;

const step = fc.oneof(
  fc.record({ do: fc.constant('meet' as const), i: fc.nat(3), choice: fc.constantFrom(...CHOICES) }),
  fc.record({ do: fc.constant('add' as const), top: fc.constantFrom('a', 'b', 'c', 'd') }),
  fc.record({ do: fc.constant('take' as const), top: fc.constantFrom('a', 'b', 'c', 'd') }),
  fc.record({
    do: fc.constant('move' as const),
    top: fc.constantFrom('a', 'b', 'c', 'd'),
    by: fc.constantFrom(1 as const, -1 as const),
  }),
  fc.record({ do: fc.constant('delete' as const), top: fc.constantFrom('c', 'd') }),
);

describe('changes of tops that belong together', () => {
  it('leave a job that can be read, with the ends of every mitre cut alike and no other end mitred', () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
        let job = changed(fresh(), (draft) => putTogether(draft, 'r'));
        for (const one of steps) {
          job = changed(job, (draft) => {
            if (one.do === 'meet') setMeeting(draft, 'r', one.i, one.choice);
            if (one.do === 'add' && draft.tops[one.top]) addToRun(draft, 'r', one.top);
            if (one.do === 'take') takeFromRun(draft, 'r', one.top);
            if (one.do === 'move') moveInRun(draft, 'r', one.top, one.by);
            if (one.do === 'delete') {
              takeFromRun(draft, 'r', one.top);
              delete draft.tops[one.top];
            }
          });
          readJob(job);
          const mitred = new Set<string>();
          for (const run of runsOf(job)) {
            run.meets.forEach((_, i) => {
              const choice = meetingOf(job, run, i);
              const [left, right] = [run.tops[i] as string, run.tops[i + 1] as string];
              if (choice !== 'mitre in' && choice !== 'mitre out') return;
              mitred.add(`${left} left`).add(`${right} right`);
              const degrees = choice === 'mitre in' ? 135 : 45;
              expect(job.tops[left]?.ends.left.degrees).toBe(degrees);
              expect(job.tops[right]?.ends.right.degrees).toBe(degrees);
            });
          }
          for (const { id, ends } of Object.values(job.tops))
            for (const side of ['left', 'right'] as const)
              if (!mitred.has(`${id} ${side}`)) expect(ends[side].degrees).toBe(90);
        }
      }),
    );
  });

  it('fold a leg down from the last top, of the same wood and thickness', () => {
    const job = changed(fresh(), (draft) => goOn(draft, 'd', 'folds down', { top: 'leg', run: 'r' }));
    expect(grainLines(job).map(({ tops, meets }) => [tops.map(({ id }) => id), meets])).toEqual([
      [['d', 'leg'], ['folds down']],
    ]);
    expect(job.tops.leg?.thickness).toBe(job.tops.d?.thickness);
    // A second goes on from the end of the same run.
    const more = changed(job, (draft) => goOn(draft, 'leg', 'mitre in', { top: 'corner', run: 'other' }));
    expect(Object.keys(more.runs)).toEqual(['r']);
    expect(runsOf(more)[0]?.meets).toEqual(['folds down', 'mitre']);
  });
});
