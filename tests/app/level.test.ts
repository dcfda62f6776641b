import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leanOf } from '../../src/app/camera/use-level';

/** The device's axes as rows, by the definition's own matrix: Z(0) X(beta) Y(gamma) (W3C Device Orientation, worked example A.1). */
function up(beta: number, gamma: number): [number, number, number] {
  const [b, g] = [(beta * Math.PI) / 180, (gamma * Math.PI) / 180];
  // How high each axis of the device (right, top, out of the screen) points.
  return [-Math.cos(b) * Math.sin(g), Math.sin(b), Math.cos(b) * Math.cos(g)];
}

describe('the level', () => {
  it('is square where the back looks straight down, and says by how much it does not', () => {
    expect(leanOf(0, 0).off).toBe(0);
    fc.assert(
      fc.property(
        fc.double({ min: -40, max: 40, noNaN: true }),
        fc.double({ min: -40, max: 40, noNaN: true }),
        (b, g) => {
          expect(leanOf(b, g).off).toBeCloseTo((Math.acos(up(b, g)[2]) * 180) / Math.PI, 6);
        },
      ),
    );
  });

  it('shows the low side where it is on the screen, however the screen is turned', () => {
    // Bottom low, right side low: by the device's own axes.
    for (const [beta, gamma] of [
      [10, 0],
      [0, 10],
      [7, -9],
    ] as const) {
      const [right, top] = up(beta, gamma);
      const straight = leanOf(beta, gamma);
      expect(Math.sign(straight.right)).toBe(-Math.sign(right) || 0);
      expect(Math.sign(straight.down)).toBe(Math.sign(top) || 0);
      // Turned a quarter to the left, the device's right side is up on the screen and its bottom at the right.
      const turned = leanOf(beta, gamma, 90);
      expect(turned.right).toBeCloseTo(straight.down, 9);
      expect(turned.down).toBeCloseTo(-straight.right, 9);
    }
  });

  it('is square before a slab that stands where the back looks level', () => {
    expect(leanOf(90, 0).off).toBeCloseTo(0, 9);
    expect(leanOf(0, 90).off).toBeCloseTo(0, 9);
    expect(leanOf(75, 0)).toMatchObject({ off: expect.closeTo(15, 9), down: expect.closeTo(-15, 9) });
  });
});
