import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FaceFigure, faceFigures } from '../../src/leaves/drift';
import { pithPlaces } from '../../src/leaves/end-grain';
import { lookAhead } from '../../src/leaves/look-ahead';
import { ringsAt, rowOfRing } from '../../src/leaves/pith-course';
import { unwatched } from '../../src/search';
import { like } from './figure-likeness';
import { pithOf, type RingBoard, ringFace } from './ring-board';

const board: RingBoard = { length: 160, width: 100, pith: [30, 40], deep: [75, 80], seed: 8 };
const THICKNESS = 16;

/** The angle of the rings at the near end, as it is read: without its sign, a few degrees wrong. */
function reading(share: number, off: number): number {
  const [pith, deep] = pithOf(board, 0);
  return Math.abs(Math.round((Math.atan2(share * board.width - pith, deep) * 180) / Math.PI + off));
}

describe('a look ahead', () => {
  const faces = { top: ringFace(board, 0), bottom: ringFace(board, THICKNESS, 'over'), lie: 'over' as const };

  it.runIf(process.env.SLOW)(
    'shows the faces between the two of a board as the saw will, and knows how far it can be trusted',
    async () => {
      const depths = [0, 4, 8, 12];
      const endGrain = [reading(0.1, 2), reading(0.5, -2), reading(0.9, 2)];
      const ahead = await lookAhead({ ...faces, thickness: THICKNESS, endGrain }, depths, unwatched());
      const foreseen = (ahead?.faces ?? []).map(({ picture }) => ({ ...faces.top, picture }));
      const truth = depths.map((depth) => ringFace(board, depth));
      const figures = faceFigures([...foreseen, ...truth, faces.top, ringFace(board, THICKNESS)]);
      expect(foreseen.length).toBe(depths.length);
      depths.forEach((depth, i) => {
        const [seen, real] = [figures[i] as FaceFigure, figures[depths.length + i] as FaceFigure];
        const nearer = figures[2 * depths.length + (depth <= THICKNESS / 2 ? 0 : 1)] as FaceFigure;
        expect(like(seen, real)).toBeGreaterThan(depth === 0 ? 0.95 : 0.6);
        if (depth > 0) expect(like(seen, real)).toBeGreaterThan(like(nearer, real) + 0.2);
      });
      expect(ahead?.reach).toBeGreaterThan(4);
    },
  );

  it('is not given where nobody read the end grain', async () => {
    expect(
      await lookAhead({ ...faces, thickness: THICKNESS, endGrain: [null, null, null] }, [4], unwatched()),
    ).toBeNull();
  });
});

describe('the pith by the end grain', () => {
  it('runs where one of the places says, whichever edge was the first', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -150, max: 350 }),
        fc.integer({ min: 40, max: 220 }),
        fc.boolean(),
        (p, deep, flip) => {
          const angles = [20, 100, 180].map((y) => (Math.atan2(Math.abs(y - p), deep) * 180) / Math.PI);
          const places = pithPlaces(flip ? angles.reverse() : angles, 200, 30);
          const near = places.filter(
            (one) => Math.hypot(one.across - p, one.deep - deep) < 0.15 * Math.hypot(p - 100, deep),
          );
          expect(near.length).toBeGreaterThan(0);
        },
      ),
      { numRuns: 20 },
    );
  });

  it('has every ring come out where it was read', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -40, max: 140, noNaN: true }),
        fc.double({ min: 20, max: 150, noNaN: true }),
        fc.double({ min: -0.1, max: 0.1, noNaN: true }),
        fc.integer({ min: 0, max: 99 }),
        (pith, deep, flat, row) => {
          const sheets = {
            stations: 1,
            rows: 100,
            thickness: 20,
            faces: [new Float32Array(100), new Float32Array(100)] as const,
          };
          const shape = { axis: [0, 1] as const, oval: [flat, 0] as const };
          const rings = ringsAt(sheets, { across: [pith], deep: [deep], shape }, 0);
          const found = rowOfRing(rings, 0, 100, pith, row >= pith ? 1 : -1, rings[row] as number);
          if (!Number.isNaN(found)) expect(found).toBeCloseTo(row, 1);
          else expect(pith).toBeGreaterThan(row > 50 ? 97 : -Infinity);
        },
      ),
      { numRuns: 50 },
    );
  });
});
