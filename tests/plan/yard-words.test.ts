import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Job } from '../../src/job';
import { inMoney, sharesOf } from '../../src/layout';
import { setCost } from '../../src/layout/yard-value';
import { pricePerArea, seamsWord, setName } from '../../src/plan/yard-words';
import { listed } from '../../src/units';
import { rackJob } from '../support/rack';

const job = rackJob({ slabs: 8, seed: 2 });
const inches: Job = { ...job, units: 'in' };

describe('prices for an area', () => {
  it('are of a square metre and of a square foot, the unit of the job first: 300 for 1.5 m2 is 200 a metre, 18.58 a foot', () => {
    // 1 ft = 0.3048 m exactly (international foot, 1959), so a square foot is 0.09290304 m2.
    expect(pricePerArea(job, 300, 1.5e6)).toMatch(/^200\.00\sEUR\/m² \(18\.58\sEUR\/ft²\)$/);
    expect(pricePerArea(inches, 300, 1.5e6)).toMatch(/^18\.58\sEUR\/ft² \(200\.00\sEUR\/m²\)$/);
  });

  it('are not told without a price, or without a top', () => {
    expect(pricePerArea(job, null, 1e6)).toBeNull();
    expect(pricePerArea(job, 300, 0)).toBeNull();
  });
});

describe('what a seam looks like', () => {
  it('is said of the worst, and apart where nobody looked and where nobody could', () => {
    expect(seamsWord({ seams: [], unseen: false })).toBe('no seam');
    expect(seamsWord({ seams: [0.6, 0.001], unseen: false })).toBe('its seam is plain to see');
    expect(seamsWord({ seams: [0.6], unseen: false })).toBe('its seam disappears');
    expect(seamsWord({ seams: [null], unseen: true })).toBe('its seam is not looked at yet');
    expect(seamsWord({ seams: [null], unseen: false })).toBe('no picture yet of its seam');
  });
});

describe('names', () => {
  it('name the log only where two logs have a slab of the same name', () => {
    expect(setName(job, ['log-1/slab-3', 'log-2/slab-7'])).toBe('Slab 3 + Slab 7');
    const alike = structuredClone(job);
    const slab = alike.flitches['log-2']?.slabs['slab-7'];
    if (slab) slab.name = 'Slab 3';
    expect(setName(alike, ['log-1/slab-3', 'log-2/slab-7'])).toBe('Log 1, Slab 3 + Log 2, Slab 3');
    expect(setName(job, [])).toBe('What you have already');
  });

  it('are listed as they are said', () => {
    expect([listed(['a']), listed(['a', 'b']), listed(['a', 'b', 'c'])]).toEqual(['a', 'a and b', 'a, b and c']);
  });
});

describe('worth in money', () => {
  it('is by how much less a set would have to cost to make up for it', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('best' as const, 'cheapest' as const),
        fc.double({ min: 20, max: 5000, noNaN: true }),
        fc.double({ min: 0, max: 400, noNaN: true }),
        (aim, price, worth) => {
          const shares = sharesOf(aim, job.shop.weights);
          const money = inMoney(shares, price, worth);
          const free = setCost(shares, price, 1) - setCost(shares, 0, 1);
          if (money === null) expect(worth).toBeGreaterThan(free - 1e-9);
          else expect(setCost(shares, price, 1) - setCost(shares, price - money, 1)).toBeCloseTo(worth, 6);
        },
      ),
    );
  });
});
