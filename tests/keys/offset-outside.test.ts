import fc from 'fast-check';
import BufferOp from 'jsts/org/locationtech/jts/operation/buffer/BufferOp.js';
import BufferParameters from 'jsts/org/locationtech/jts/operation/buffer/BufferParameters.js';
import OverlayOp from 'jsts/org/locationtech/jts/operation/overlay/OverlayOp.js';
import { expect, test } from 'vitest';
import { offset } from '../../src/geometry';
import { inlayPair } from '../../src/keys/inlay';
import { keyOutline } from '../../src/keys/shape';
import { templateOf } from '../../src/keys/template';
import { type Shape, shape } from './jts';

/**
 * Offsets of templates against a second polygon library, a port of the JTS Topology Suite, that shares no code with ours. Areas in mm2: a line of 0.01 mm
 * all round a key of 100 is 3.
 */

/** Every side moved by so much, corners kept sharp. */
const mitred = (of: Shape, by: number): Shape =>
  BufferOp.bufferOp(of, by, new BufferParameters(8, BufferParameters.CAP_ROUND, BufferParameters.JOIN_MITRE, 10));
/** What a disc reaches. */
const rounded = (of: Shape, by: number): Shape => BufferOp.bufferOp(of, by, new BufferParameters(64));
const apart = (a: Shape, b: Shape): number => OverlayOp.symDifference(a, b).getArea();

const cases = fc
  .record({
    length: fc.integer({ min: 30, max: 120 }),
    waist: fc.double({ min: 0.25, max: 0.5, noNaN: true }),
    flare: fc.double({ min: 8, max: 20, noNaN: true }),
    bit: fc.double({ min: 0.2, max: 0.6, noNaN: true }),
    over: fc.double({ min: 2, max: 10, noNaN: true }),
    gap: fc.double({ min: 0, max: 0.3, noNaN: true }),
  })
  .map(({ length, waist, flare, bit, over, gap }) => {
    const w = waist * length;
    const end = w + length * Math.tan((flare * Math.PI) / 180);
    return { size: { id: 'any', length, waist: w, end, depths: [10] }, bit: bit * w, bushing: bit * w + over, gap };
  });

test('openings, what a bit clears, and key and pocket of an inlay pair are what a second library makes of them', () => {
  fc.assert(
    fc.property(cases, ({ size, bit, bushing, gap }) => {
      const key = shape(keyOutline(size));
      const { opening, routed, follows } = templateOf(size, 10, { bushing, bit });
      expect(apart(mitred(key, (bushing - bit) / 2), shape(opening))).toBeLessThan(1e-6);
      if (follows)
        expect(apart(rounded(rounded(shape(opening), -bushing / 2), bit / 2), shape(routed))).toBeLessThan(2);
      const collar = bushing + 2 * bit - 2 * gap;
      const pair = inlayPair(size, { bushing, bit, collar }, { gap });
      expect(apart(mitred(key, (bushing + bit) / 2), shape(pair.opening))).toBeLessThan(1e-6);
      if (pair.problems.length > 0) return;
      const out = shape(pair.opening);
      expect(apart(rounded(out, -(bushing + bit) / 2), shape(pair.key))).toBeLessThan(2);
      expect(apart(rounded(out, -(collar - bit) / 2), shape(pair.pared))).toBeLessThan(2);
      expect(apart(rounded(rounded(out, -collar / 2), bit / 2), shape(pair.routed))).toBeLessThan(2);
    }),
    { numRuns: 25 },
  );
});

test('so are offsets of rings that are no keys: notched, concave, parted by being shrunk', () => {
  const star = fc.array(fc.double({ min: 40, max: 120, noNaN: true }), { minLength: 5, maxLength: 14 }).map((radii) =>
    radii.map((r, i): readonly [number, number] => {
      const t = (2 * Math.PI * i) / radii.length;
      return [r * Math.cos(t), r * Math.sin(t)];
    }),
  );
  fc.assert(
    fc.property(star, fc.integer({ min: 5, max: 250 }), fc.boolean(), (ring, tenths, inward) => {
      const by = (inward ? -tenths : tenths) / 10;
      const theirs = rounded(shape(ring), by);
      const ours = offset<'top'>([{ outer: ring, holes: [] }], by);
      const area = ours.reduce((sum, { outer, holes }) => {
        const own = shape(outer).getArea() - holes.reduce((s, hole) => s + shape(hole).getArea(), 0);
        return sum + own;
      }, 0);
      // Both make arcs of straight pieces; per mm of outline a few hundredths of a mm.
      expect(Math.abs(area - theirs.getArea())).toBeLessThan(0.02 * theirs.getLength() + 1);
    }),
    { numRuns: 25 },
  );
});
