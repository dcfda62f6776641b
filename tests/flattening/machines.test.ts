import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flattenBlank } from '../../src/flattening';
import { rectangle } from '../../src/geometry';
import { warpFaces } from '../../src/surface';
import { mostRpm } from '../../src/wood';
import { runs } from '../support/runs';
import { shop } from './blanks';

/** Which tool makes which face, and what it has to do. */
const slab = { length: 1200, width: 380, thickness: 50, bow: 3, cup: 2, twist: 2 };
const blank = { id: 'a', polygon: rectangle<'face'>(-600, -190, 600, 190) };
const planer = { width: 400, thickness: 150, shortest: 250, depth: 1.5, feed: 100 };
const drumSander = { width: 900, thickness: 100, shortest: 100, depth: 0.3, feed: 40 };
const flat = (more: object = {}, wood = slab) => flattenBlank(warpFaces(wood), blank, { ...shop, ...more });

describe('the tool that makes a face', () => {
  it('is the sled for both faces where the shop has no other', () => {
    expect(flat().faces.map(({ tool }) => tool)).toEqual(['sled', 'sled']);
  });

  it('is never a machine for the first face: it would copy the warp (common practice, no source)', () => {
    expect(flat({ planer, drumSander }).faces.map(({ tool }) => tool)).toEqual(['sled', 'planer']);
    expect(flat({ drumSander }).faces.map(({ tool }) => tool)).toEqual(['sled', 'drum sander']);
  });

  it('is the sled where the blank is too wide, too thick or too short for the machine', () => {
    for (const less of [{ width: 379 }, { thickness: 45 }, { shortest: 1201 }]) {
      expect(flat({ planer: { ...planer, ...less } }).faces.map(({ tool }) => tool)).toEqual(['sled', 'sled']);
    }
  });

  it('takes the same wood off by machine as on the sled, in passes no deeper than the machine takes', () => {
    const [bySled, byPlaner] = [flat(), flat({ planer })].map(({ faces }) => faces[1]);
    expect(byPlaner?.removed).toBeCloseTo(bySled?.removed as number, 9);
    const depth = (face: typeof bySled) => (face?.passes ?? []).reduce((sum, pass) => sum + pass.depth, 0);
    expect(depth(byPlaner)).toBeCloseTo(depth(bySled), 9);
    for (const pass of byPlaner?.passes ?? []) expect(pass.depth).toBeLessThanOrEqual(planer.depth + 1e-9);
  });

  it('is none for a face that is flat already', () => {
    const [top, bottom] = flat({}, { ...slab, bow: 0, cup: 0, twist: 0 }).faces;
    for (const face of [top, bottom]) {
      expect(face).toMatchObject({ tool: 'none', passes: [], strokes: 0, minutes: 0, metres: 0, chips: 0, load: null });
    }
  });
});

describe('the work of the bit', () => {
  it('is way / feed in time; it meets wood on no more than its whole way; chips take their bulk', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -12, max: 12, noNaN: true }),
        fc.double({ min: -6, max: 6, noNaN: true }),
        fc.double({ min: 1, max: 9, noNaN: true }),
        (bow, twist, bulk) => {
          for (const face of flat({ chips: { bulk } }, { ...slab, bow, twist }).faces) {
            expect(face.minutes).toBeCloseTo((face.metres * 1000) / shop.sled.feed / 60, 9);
            expect(face.cutting).toBeLessThanOrEqual(face.metres + 1e-9);
            expect(face.chips).toBeCloseTo(face.removed * bulk, 9);
          }
        },
      ),
      { numRuns: runs(25) },
    );
  });

  it('cuts depth x stepover x feed a second, and each edge advances feed / (turns x edges)', () => {
    const load = flat().faces[0]?.load;
    const deepest = Math.max(...(flat().faces[0]?.passes ?? []).map(({ depth }) => depth));
    expect(load?.rate).toBeCloseTo(deepest * 25 * 75, 9);
    // 50 mm is under 2 in: 18,000 turns at most (trade listing, read).
    expect(load?.rpm).toBe(mostRpm(50));
    expect(load?.perEdge).toBeCloseTo(75 / (18_000 / 60) / 2, 12);
    const slower = flat({ sled: { ...shop.sled, rpm: 9000, edges: 3 } }).faces[0]?.load;
    expect(slower?.perEdge).toBeCloseTo(75 / (9000 / 60) / 3, 12);
  });
});
