import { describe, expect, it } from 'vitest';
import { emptySlab, type Slab, type Spot } from '../../src/job';
import { slabReadings, slabSurfaces } from '../../src/surface';

const spot = (id: string, x: number, y: number, read: Partial<Spot>): Spot => ({
  id,
  at: [x, y],
  top: null,
  bottom: null,
  thickness: null,
  sigma: 0.2,
  ...read,
});
const slab = (spots: readonly Spot[], thickness: number | null = null): Slab => ({
  ...emptySlab('s', 1),
  thickness,
  spots: Object.fromEntries(spots.map((s) => [s.id, s])),
});

describe("what a slab's spots say of its faces", () => {
  it('takes the third of top, bottom and thickness from the other two', () => {
    const { top, bottom } = slabReadings(
      slab([
        spot('a', 0, 0, { top: 55, bottom: 1 }),
        spot('b', 500, 0, { top: 56, thickness: 54 }),
        spot('c', 0, 300, { bottom: 3, thickness: 53 }),
      ]),
    );
    expect(top.map(({ z }) => z)).toEqual([55, 56, 56]);
    expect(bottom.map(({ z }) => z)).toEqual([1, 2, 3]);
    // A height from two readings is less sure than one that was read.
    expect(bottom.map(({ sigma }) => sigma > 0.2)).toEqual([false, true, false]);
  });

  it('hangs a calliper reading at the edge under the top that others read', () => {
    const edge = spot('edge', 250, 0, { thickness: 53 });
    const { bottom } = slabReadings(slab([spot('a', 0, 0, { top: 54 }), spot('b', 500, 0, { top: 58 }), edge]));
    expect(bottom).toHaveLength(1);
    expect(bottom[0]?.z).toBeCloseTo(56 - 53, 9);
  });

  it("uses the slab's own thickness where a spot has one height alone, and trusts it less", () => {
    const { bottom } = slabReadings(slab([spot('a', 0, 0, { top: 54 })], 52));
    expect(bottom[0]?.z).toBe(2);
    expect(bottom[0]?.sigma).toBeGreaterThan(1);
  });

  it('says nothing without heights: a thickness alone does not tell the warp', () => {
    expect(slabSurfaces(slab([spot('a', 0, 0, { thickness: 54 })], 54))).toBeNull();
    expect(slabSurfaces(slab([]))).toBeNull();
    expect(slabSurfaces(slab([spot('a', 0, 0, { top: 54 })]))).toBeNull();
  });
});
