import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { XY } from '../../../src/app/canvas/items';
import { smoothAt, smoothLine, smoothRun } from '../../../src/app/stages/stock/hand/smooth';
import { distance, distanceToRing, distanceToSegment, ringArea } from '../../../src/geometry';
import { slabRing } from './slab-ring';

const wave = (length: number, height: number): XY[] =>
  Array.from({ length: 1001 }, (_, i): XY => [i, height * Math.sin((2 * Math.PI * i) / length)]);
/** Height of a smoothed wave, away from its ends. */
const heightOf = (line: readonly XY[]) =>
  Math.max(...line.filter(([x]) => x > 250 && x < 750).map(([, y]) => Math.abs(y)));

describe('smoothing', () => {
  it('takes off bumps that are shorter than asked and leaves longer ones', () => {
    expect(heightOf(smoothLine(wave(12, 1), 30))).toBeLessThan(0.1);
    expect(heightOf(smoothLine(wave(28, 1), 30))).toBeLessThan(0.6);
    expect(heightOf(smoothLine(wave(75, 2), 30))).toBeGreaterThan(1.9);
    expect(heightOf(smoothLine(wave(75, 2), 30))).toBeLessThan(2.1);
    expect(heightOf(smoothLine(wave(75, 2), 80))).toBeLessThan(1);
  });

  it('keeps both ends, and leaves a straight line where it is', () => {
    const end = fc.tuple(fc.integer({ min: -500, max: 500 }), fc.integer({ min: -500, max: 500 }));
    fc.assert(
      fc.property(end, end, fc.constantFrom(10, 30, 80), (a, b, bump) => {
        if (distance<'face'>(a, b) < 1) return;
        const line = smoothLine([a, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], b], bump);
        expect(line[0]).toEqual(a);
        expect(line.at(-1)).toEqual(b);
        for (const p of line) expect(distanceToSegment<'face'>(p, [a, b])).toBeLessThan(1e-6);
      }),
    );
  });

  it('does not shrink a round: Taubin’s two steps against plain averaging', () => {
    const arc = Array.from({ length: 181 }, (_, i): XY => {
      const turn = (Math.PI * i) / 180;
      return [200 * Math.cos(turn), 200 * Math.sin(turn)];
    });
    for (const [x, y] of smoothLine(arc, 30)) expect(Math.abs(Math.hypot(x, y) - 200)).toBeLessThan(0.15);
  });

  it('of a stretch leaves the rest of the outline alone and says how far it moved the edge', () => {
    fc.assert(
      fc.property(slabRing, fc.nat(), fc.integer({ min: 2, max: 4 }), (ring, i, count) => {
        const first = i % ring.length;
        const run = { first, last: (first + count) % ring.length };
        const { ring: next, moved } = smoothRun(ring, run, 30);
        const rest = ring.filter((_, k) => (k - first + ring.length) % ring.length > count);
        for (const p of rest) expect(distanceToRing<'face'>(p, next)).toBeLessThan(0.001);
        for (const p of ring) expect(distanceToRing<'face'>(p, next)).toBeLessThanOrEqual(moved + 0.001);
        expect(Math.abs(ringArea(next) / ringArea(ring) - 1)).toBeLessThan(0.02);
      }),
    );
  });

  it('with a brush changes nothing beyond its rim, and is refused where it touches nothing', () => {
    const rough: XY[] = [...wave(10, 1), [1000, 400], [0, 400]];
    const next = smoothAt(rough, [500, 0], 40) as XY[];
    expect(smoothAt(rough, [500, 200], 40)).toBeNull();
    const height = (from: number, to: number) =>
      Math.max(...next.filter(([x, y]) => y < 50 && x >= from && x <= to).map(([, y]) => Math.abs(y)));
    expect(height(490, 510)).toBeLessThan(0.3);
    expect(height(100, 450)).toBeCloseTo(1, 1);
  });
});
