import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bowOfString, stringGaps } from '../../src/surface';
import { problemOf } from '../support/problem-of';

describe('a string before the edge of a slab, on a photo', () => {
  it('gives back a bow (x / half length)2 x sagitta, whatever the scale and slant of the photo', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.3, max: 3, noNaN: true }),
        fc.double({ min: -20, max: 20, noNaN: true }),
        fc.double({ min: 1, max: 15, noNaN: true }),
        (mmPerPx, degrees, sagitta) => {
          const t = (degrees * Math.PI) / 180;
          const place = (x: number, down: number): [number, number] => [
            300 + (x * Math.cos(t) - down * Math.sin(t)) / mmPerPx,
            400 + (x * Math.sin(t) + down * Math.cos(t)) / mmPerPx,
          ];
          const xs = [100, 700, 1300, 1900, 2500];
          const gap = (x: number) => 10 + sagitta * (1 - (x / 1300 - 1) ** 2);
          const found = stringGaps({
            known: { ends: [place(200, 90), place(1200, 90)], mm: 1000 },
            string: [place(0, 0), place(2600, 0)],
            edge: xs.map((x) => place(x, gap(x))),
          });
          found.forEach((one, i) => {
            expect(one.along).toBeCloseTo(xs[i] as number, 6);
            expect(one.gap).toBeCloseTo(gap(xs[i] as number), 6);
            expect(one.sigma).toBeGreaterThan(mmPerPx);
          });
        },
      ),
    );
  });

  it('reads the same from either end', () => {
    const known = {
      ends: [
        [0, 0],
        [100, 0],
      ] as [[number, number], [number, number]],
      mm: 500,
    };
    const edge: [number, number][] = [[40, 12]];
    const [one] = stringGaps({
      known,
      string: [
        [0, 0],
        [200, 0],
      ],
      edge,
    });
    const [two] = stringGaps({
      known,
      string: [
        [200, 0],
        [0, 0],
      ],
      edge,
    });
    expect(two?.gap).toBeCloseTo(one?.gap as number, 9);
  });

  it('tells the bow of the whole slab from a part of it: a quarter of the sagitta over half the length (TRADE 5)', () => {
    const gaps = [-650, -300, 0, 300, 650].map((x) => ({ along: 1300 + x, gap: 14 - 9 * (x / 1300) ** 2, sigma: 0.5 }));
    const found = bowOfString(gaps, 2600);
    expect(found?.bow).toBeCloseTo(9, 6);
    const wider = bowOfString(
      gaps.map((one) => ({ ...one, along: 1300 + 2 * (one.along - 1300) })),
      2600,
    );
    expect(wider?.bow).toBeCloseTo(9 / 4, 6);
    expect(wider?.sigma).toBeLessThan(found?.sigma as number);
    expect(bowOfString(gaps.slice(0, 2), 2600)).toBeNull();
  });

  it('needs a scale and a string', () => {
    const here: [number, number] = [5, 5];
    const photo = { known: { ends: [here, here] as const, mm: 100 }, string: [here, [50, 5]] as const, edge: [] };
    expect(problemOf(() => stringGaps(photo as never))).toMatchObject({ where: '/known' });
    const far = { ends: [here, [90, 5]] as const, mm: 100 };
    expect(problemOf(() => stringGaps({ known: far, string: [here, here], edge: [] } as never))).toMatchObject({
      where: '/string',
    });
  });
});
