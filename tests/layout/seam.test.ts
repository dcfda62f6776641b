import { describe, expect, it } from 'vitest';
import { bounds, distanceToRing } from '../../src/geometry';
import { type SeamSlab, searchSeams } from '../../src/layout';
import { Cancelled, unwatched, WorkBudget } from '../../src/search';
import { helixFace, partner, rectangleOf } from '../support/helix-log';

const SIZE = { width: 1000, height: 260, y0: 40 };
const [Z1, Z2] = [-70, -15];
const slab = (id: string, z: number): SeamSlab => ({
  id,
  picture: helixFace(z, SIZE),
  outline: rectangleOf(SIZE.width, SIZE.height),
  defects: [],
});
const slabs = [slab('front', Z1), slab('back', Z2)] as const;
const question = {
  slabs,
  top: { length: 700, depth: [200, 300] as [number, number], front: 'straight' as const },
  kerf: 3,
  leastStrip: 60,
  slide: 120,
  angle: 1,
  ends: 'same' as const,
};
const found = await searchSeams(question, unwatched());

describe('a search for seams', () => {
  it('finds the line on which every ring of the other slab goes on, within 1 mm and 4 mm of slide', () => {
    const [best] = found.seams;
    const [front, back] = best?.joints ?? [];
    if (!front || !back) throw new Error('no seam');
    const middle = ([[px, py], [qx, qy]]: (typeof front)['line']) => [(px + qx) / 2, (py + qy) / 2] as const;
    const [[ax, ay], [bx, by]] = [middle(front.line), middle(back.line)];
    const { b, dx } = partner(ay + SIZE.y0, Z1, Z2);
    expect(Math.abs(by + SIZE.y0 - b)).toBeLessThan(1);
    expect(Math.abs(bx - ax - dx)).toBeLessThan(4);
  });

  it('gives seams that differ, the best first, all within the limits asked for', () => {
    expect(found.seams.length).toBeGreaterThanOrEqual(3);
    const costs = found.seams.map(({ cost }) => cost);
    expect(costs).toEqual([...costs].sort((a, b) => a - b));
    for (const { joints, slide, flipped } of found.seams) {
      expect(Math.abs(slide)).toBeLessThanOrEqual(120 + 1e-6);
      expect(flipped).toBe(false);
      for (const [i, { line, keeps }] of joints.entries()) {
        expect(keeps).toBe(i === 0 ? 'right' : 'left');
        const [p, q] = line;
        expect(Math.hypot(q[0] - p[0], q[1] - p[1])).toBeCloseTo(700, 6);
        expect(Math.abs((Math.atan((q[1] - p[1]) / (q[0] - p[0])) * 180) / Math.PI)).toBeLessThanOrEqual(1 + 1e-6);
        const { minX, maxX, minY, maxY } = bounds(slabs[i]?.outline ?? []);
        for (const [x, y] of line) {
          expect(x > minX && x < maxX && y > minY && y < maxY).toBe(true);
          expect(distanceToRing([x, y], slabs[i]?.outline ?? [])).toBeGreaterThan(1.9);
        }
      }
    }
  });

  it('keeps joint lines off a defect unless it is allowed', async () => {
    const rot = {
      kind: 'rot' as const,
      polygon: [
        [450, 0],
        [550, 0],
        [550, 130],
        [450, 130],
      ] as [number, number][],
    };
    const spoilt = [{ ...slabs[0], defects: [rot] }, slabs[1]] as const;
    const { seams } = await searchSeams({ ...question, slabs: spoilt as never, angle: 0, slide: 40 }, unwatched());
    expect(seams.length).toBeGreaterThan(0);
    for (const { joints } of seams) expect(joints[0].line[0][1]).toBeGreaterThan(130);
  });

  it('finds nothing where the slabs are too small', async () => {
    const { seams } = await searchSeams({ ...question, top: { ...question.top, length: 1200 } }, unwatched());
    expect(seams).toEqual([]);
  });

  it('gives the same answer twice within a budget, and keeps it', async () => {
    const limited = async () => searchSeams({ ...question, angle: 0, slide: 40 }, unwatched(new WorkBudget(300)));
    const [first, second] = [await limited(), await limited()];
    expect(second).toEqual(first);
    expect(first.seams.length).toBeGreaterThan(0);
    expect(first.evaluated).toBeLessThan(500);
  });

  it('stops when it is told to', async () => {
    await expect(searchSeams(question, { ...unwatched(), cancelled: () => true })).rejects.toBeInstanceOf(Cancelled);
  });
});
