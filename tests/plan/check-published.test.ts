import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bounds, type Point, type Polygon, rectangle } from '../../src/geometry';
import { defaultTop, emptyFlitch, emptyJob, emptySlab, type Job, type Plan, type Top } from '../../src/job';
import { checkPlan } from '../../src/plan';

/**
 * An irregular-stock instance of the cutting literature (its source stands in the fixture): thirty pieces whose published placing fills three sheets
 * without a gap. The checker must find it feasible where a saw takes nothing, and not where it takes something or a piece is moved.
 */
const { source, sheet, sheets } = JSON.parse(
  readFileSync(new URL('../fixtures/irregular-ta001.json', import.meta.url), 'utf8'),
) as { source: string; sheet: [number, number]; sheets: [number, number][][][] };

/** A sheet as a slab without doubt, its pieces as tops of a drawn shape. */
function laid(pieces: readonly Polygon<'face'>[]): { job: Job; plan: Plan } {
  const tops: Record<string, Top> = {};
  const placements: Plan['placements'] = {};
  pieces.forEach((piece, i) => {
    const id = `piece-${i + 1}`;
    const { minX, minY, maxX, maxY } = bounds(piece);
    const [length, depth] = [maxX - minX, maxY - minY];
    const outline = piece.map(([x, y]): Point<'top'> => [x - minX, y - minY]);
    tops[id] = {
      ...defaultTop(id),
      length,
      depth: [depth, depth],
      thickness: 20,
      front: 'straight',
      seams: 0,
      shape: { kind: 'polygon', outline },
    };
    const strip = {
      flitch: 'log',
      slab: 'sheet',
      face: 'top' as const,
      toTop: [1, 0, 0, 1, -minX, -minY] as [number, number, number, number, number, number],
      finished: piece,
      rough: piece,
      jointFront: null,
      jointBack: null,
    };
    placements[id] = { top: id, strips: [strip], joints: [], depth: [depth, depth], thickness: null };
  });
  const job = emptyJob('published', 'Published', '2026-11-25');
  const slab = emptySlab('sheet', 1);
  const face = { ...slab.faces.top, outline: { outer: rectangle<'face'>(0, 0, ...sheet), holes: [] }, outlineSigma: 0 };
  const whole = { ...slab, faces: { ...slab.faces, top: face } };
  return {
    job: {
      ...job,
      shop: { ...job.shop, kerf: { crosscut: 0, rip: 0, fine: 0 }, endAllowance: 0, jointAllowance: 0 },
      flitches: { log: { ...emptyFlitch('log', 'Log', 'walnut_black'), slabs: { sheet: whole } } },
      tops,
    },
    plan: { id: 'p', name: 'P', placements, misses: [], waste: 0, cost: null, gap: 0 },
  };
}

describe(`a published placing of irregular pieces (${source.slice(0, 14)} ... 2010, TA001)`, () => {
  it.each(sheets.map((pieces, i) => [i + 1, pieces] as const))('sheet %i can be sawn as published', (_, pieces) => {
    const { job, plan } = laid(pieces);
    expect(checkPlan(job, plan)).toEqual({ passed: true, faults: [] });
  });

  it.each(sheets.map((pieces, i) => [i + 1, pieces] as const))(
    'sheet %i cannot where the saw takes anything, and every piece has a neighbour that says so',
    (_, pieces) => {
      const { job, plan } = laid(pieces);
      job.shop.kerf = { crosscut: 0.2, rip: 0.2, fine: 0.2 };
      const { faults } = checkPlan(job, plan);
      expect([...new Set(faults.map(({ rule }) => rule))]).toEqual(['kerf']);
      for (const { name } of Object.values(job.tops))
        expect(faults.some(({ message }) => message.includes(`${name}, strip`))).toBe(true);
    },
  );

  it('no piece can be moved by a millimetre in any direction', () => {
    for (const pieces of sheets) {
      pieces.forEach((_, i) => {
        for (const [dx, dy] of [
          [1, 0],
          [-1, 0],
          [0, 1],
          [0, -1],
        ] as const) {
          const { job, plan } = laid(
            pieces.map((piece, k) => (k === i ? piece.map(([x, y]): Point<'face'> => [x + dx, y + dy]) : piece)),
          );
          const rules = checkPlan(job, plan).faults.map(({ rule }) => rule);
          expect(rules.some((rule) => rule === 'overlap' || rule === 'wood')).toBe(true);
        }
      });
    }
  });
});
