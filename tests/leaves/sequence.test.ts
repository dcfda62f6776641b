import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leafSequence } from '../../src/leaves/sequence';
import { chained, outOfOrder } from '../../src/leaves/sequence-chains';
import type { PhotographedLeaf } from '../../src/leaves/sequence-types';
import { seededRandom, unwatched } from '../../src/search';
import { runs } from '../support/runs';
import { type RingBoard, ringFace } from './ring-board';

const SAW = { thickness: 3, kerf: 1.5 };
const PITCH = SAW.thickness + SAW.kerf;
const board: RingBoard = { length: 300, width: 180, pith: [45, 60], deep: [85, 95], wander: 12, seed: 3 };

/** The leaf cut so many leaves below the outer face; its back, if it has one, photographed turned over. */
const leaf = (at: number, name: number, back = false): PhotographedLeaf => ({
  name: String(name),
  top: ringFace(board, at * PITCH),
  bottom: back ? ringFace(board, at * PITCH + SAW.thickness, 'over') : null,
});
const told = async (leaves: readonly PhotographedLeaf[]) => {
  const sequence = await leafSequence(leaves, SAW, unwatched());
  return { ...sequence, kinds: sequence.findings.map(({ kind }) => kind) };
};

describe('leaves photographed in sawing order', () => {
  it('are told with one pair exchanged, one missing and one turned end for end', async () => {
    // Sawn as 0 1 2 3 5 6; numbered with 2 and 3 exchanged, 4 lost, and the last one lying end for end.
    const muddled = [0, 1, 3, 2, 5].map((at, i) => leaf(at, i + 1));
    const { order, links, lies, findings } = await told([
      ...muddled,
      { name: '6', top: ringFace(board, 6 * PITCH, 'end for end'), bottom: null },
    ]);
    expect(order).toEqual([0, 1, 3, 2, 4, 5]);
    expect(links.map(({ cuts }) => cuts)).toEqual([1, 1, 1, 2, 1]);
    expect(lies).toEqual(['same', 'same', 'same', 'same', 'same', 'end for end']);
    const says = findings.map((finding) => finding.says).join('\n');
    expect(says).toMatch(/Leaf [34] belongs between leaf/);
    expect(says).toMatch(/From leaf 3 to leaf 5 the figure moves as far as over 2 cuts: one leaf is missing there/);
    expect(says).toMatch(/Leaf 6 was photographed end for end/);
    expect(findings).toHaveLength(3);
  });

  it.runIf(process.env.SLOW)('tell a leaf that shows its other face, and one of other wood', async () => {
    const other: PhotographedLeaf = { name: '5', top: ringFace({ ...board, seed: 99 }, 2), bottom: null };
    const turned: PhotographedLeaf = { ...leaf(2, 3), top: ringFace(board, 2 * PITCH + SAW.thickness, 'over') };
    const { kinds, findings } = await told([leaf(0, 1), leaf(1, 2), turned, leaf(3, 4), other]);
    expect(kinds.sort()).toEqual(['other face', 'other wood']);
    expect(findings.find(({ kind }) => kind === 'other wood')?.leaves).toEqual([4]);
    expect(findings.find(({ kind }) => kind === 'other face')?.leaves).toEqual([2]);
  });

  it.runIf(process.env.SLOW)(
    'raise nothing where all is right, and with both faces tell that they are numbered from the last cut to the first',
    async () => {
      const right = [0, 1, 2].map((at) => leaf(at, at + 1, true));
      expect((await told(right)).kinds).toEqual([]);
      expect((await told(right.reverse())).kinds).toEqual(['backwards']);
    },
  );

  it('of wood without figure say nothing but that', async () => {
    const plain = [0, 1, 2].map((at): PhotographedLeaf => {
      const { name, top, bottom } = leaf(at, at + 1);
      const { raster } = top.picture;
      const { next } = seededRandom(at + 1);
      const data = raster.data.map((_, i) => 140 - 30 * (i % 3) + 8 * next());
      return { name, top: { ...top, picture: { ...top.picture, raster: { ...raster, data } } }, bottom };
    });
    expect(await told(plain)).toMatchObject({ order: [0, 1, 2], kinds: ['no figure'] });
  });
});

describe('chains', () => {
  const rows = (n: number): number[][] =>
    n === 0 ? [[]] : rows(n - 1).flatMap((row) => Array.from({ length: n }, (_, i) => row.toSpliced(i, 0, n - 1)));

  it('are put together so that no other row of them is more alike, but for what is kept', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 5 }), fc.integer({ min: 1, max: 1e6 }), (n, seed) => {
        const alike = (a: number, b: number) => Math.abs(Math.sin(seed * (1 + Math.min(a, b)) + 7 * Math.max(a, b)));
        const sum = (row: readonly number[]) => row.slice(1).reduce((s, b, i) => s + alike(row[i] as number, b), 0);
        const found = chained(
          Array.from({ length: n }, (_, i) => [i]),
          alike,
        );
        expect([...found].sort()).toEqual(Array.from({ length: n }, (_, i) => i));
        expect(sum(found)).toBeGreaterThan(Math.max(...rows(n).map(sum)) - 0.06 * n);
      }),
    );
  });

  it('that were moved are the fewest whose taking out leaves the rest rising', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray([0, 1, 2, 3, 4, 5, 6], { minLength: 7 }), (row) => {
        const moved = new Set(outOfOrder(row));
        const rest = row.filter((_, i) => !moved.has(i));
        expect(rest).toEqual([...rest].sort((a, b) => a - b));
        const fewer = Array.from({ length: 2 ** row.length }, (_, mask) => row.filter((_, i) => mask & (1 << i)));
        const longest = Math.max(
          ...fewer.filter((part) => part.every((v, i) => i === 0 || (part[i - 1] as number) < v)).map((p) => p.length),
        );
        expect(rest).toHaveLength(longest);
      }),
      { numRuns: runs(20) },
    );
  });
});
