import { describe, expect, it } from 'vitest';
import type { Job } from '../../src/job';
import { slabThickness } from '../../src/plan';
import { wavyJob } from '../support/wavy-slabs';

/** A slab of known bow, read all over: what it gives whole, and crosscut first. */
function bowed(bow: number): Job {
  const job = wavyJob([{ length: 2600, width: 520, swing: 0, thickness: 54 }], {});
  const slab = job.flitches.log?.slabs['slab-1'];
  if (!slab) throw new Error('It has one slab.');
  slab.moisture = null;
  slab.spots = {};
  for (let a = 0; a <= 12; a++) {
    for (let c = 0; c <= 4; c++) {
      const z = bow * (a / 6 - 1) ** 2;
      const id = `s${a}-${c}`;
      slab.spots[id] = {
        id,
        at: [(2600 * a) / 12, (520 * c) / 4],
        top: 54 + z,
        bottom: z,
        thickness: null,
        sigma: 0.05,
      };
    }
  }
  return job;
}

describe('a slab flattened whole', () => {
  it('loses its bow, and a crosscut in the middle gives three quarters of it back (TRADE 5: half the length, a quarter of the bow)', () => {
    const job = bowed(12);
    job.shop.reserve = { second: 0, level: 0 };
    job.shop.sanding = 0;
    const answer = slabThickness(job, 'log', 'slab-1');
    // 20 mm at each end is wane: 2,560 of 2,600. Relief that no reading follows counts for some tenths.
    const lost = 12 * (2560 / 2600) ** 2;
    expect(Math.abs((answer?.finished ?? 0) - (54 - lost))).toBeLessThan(0.9);
    const [best] = answer?.crosscuts ?? [];
    expect(best?.along).toBeCloseTo(1300, 0);
    expect(Math.abs((best?.left ?? 0) - (54 - lost / 4))).toBeLessThan(0.9);
    expect(Math.abs((best?.right ?? 0) - (54 - lost / 4))).toBeLessThan(0.9);
  });

  it('that is flat gains nothing by a crosscut, and none is proposed', () => {
    expect(slabThickness(bowed(0), 'log', 'slab-1')?.crosscuts).toEqual([]);
  });

  it('is unknown without readings', () => {
    const job = bowed(5);
    Object.assign(job.flitches.log?.slabs['slab-1'] ?? {}, { spots: {} });
    expect(slabThickness(job, 'log', 'slab-1')).toBeNull();
  });
});
