import { describe, expect, it } from 'vitest';
import { nextStep } from '../../src/app/stages/next-step';
import {
  defaultDoor,
  defaultTop,
  emptyJob,
  type Flitch,
  type Job,
  type Placement,
  type Plan,
  type Strip,
} from '../../src/job';
import { seededRandom } from '../../src/search';
import { rackJob } from '../support/rack';
import { tapedJob } from '../support/taped';

const STAGES = ['stock', 'tops', 'layout', 'flattening', 'keys', 'leaves', 'map'];
const at = (job: Job, stage = 'stock') => nextStep(job, stage)?.says ?? null;

describe('the next step', () => {
  it('leads an empty job by its photos and a top to a plan', () => {
    const job = emptyJob('j', 'Job', '2026-11-26');
    expect(at(job)).toBe('photos of your slabs');
    expect(at(job, 'tops')).toBe('say what top you want');
    const traced = { ...rackJob({ slabs: 2, seed: 1 }), tops: {} };
    expect(at(traced)).toBe('say what top you want');
    expect(at({ ...traced, tops: { t: defaultTop('t') } })).toBe('lay the tops out');
  });

  it('leads a rack that was only taped to what to buy, and what was bought to its photo', () => {
    const rack = tapedJob(rackJob({ slabs: 2, seed: 1 }), seededRandom(1));
    expect(at({ ...rack, tops: {} })).toBe('say what top you want');
    expect(at(rack, 'tops')).toBe('see what to buy');
    const bought = structuredClone(rack);
    for (const { slabs } of Object.values(bought.flitches))
      for (const slab of Object.values(slabs)) slab.offer = 'bought';
    expect(at(bought)).toBe('photograph Slab 1');
  });

  it('leads doors without tops to a board', () => {
    const job = { ...emptyJob('j', 'Job', '2026-11-26'), doors: { d: defaultDoor('d') } };
    for (const stage of STAGES) expect(at(job, stage)).toBe('a board to saw leaves from');
  });

  it('asks for a plan to be kept, then for the map, and there for what the plan still wants', () => {
    const rack = rackJob({ slabs: 2, seed: 1 });
    const { slabs } = rack.flitches['log-1'] as Flitch;
    const strips = Object.keys(slabs).map((slab) => ({ flitch: 'log-1', slab }) as Strip);
    const placement = { top: 'top-1', strips, joints: [], depth: [600, 640], thickness: 38 } as Placement;
    const plan: Plan = {
      id: 'p',
      name: 'Plan 1',
      placements: { 'top-1': placement },
      misses: [],
      waste: 0,
      cost: null,
      gap: 0,
    };
    const planned: Job = { ...rack, plans: { p: plan } };
    expect(at(planned, 'layout')).toBe('keep the plan in view');
    const nothing = { ...planned, plans: { p: { ...plan, placements: {} } } };
    expect(at(nothing, 'layout')).toBe('change the top or the slabs');
    expect(at(nothing, 'tops')).toBe('lay the tops out once more');
    const kept = { ...planned, keptPlan: 'p' };
    for (const stage of STAGES.slice(0, 3)) expect(at(kept, stage)).toBe('see the cutting map');
    expect(at(kept, 'map')).toBeNull();
    for (const slab of Object.values(slabs)) slab.spots = {};
    expect(at(kept, 'map')).toBe('read the warp of Slab 1');
  });
});
