import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Edge } from '../../src/grain/edge';
import { LINE_TAPS } from '../../src/grain/lines';
import { spacingDiffers } from '../../src/grain/spacing';

/** An edge over whose stations lines stand `period` taps apart, each station a little further on in the figure than the one before. */
function ruled(period: number, stations: number, sound = (_: number) => true): Edge {
  const lines = Float32Array.from({ length: stations * LINE_TAPS }, (_, i) => {
    const [station, tap] = [Math.floor(i / LINE_TAPS), i % LINE_TAPS];
    return sound(station) ? Math.sin((2 * Math.PI * (tap + 0.37)) / period + 0.61 * station) || 1e-6 : 0;
  });
  return { lines } as unknown as Edge;
}

/** From 2.5 taps a line, the closest that taps can tell, to a line over all of them. */
const period = fc.double({ min: 2.5, max: LINE_TAPS, noNaN: true });

describe('lines over both edges of a joint', () => {
  it('stand plainly closer on one side where there are twice as many, and alike where there are as many', () => {
    fc.assert(
      fc.property(period, fc.double({ min: 1.8, max: 4, noNaN: true }), (own, times) => {
        fc.pre(own * times <= LINE_TAPS);
        const [p, q, r] = [ruled(own, 400), ruled(own * times, 400), ruled(own * 1.1, 400)];
        expect(spacingDiffers(p, q, 0, 400)).toBe(true);
        expect(spacingDiffers(q, p, 0, 400)).toBe(true);
        expect(spacingDiffers(p, r, 0, 400)).toBe(false);
        expect(spacingDiffers(p, p, 0, 400)).toBe(false);
      }),
      { numRuns: 40 },
    );
  });

  it('say nothing where too few of them are seen, or none is sound', () => {
    const [close, wide] = [ruled(3, 400), ruled(LINE_TAPS, 400)];
    expect(spacingDiffers(close, wide, 0, 400)).toBe(true);
    expect(spacingDiffers(close, wide, 0, 3)).toBe(false);
    expect(spacingDiffers(close, wide, 200, 200)).toBe(false);
    expect(
      spacingDiffers(
        close,
        ruled(LINE_TAPS, 400, () => false),
        0,
        400,
      ),
    ).toBe(false);
  });

  it('are counted in the stretch alone, and by the wood that is seen: what a defect hides thins no lines out', () => {
    const half = ruled(4, 400, (station) => station % 2 === 0);
    expect(spacingDiffers(ruled(4, 400), half, 0, 400)).toBe(false);
    // The right half of this edge has wider lines than the left.
    const [left, right] = [ruled(4, 200), ruled(9, 200)];
    const both = { lines: Float32Array.from([...left.lines, ...right.lines]) } as unknown as Edge;
    expect(spacingDiffers(ruled(4, 400), both, 0, 200)).toBe(false);
    expect(spacingDiffers(ruled(4, 400), both, 200, 400)).toBe(true);
  });
});
