import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distance, distanceToRing, ringArea } from '../../src/geometry';
import { begin, edit, type Job, type Strip, undo } from '../../src/job';
import { checkPlan, type FacePlace, planReport, recordScaled } from '../../src/plan';
import { type LaidPlan, laidPlans } from '../support/laid-plans';

/** What a tape said of a photo's scale, written into a job with a plan on its slabs. The photo's own part is tested with the measures (record-remeasure). */

const times = fc.integer({ min: 9960, max: 10080 }).map((n) => n / 10_000);
const strips = (job: Job, { plan }: LaidPlan): Strip[] =>
  Object.values(job.plans[plan.id]!.placements).flatMap((one) => one.strips);
/** The job with the plan in it, and the face of its first strip. */
function start(laid: LaidPlan): { job: Job; place: FacePlace } {
  const job = { ...laid.job, plans: { [laid.plan.id]: laid.plan } };
  const [{ flitch, slab, face }] = strips(job, laid) as [Strip];
  return { job, place: { flitch, slab, face } };
}
const outlineOf = (job: Job, { flitch, slab, face }: FacePlace) =>
  job.flitches[flitch]!.slabs[slab]!.faces[face].outline!.outer;

describe('a face that is larger or smaller than its photo said', () => {
  it('keeps the sizes of its strips and their joints, and their live edges on the wood; other slabs stay; undo brings all back', () => {
    fc.assert(
      fc.property(laidPlans, times, (laid, by) => {
        const { job, place } = start(laid);
        const history = edit(begin(job), 'The photo was off', (draft) => recordScaled(draft, place, by, 0.0005));
        const [before, after] = [outlineOf(job, place), outlineOf(history.job, place)];
        expect(ringArea(after) / ringArea(before)).toBeCloseTo(by ** 2, 8);
        strips(job, laid).forEach((was, i) => {
          const is = strips(history.job, laid)[i]!;
          if (was.slab !== place.slab || was.face !== place.face) {
            expect(is).toEqual(was);
            return;
          }
          for (const line of ['jointFront', 'jointBack'] as const)
            if (was[line]) expect(distance(...is[line]!)).toBeCloseTo(distance(...was[line]), 6);
          was.finished.forEach((p, k) => {
            if (distanceToRing(p, before) < 0.5) expect(distanceToRing(is.finished[k]!, after)).toBeLessThan(0.6);
          });
        });
        expect(undo(history).job).toEqual(job);
      }),
      { numRuns: 25 },
    );
  });

  it('has its waste counted anew, and says of the seams that it moved, and of no other, that their look is of before', () => {
    fc.assert(
      fc.property(laidPlans, times, (laid, by) => {
        const { job, place } = start(laid);
        const history = edit(begin(job), 'The photo was off', (draft) => recordScaled(draft, place, by, 0.0005));
        const { plan: figures, slabs } = planReport(history.job, history.job.plans[laid.plan.id]!);
        const sum = (of: (slab: (typeof slabs)[number]) => number) => slabs.reduce((all, slab) => all + of(slab), 0);
        const wasted = sum(({ areas }) => areas.waste + areas.kerf) / sum(({ areas }) => areas.stock);
        expect(figures.waste).toBeCloseTo(wasted, 6);
        // How a seam looks is known to be of before where one of its strips was moved, and nowhere else.
        for (const placement of Object.values(history.job.plans[laid.plan.id]!.placements))
          placement.joints.forEach(({ before: old }, i) => {
            const moved = placement.strips
              .slice(i, i + 2)
              .some(({ slab, face }) => slab === place.slab && face === place.face);
            expect(old === true).toBe(moved);
          });
      }),
      { numRuns: 4 },
    );
  });

  it('breaks no rule but those that less wood breaks', () => {
    fc.assert(
      fc.property(laidPlans, times, (laid, by) => {
        const { job, place } = start(laid);
        const was = new Set(checkPlan(job, laid.plan).faults.map(({ rule }) => rule));
        const after = edit(begin(job), 'The photo was off', (draft) => recordScaled(draft, place, by, 0.0005)).job;
        const broken = checkPlan(after, after.plans[laid.plan.id]!).faults.filter(({ rule }) => !was.has(rule));
        // Where the wood is smaller than was thought, a piece may no longer have its blank around it.
        const less = ['wood', 'margin', 'defect', 'depth', 'strip', ...(by < 1 ? ['allowance'] : [])];
        expect(broken.filter(({ rule }) => !less.includes(rule))).toEqual([]);
      }),
      { numRuns: 12 },
    );
  });
});
