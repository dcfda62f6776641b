import { describe, expect, it } from 'vitest';
import type { Segment } from '../../src/geometry';
import { type FaceFeatures, faceFeatures } from '../../src/grain';
import { KnownSeams } from '../../src/layout/known-seams';
import { seamsAlong } from '../../src/layout/seam-again';
import type { SearchedSlab } from '../../src/layout/seam-found';
import { unwatched } from '../../src/search';
import { helixFace, partner, rectangleOf } from '../support/helix-log';

/** A log whose rings go on over known lines: a seam that was found there for a long top serves a shorter one anywhere along it. */
const SIZE = { width: 1000, height: 400, y0: -200 };
const [A, Z1, Z2] = [100, -60, -45];
const { b: B, dx: DX } = partner(A, Z1, Z2);
/** The seam of a top of 600 mm, from x = 150 of the slab in front. */
const known = {
  front: [
    [150, A - SIZE.y0],
    [750, A - SIZE.y0],
  ] as Segment<'face'>,
  back: [
    [150 + DX, B - SIZE.y0],
    [750 + DX, B - SIZE.y0],
  ] as Segment<'face'>,
};

const outline = { outer: rectangleOf(SIZE.width, SIZE.height), holes: [] };
const features = faceFeatures(
  [Z1, Z2].map((z) => ({ picture: helixFace(z, SIZE), outline, defects: [] })),
  { kerf: 3 },
) as [FaceFeatures, FaceFeatures];
const slabs = features.map(
  (one): SearchedSlab => ({ outline, inside: [outline], forbidden: [], features: one, middle: SIZE.width / 2 }),
) as [SearchedSlab, SearchedSlab];
const wish = { length: 420, depth: [300, 390], front: 'straight', leastStrip: 60, keepOff: 'strip' } as const;
const limits = { slide: 150, angle: 2, ends: 'same' } as const;

const seams = new KnownSeams();
seams.add(['p', 'q'], [known]);

describe('a further top on two slabs that were searched', () => {
  it('finds the rings going on along the lines that are known, whichever slab is in front, in few looks beside the tens of thousands of a whole search', async () => {
    for (const faces of [
      ['p', 'q'],
      ['q', 'p'],
    ] as const) {
      const control = unwatched();
      const inOrder = faces[0] === 'p' ? slabs : ([slabs[1], slabs[0]] as const);
      const found = await seamsAlong(...inOrder, wish, limits, seams.of(faces), control);
      const [best] = found;
      if (!best) throw new Error('no seam');
      const [p, q] = faces[0] === 'p' ? [best.front, best.back] : [best.back, best.front];
      const middle = ({ line: [s, t] }: typeof p) => [(s[0] + t[0]) / 2, (s[1] + t[1]) / 2] as const;
      const [[px, py], [qx, qy]] = [middle(p), middle(q)];
      // Issue: b for a given a within 1 mm, slide within 6 mm.
      const ideal = partner(py + SIZE.y0, Z1, Z2);
      expect(Math.abs(qy + SIZE.y0 - ideal.b)).toBeLessThan(1);
      expect(Math.abs(qx - px - ideal.dx)).toBeLessThan(6);
      expect(best.blend).toBeGreaterThan(0.3);
      expect(control.budget.spent).toBeLessThan(3000);
      for (const { front, back } of found)
        for (const [x, y] of [...front.line, ...back.line]) {
          expect(Math.min(x, y, SIZE.width - x, SIZE.height - y)).toBeGreaterThan(0);
        }
    }
  });

  it('finds none where no part of the lines makes the top', async () => {
    const tooLong = { ...wish, length: 1100 };
    expect(await seamsAlong(...slabs, tooLong, limits, seams.of(['p', 'q']), unwatched())).toEqual([]);
    const tooDeep = { ...wish, depth: [600, 700] as const };
    expect(await seamsAlong(...slabs, tooDeep, limits, seams.of(['p', 'q']), unwatched())).toEqual([]);
  });
});

describe('seams that are known', () => {
  it('are the same seen from either slab, once each', () => {
    const [turned] = seams.of(['q', 'p']);
    if (!turned) throw new Error('no seam');
    const again = new KnownSeams();
    again.add(['q', 'p'], [turned]);
    again.add(['p', 'q'], [known]);
    expect(again.of(['p', 'q'])).toEqual([known]);
    expect(again.of(['p', 'r'])).toEqual([]);
  });
});
