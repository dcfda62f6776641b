import { describe, expect, it } from 'vitest';
import { type FaceFigure, faceFigures } from '../../src/leaves/drift';
import { lookAhead } from '../../src/leaves/look-ahead';
import { unwatched } from '../../src/search';
import { pithOf, type RingBoard, ringFace } from './ring-board';

const board: RingBoard = { length: 260, width: 150, pith: [-30, -20], deep: [95, 100], seed: 8 };
const THICKNESS = 18;

/** The angle of the rings at the near end, read a few degrees wrong. */
function reading(across: number, off: number) {
  const [pith, deep] = pithOf(board, 0);
  return { across, degrees: (Math.atan2(across - pith, deep) * 180) / Math.PI + off };
}

/** Correlation of two figures on one grid. */
function like(a: FaceFigure, b: FaceFigure): number {
  let [pq, pp, qq] = [0, 0, 0];
  for (let i = 0; i < a.lines.length; i++) {
    const [p, q] = [a.lines[i] as number, b.lines[i] as number];
    if (p === 0 || q === 0) continue;
    pq += p * q;
    pp += p * p;
    qq += q * q;
  }
  return pq / Math.sqrt(pp * qq);
}

describe('a look ahead', () => {
  it('shows faces between the two of a board better than a copy of the nearer one, marked as an estimate', async () => {
    const faces = { top: ringFace(board, 0), bottom: ringFace(board, THICKNESS, 'over') };
    const depths = [0, 4.5, 9, 13.5];
    const ahead = await lookAhead(
      { ...faces, lie: 'over', thickness: THICKNESS },
      depths,
      { readings: [reading(20, 1), reading(130, -1)], pith: null },
      unwatched(),
    );
    expect(ahead.says[0]).toMatch(/estimate/);
    const foreseen = ahead.faces.map(({ picture }) => ({ ...faces.top, picture }));
    const truth = depths.map((depth) => ringFace(board, depth));
    const figures = faceFigures([...foreseen, ...truth, faces.top, ringFace(board, THICKNESS)]);
    depths.forEach((depth, i) => {
      const [seen, true_] = [figures[i] as FaceFigure, figures[depths.length + i] as FaceFigure];
      const nearer = figures[2 * depths.length + (depth <= THICKNESS / 2 ? 0 : 1)] as FaceFigure;
      expect(like(seen, true_)).toBeGreaterThan(depth === 0 ? 0.95 : 0.6);
      if (depth > 0) expect(like(seen, true_)).toBeGreaterThan(like(nearer, true_) + 0.2);
    });
  });
});
