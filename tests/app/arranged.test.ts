import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arranged, paneShape } from '../../src/app/stages/layout/arranged';

const GAP = 100;
const size = fc.tuple(fc.integer({ min: 200, max: 3000 }), fc.integer({ min: 200, max: 900 }));

describe('drawings in rows', () => {
  it('keep their order and their distance, within the size that is told, and are shown no smaller than one below the other', () => {
    fc.assert(
      fc.property(fc.array(size, { minLength: 1, maxLength: 8 }), fc.boolean(), (sizes, narrow) => {
        const shape = paneShape(narrow);
        const { places, width, height } = arranged(sizes, shape, GAP);
        places.forEach(([x, y], i) => {
          const [w, h] = sizes[i]!;
          expect(x + w).toBeLessThanOrEqual(width);
          expect(y + h).toBeLessThanOrEqual(height);
          const next = places[i + 1];
          if (next)
            expect(next[1] === y ? next[0] - (x + w) === GAP : next[0] === 0 && next[1] >= y + h + GAP).toBe(true);
        });
        const scaleOf = (across: number, down: number) => Math.min(shape / across, 1 / down);
        const stacked = scaleOf(
          Math.max(...sizes.map(([w]) => w)),
          sizes.reduce((sum, [, h]) => sum + h + GAP, -GAP),
        );
        expect(scaleOf(width, height)).toBeGreaterThanOrEqual(stacked * (1 - 1e-9));
      }),
    );
  });

  it('stand beside each other where four square ones would be small below each other', () => {
    const { places } = arranged(
      Array.from({ length: 4 }, () => [500, 500] as const),
      2,
      GAP,
    );
    expect(new Set(places.map(([, y]) => y)).size).toBeLessThan(3);
  });
});
