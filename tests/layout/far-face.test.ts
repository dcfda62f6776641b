import loadHighs from 'highs';
import { describe, expect, it } from 'vitest';
import { applyAll, bounds, intersection, type Polygon, rectangle, regionsArea } from '../../src/geometry';
import type { Job } from '../../src/job';
import { fromFarFace, proposePlans } from '../../src/layout';
import { unwatched } from '../../src/search';
import { wavyJob } from '../support/wavy-slabs';

/** What only the underside shows and goes through is kept off on the upper face, too. */
const tie = {
  top: [
    [100, 100],
    [2500, 100],
  ],
  // The slab turned over about its long axis: across counts from the other edge.
  bottom: [
    [100, 380],
    [2500, 380],
  ],
} as NonNullable<Job['flitches'][string]['slabs'][string]['tie']>;

function jobWith(hole: Polygon<'face'> | null, through: boolean): Job {
  const job = wavyJob([{ length: 2600, width: 480, swing: 6, thickness: 54 }], {
    length: 900,
    depth: [300, 320],
    front: 'straight',
    thickness: 30,
    seams: 0,
  });
  const slab = job.flitches.log?.slabs['slab-1'];
  if (!slab) throw new Error('It has one slab.');
  slab.tie = tie;
  if (hole) {
    const defect = { id: 'v', kind: 'void' as const, polygon: hole, permit: 'avoid' as const, through };
    slab.faces.bottom = { ...slab.faces.bottom, defects: { v: defect } };
  }
  return job;
}

const planned = async (job: Job) => {
  const plans = await proposePlans(job, new Map(), await loadHighs(), unwatched());
  return plans.flatMap((plan) => Object.values(plan.placements).flatMap(({ strips }) => strips));
};

describe('a void that only the underside shows', () => {
  it('is kept off where it goes through, and costs nothing where it does not', async () => {
    const [free] = await planned(jobWith(null, true));
    if (!free) throw new Error('A sound slab gives a plan.');
    const { minX, maxX, minY, maxY } = bounds(free.finished);
    const spot = rectangle<'face'>(
      (minX + maxX) / 2 - 30,
      (minY + maxY) / 2 - 20,
      (minX + maxX) / 2 + 30,
      (minY + maxY) / 2 + 20,
    );
    // The map between the faces is its own way back: a mirror, a turn and a shift by the same marks.
    const below = applyAll(fromFarFace({ top: tie.bottom, bottom: tie.top } as unknown as typeof tie), spot);
    const strips = (await planned(jobWith(below, true))).filter(({ face }) => face === 'top');
    expect(strips.length).toBeGreaterThan(0);
    for (const { finished } of strips) {
      const held = intersection([{ outer: finished, holes: [] }], [{ outer: spot, holes: [] }]);
      expect(regionsArea(held)).toBeLessThan(1);
    }
    const [same] = await planned(jobWith(below, false));
    expect(same?.finished).toEqual(free.finished);
  });
});
