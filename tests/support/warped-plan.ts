import loadHighs from 'highs';
import type { Job } from '../../src/job';
import { proposePlans } from '../../src/layout';
import { unwatched } from '../../src/search';
import { wavyJob } from './wavy-slabs';

/** A job of two invented slabs that bow and twist, with one top over a joint laid out and kept. */
export async function warpedPlan(): Promise<Job> {
  const job = wavyJob(
    [
      { length: 2600, width: 480, swing: 12, thickness: 54 },
      { length: 2500, width: 460, swing: 9, thickness: 52 },
    ],
    { length: 2200, depth: [610, 660], thickness: 34 },
  );
  for (const { slabs } of Object.values(job.flitches)) {
    for (const slab of Object.values(slabs)) {
      for (const spot of Object.values(slab.spots)) {
        const [u, v] = [(spot.at[0] - 1300) / 1300, (spot.at[1] - 240) / 240];
        const lift = 7 * u * u + 2 * v * v + 1.5 * u * v;
        Object.assign(spot, { top: (spot.top ?? 0) + lift, bottom: (spot.bottom ?? 0) + lift });
      }
    }
  }
  const plans = await proposePlans(job, new Map(), await loadHighs(), unwatched());
  job.plans = Object.fromEntries(plans.map((plan) => [plan.id, plan]));
  job.keptPlan = plans[0]?.id ?? null;
  return job;
}
