import loadHighs from 'highs';
import { beforeAll, describe, expect, test } from 'vitest';
import { ringArea } from '../../src/geometry';
import type { Job, Plan } from '../../src/job';
import { proposePlans } from '../../src/layout';
import { dryingWords, moistureDoubts, type PlanReport, planReport, stockApart } from '../../src/plan';
import { unwatched } from '../../src/search';
import { weight } from '../../src/wood';
import { wavyJob } from '../support/wavy-slabs';

/** What the wood asks for, on invented slabs. */
let job: Job;
let plan: Plan;
let report: PlanReport;

beforeAll(async () => {
  job = wavyJob(
    [
      { length: 2600, width: 480, swing: 12 },
      { length: 2500, width: 460, swing: 9 },
    ],
    { length: 2200, depth: [610, 660] },
  );
  const [best] = await proposePlans(job, new Map(), await loadHighs(), unwatched());
  plan = best as Plan;
  report = planReport(job, plan);
});

const withMoistures = (...moistures: (number | null)[]): Job => {
  const changed = structuredClone(job);
  const slabs = Object.values(changed.flitches).flatMap((flitch) => Object.values(flitch.slabs));
  moistures.forEach((moisture, i) => {
    Object.assign(slabs[i] ?? {}, { moisture, thickness: 54 });
  });
  return changed;
};

describe('the wood of a plan', () => {
  test('a blank weighs its area times the thickness at its moisture (Wood Handbook Eq. 4-12)', () => {
    const wet = withMoistures(20, 20);
    const wood = planReport(wet, plan).wood.blanks;
    const species = Object.values(wet.flitches)[0]?.species as string;
    report.slabs
      .flatMap(({ blanks }) => blanks)
      .forEach(({ id, rough }) => {
        const own = wood.find((blank) => blank.id === id);
        const { kg } = weight({ species, moisture: 20, litres: (ringArea(rough) * 54) / 1e6 });
        expect(own?.weight?.kg).toBeCloseTo(kg, 9);
        expect(own?.drying?.from).toBe(20);
      });
  });

  test('without a moisture nothing is guessed', () => {
    for (const { weight: kg, drying } of planReport(withMoistures(null, null), plan).wood.blanks) {
      expect([kg, drying]).toEqual([null, null]);
    }
  });

  test('parts 2 % apart may be glued, parts 3 % apart are not (TRADE 11, practice): said of the plan and before it', () => {
    const placement = Object.values(plan.placements)[0] as Plan['placements'][string];
    expect(placement.joints).toHaveLength(1);
    expect(moistureDoubts(withMoistures(9, 11), placement)).toEqual([]);
    expect(stockApart(withMoistures(9, 11))).toBeNull();
    const apart = withMoistures(9, 12);
    expect(moistureDoubts(apart, placement)).toEqual([expect.stringMatching(/9 %.*12 %|12 %.*9 %/)]);
    expect(planReport(apart, plan).wood.apart).toHaveLength(1);
    expect(stockApart(apart)).toMatch(/9 %.*12 %/);
    expect(stockApart(withMoistures(9, null))).toBeNull();
  });

  test('every seam is glued up over its whole length, and the top is fast at the front', () => {
    const [top] = report.wood.tops;
    expect(top?.glue).toHaveLength(1);
    expect(top?.fixing.rows[0]?.fast).toBe(true);
    expect(top?.fixing.front).toBeLessThan(top?.fixing.back as number);
  });

  test('both units say the same of a blank that dries', () => {
    const drying = planReport(withMoistures(20, 20), plan).wood.blanks[0]?.drying;
    if (!drying) throw new Error('It has a moisture.');
    const [mm, inches] = [dryingWords(drying, 'mm'), dryingWords(drying, 'in')];
    expect(mm).toHaveLength(inches.length);
    expect(mm[0]).toMatch(/From 20 % to 8 % it loses .* of its width/);
  });
});
