import { describe, expect, it } from 'vitest';
import type { Plan } from '../../src/job';
import { boundRack } from '../../src/layout';
import { yardLook } from '../../src/plan';
import { unwatched } from '../../src/search';
import { rackJob } from '../support/rack';

/** What a look at a set of slabs leaves open. Invented slabs. */

const nothing: Plan = { id: 'p', name: 'P', placements: {}, misses: [], waste: 0, cost: null, gap: 0 };

describe('a set that was laid out by shape and gave no top', () => {
  const look = async (pictured: number, seen: boolean) => {
    const job = rackJob({
      slabs: 2,
      seed: 5,
      taped: 0,
      tops: [{ length: 1500, depth: [500, 540], thickness: 20, seams: 1 }],
    });
    const slabs = Object.values(job.flitches).flatMap((flitch) => Object.values(flitch.slabs));
    slabs.forEach((slab, i) => {
      slab.faces.top.picture = i < pictured ? { file: 'a', mmPerPx: 1, x0: 0, y0: 0, width: 9, height: 9 } : null;
    });
    const bound = (await boundRack(job, 'best', unwatched())).find((one) => one.slabs.length === 2);
    if (!bound) throw new Error('no pair');
    expect(bound.tops).toEqual(['top-1']);
    return { bound, look: yardLook(job, nothing, 'best', bound.slabs, bound, seen) };
  };

  it('may still be worth its bound where both slabs have pictures: those find places that shapes do not', async () => {
    const { bound, look: found } = await look(2, false);
    expect(found.most).toBe(bound.most);
    expect(found.value).toBeLessThan(bound.most);
  });

  it('is settled where there is nothing more to look at', async () => {
    for (const [pictured, seen] of [
      [2, true],
      [1, false],
      [0, false],
    ] as const) {
      const { look: found } = await look(pictured, seen);
      expect(found.most).toBe(found.value);
    }
  });
});
