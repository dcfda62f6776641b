import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { acrossAt, coarser, faceFigures, measureDrift, placeBehind, ringsBetween } from '../../src/leaves/drift';
import { LIES } from '../../src/leaves/drift-types';
import { facingSides } from '../../src/leaves/facing';
import { crosses, pithOf, type RingBoard, ringFace } from './ring-board';

const KERF = 1.5;
/** Boards from flat sawn over the pith to quarter sawn beside it, the pith under or over them. */
const boards: fc.Arbitrary<RingBoard> = fc
  .record({
    across: fc.integer({ min: -100, max: 220 }),
    tilt: fc.integer({ min: -20, max: 20 }),
    deep: fc.integer({ min: 35, max: 130 }),
    fall: fc.integer({ min: -15, max: 15 }),
    above: fc.boolean(),
    seed: fc.integer({ min: 1, max: 1000 }),
  })
  .map(({ across, tilt, deep, fall, above, seed }) => ({
    length: 320,
    width: 120,
    pith: [across, across + tilt],
    deep: above ? [-deep, fall - deep] : [deep, deep + fall],
    seed,
  }));

/** What the measure is off by, mm, where the rings stand at more than 20 degrees to the face and show on both. */
function errors(board: RingBoard, from: number, to: number, across: (x: number, y: number) => number): number[] {
  const off: number[] = [];
  for (let x = 20; x < board.length; x += 25) {
    for (let y = 12; y < board.width - 10; y += 8) {
      const [pith, deep] = pithOf(board, x);
      const truth = crosses(board, x, y, from, to);
      if (Math.abs(y - pith) < 0.36 * Math.abs(deep - from) || !(truth > 6 && truth < board.width - 6)) continue;
      off.push(Math.abs(across(x, y) - (truth - y)));
    }
  }
  return off.sort((a, b) => a - b);
}

describe('the drift of figure across a kerf', () => {
  it.runIf(process.env.SLOW)('is the rings’ own, within half a millimetre, wherever the pith runs', () => {
    fc.assert(
      fc.property(boards, (board) => {
        const [near, far] = faceFigures([ringFace(board, 10), ringFace(board, 10 + KERF)]);
        const drift = measureDrift(near!, far!, KERF);
        const off = errors(board, 10, 10 + KERF, (x, y) => acrossAt(drift, x, y));
        expect(off[Math.floor(off.length / 2)] ?? 0).toBeLessThan(0.5);
        expect(off[Math.floor(0.9 * off.length)] ?? 0).toBeLessThan(1.5);
        expect(drift.likeness).toBeGreaterThan(0.7);
      }),
      { numRuns: 3 },
    );
  });

  const board: RingBoard = { length: 320, width: 120, pith: [30, 45], deep: [80, 90], seed: 4 };
  const plain = ringFace(board, 10);

  it.runIf(process.env.SLOW)('is found however the second face was photographed, and leads to the same wood', () => {
    for (const lie of LIES) {
      const [near, far] = faceFigures([plain, ringFace(board, 10 + KERF, lie)]);
      const kin = LIES.map((as) => ringsBetween(coarser(near!), coarser(far!), as)(KERF).kinship);
      expect(LIES[kin.indexOf(Math.max(...kin))]).toBe(lie);
      const drift = measureDrift(near!, far!, KERF, lie);
      const [x, y] = placeBehind(drift, [250, 95]);
      expect(Math.abs((lie.endsWith('end for end') ? board.length - x : x) - 250)).toBeLessThan(3);
      const back = lie === 'over' || lie === 'end for end' ? board.width - y : y;
      expect(Math.abs(back - crosses(board, 250, 95, 10, 10 + KERF))).toBeLessThan(0.8);
    }
  });

  it('tells the facing side of a cut from leaves further on, along any joint', () => {
    const depths = [10, 10 + KERF, 10 + KERF + 4.5, 10 + KERF + 9];
    const [side, ...others] = faceFigures(depths.map((depth) => ringFace(board, depth)));
    const meters = others.map((other) => facingSides(side!, other, measureDrift(side!, other, KERF)));
    for (const from of [10, 60]) {
      for (const keepsMore of [true, false]) {
        const joint = { leaf: 0, from, to: from + 240, y: keepsMore ? 55 : 105, keepsMore };
        const [right, ...wrong] = meters.map((meter) => meter(joint).likeness);
        expect(right).toBeGreaterThan(0.8);
        expect(Math.max(...wrong)).toBeLessThan(right!);
      }
    }
  });
});
