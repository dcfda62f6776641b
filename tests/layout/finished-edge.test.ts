import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry';
import type { Job, Top } from '../../src/job';
import { depthFinished } from '../../src/layout';
import { checkPlan } from '../../src/plan';
import { onlyTop, placesOf, planWith } from '../support/places';
import { runs } from '../support/runs';
import { wavyJob } from '../support/wavy-slabs';

const [LENGTH, WIDTH, THICK, FINISHED] = [2400, 640, 54, 40];
/** As much comes off one face as off the other. */
const PLANED = (THICK - FINISHED) / 2;

const jobWith = (top: Partial<Top>): Job => {
  const job = wavyJob([{ length: LENGTH, width: WIDTH, swing: 6, thickness: THICK }], {
    length: 1800,
    depth: [480, 560],
    thickness: FINISHED,
    seams: 0,
    ...top,
  });
  return job;
};

/** The slab's underside, its front edge farther out by `wider` than the top face's at y = 0, seen turned over. */
function tied(job: Job, wider: number): Job {
  const slab = job.flitches.log?.slabs['slab-1'];
  const outline = slab?.faces.top.outline;
  if (!slab || !outline) throw new Error('It has one slab.');
  // Turned over about its length: y runs the other way.
  const outer = outline.outer.map(([x, y]): Point<'face'> => [x, WIDTH - (y + (y < WIDTH / 2 ? -wider : wider))]);
  slab.faces.bottom = { ...slab.faces.bottom, outline: { outer, holes: [] }, outlineSigma: 0.5 };
  const marks = (y: number): [Point<'face'>, Point<'face'>] => [
    [200, y],
    [2200, y],
  ];
  slab.tie = { top: marks(WIDTH / 2), bottom: marks(WIDTH / 2) } as unknown as NonNullable<typeof slab.tie>;
  return job;
}

const faultsOf = (job: Job, placement: Parameters<typeof planWith>[0]) => checkPlan(job, planWith(placement)).faults;

describe('a live edge on the finished face', () => {
  it('lies between both outlines, as deep below the face as was planed off', () => {
    fc.assert(
      fc.property(fc.integer({ min: -25, max: 25 }), (wider) => {
        const job = tied(jobWith({}), wider);
        const [place] = placesOf(job).fit.filter(({ placement }) => placement.strips[0]?.face === 'top');
        if (!place) throw new Error('The slab gives it.');
        const { placement, top } = place;
        const depth = depthFinished(job, top, placement);
        const out = (wider * PLANED) / THICK;
        // The top may be laid a degree or two off the slab, where the way across is a thousandth longer.
        expect(depth?.[0]).toBeCloseTo(placement.depth[0] + out, 1);
        expect(depth?.[1]).toBeCloseTo(placement.depth[1] + out, 1);
        expect(faultsOf(job, placement)).toEqual([]);
      }),
      { numRuns: runs(6) },
    );
  });

  it('moves by what is planed off over the tangent of its slope where one face is known', () => {
    fc.assert(
      fc.property(fc.integer({ min: 45, max: 135 }), (bevel) => {
        const job = jobWith({ bevel });
        const [place] = placesOf(job).fit;
        if (!place) throw new Error('The slab gives it.');
        const out = -PLANED / Math.tan((bevel * Math.PI) / 180);
        expect(depthFinished(job, place.top, place.placement)?.[0]).toBeCloseTo(place.placement.depth[0] + out, 2);
      }),
      { numRuns: runs(6) },
    );
  });

  it('is refused exactly when that takes it out of the depths wanted, and the checker says so', () => {
    const job = jobWith({ bevel: 90 });
    const [place] = placesOf(job).fit;
    if (!place) throw new Error('The slab gives it.');
    const [least] = place.placement.depth;
    const sloped = (depth: [number, number], bevel: number): Job => ({
      ...job,
      tops: { counter: { ...onlyTop(job), depth, bevel } },
    });
    // An edge that slopes in at 45 degrees comes in by as much as is planed off.
    const held = sloped([least - PLANED - 0.1, 560], 45);
    const missed = sloped([least - PLANED + 0.1, 560], 45);
    expect(faultsOf(held, place.placement)).toEqual([]);
    expect(
      faultsOf(missed, place.placement)
        .map(({ message }) => message)
        .join(),
    ).toContain('finished face');
    for (const { placement, top } of placesOf(missed).fit)
      expect(depthFinished(missed, top, placement)?.[0]).toBeGreaterThanOrEqual(least - PLANED + 0.09);
  });
});
