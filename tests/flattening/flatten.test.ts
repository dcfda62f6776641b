import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BlankFlattening, flatten, flattenInput, sectionOf, thicknessOfBlank } from '../../src/flattening';
import { type Point, rectangle } from '../../src/geometry';
import { checked } from '../../src/job';
import type { Spot3 } from '../../src/surface';
import { blank, blankA, face, facesOf, mm, run, shop } from './blanks';

describe('flattening a blank', () => {
  it('gives a budget that adds up to the tenth, with and without a wanted thickness', () => {
    fc.assert(
      fc.property(
        face(54),
        face(0),
        blank,
        fc.option(fc.integer({ min: 10, max: 60 }), { nil: undefined }),
        (u, v, polygon, finished) => {
          const flat = run(u, v, polygon, finished === undefined ? {} : { finished });
          const rest = flat.budget.slice(1).reduce((sum, entry) => sum + entry.mm, 0);
          expect(Math.abs(mm(flat, 'rough') - rest)).toBeLessThan(0.05);
          expect(Math.min(mm(flat, 'lost under'), mm(flat, 'lost over'))).toBeGreaterThanOrEqual(-1e-9);
          const most = flat.thickest - 5;
          expect(mm(flat, 'finished')).toBeCloseTo(Math.min(finished ?? most, most), 9);
          expect(flat.short).toBeCloseTo(Math.max(0, (finished ?? most) - most), 9);
        },
      ),
      { numRuns: 12 },
    );
  });

  it('comes out flat, clean and as thick as the budget says when the listed passes are milled', () => {
    fc.assert(
      fc.property(face(54), face(0), blank, fc.integer({ min: 20, max: 60 }), (u, v, polygon, finished) => {
        const flat = run(u, v, polygon, { finished });
        const faces = facesOf(u, v);
        const { a, b } = flat.plane;
        const slant = Math.hypot(a, b, 1);
        const points: Point<'face'>[] = [];
        const [[x0, y0], , [x1, y1]] = polygon as [Point<'face'>, Point<'face'>, Point<'face'>];
        for (let i = 0; i <= 40; i++)
          for (let j = 0; j <= 12; j++) points.push([x0 + ((x1 - x0) * i) / 40, y0 + ((y1 - y0) * j) / 12]);
        // The blank as a height field over the board's own direction; each face is cut pass by pass from its highest spot.
        const off = (side: 'top' | 'bottom'): number[] =>
          points.map((p) => (faces[side].height(p) - a * p[0] - b * p[1]) / slant);
        const under =
          flat.plane.c / slant +
          (flat.thickest - mm(flat, 'rough') + mm(flat, 'lost under') + mm(flat, 'lost over')) / 2;
        const mill = (side: 'top' | 'bottom'): number[] => {
          const sign = side === 'top' ? 1 : -1;
          const passes = flat.faces.find((f) => f.face === side)?.passes ?? [];
          const start =
            side === 'top' ? under - mm(flat, 'lost under') + mm(flat, 'rough') : under - mm(flat, 'lost under');
          let heights = off(side);
          let cutter = start;
          for (const { depth } of passes) {
            cutter -= sign * depth;
            heights = heights.map((z) => (side === 'top' ? Math.min(z, cutter) : Math.max(z, cutter)));
          }
          return heights;
        };
        const [top, bottom] = [mill('top'), mill('bottom')];
        const wanted =
          mm(flat, 'second') + mm(flat, 'level') + mm(flat, 'sanding') + mm(flat, 'drying') + mm(flat, 'finished');
        for (const [i, z] of top.entries()) expect(z - (bottom[i] as number)).toBeCloseTo(wanted, 2);
        expect(Math.max(...top) - Math.min(...top)).toBeLessThan(0.003);
        expect(Math.max(...bottom) - Math.min(...bottom)).toBeLessThan(0.003);
      }),
      { numRuns: 12 },
    );
  });

  it('makes as few passes as the depth allows, and touches more wood with each', () => {
    fc.assert(
      fc.property(face(54), face(0), blank, (u, v, polygon) => {
        const flat = run(u, v, polygon);
        for (const { face: side, passes, removed, minutes, strokes } of flat.faces) {
          const lost = mm(flat, side === 'top' ? 'lost over' : 'lost under');
          if (lost < 0.001) continue;
          // Passes per face = removal / depth rounded up (trade notes, section 5).
          expect(passes.length).toBe(Math.ceil(lost / 3 - 1e-9));
          expect(passes.reduce((sum, { depth }) => sum + depth, 0)).toBeCloseTo(lost, 9);
          for (const { depth } of passes) expect(depth).toBeLessThanOrEqual(3 + 1e-9);
          const contacts = passes.map(({ contact }) => contact);
          expect(contacts).toEqual([...contacts].sort((p, q) => p - q));
          const [[x0, y0], , [x1, y1]] = polygon as [Point<'face'>, Point<'face'>, Point<'face'>];
          const [length, width] = [Math.max(x1 - x0, y1 - y0), Math.min(x1 - x0, y1 - y0)];
          expect(strokes).toBe(Math.ceil((width - 50) / 25) + 1);
          expect(minutes).toBeCloseTo((passes.length * strokes * (length + 50)) / 75 / 60, 6);
          expect(removed).toBeLessThanOrEqual((lost * (x1 - x0) * (y1 - y0)) / 1e6 + 1e-9);
        }
      }),
      { numRuns: 12 },
    );
  });

  it('counts the litres: what is removed and what is left make up the slab (a top falling from 60 to 54 mm)', () => {
    const top = blankA.map(([x, y]): Spot3 => [x, y, x < 0 ? 60 : 54]);
    const bottom = blankA.map(([x, y]): Spot3 => [x, y, 0]);
    const flat = run(top, bottom, blankA);
    const removed = flat.faces.reduce((sum, work) => sum + work.removed, 0);
    const { a, b } = flat.plane;
    const left = (2000 * 400 * flat.thickest * Math.hypot(a, b, 1)) / 1e6;
    expect(removed + left).toBeCloseTo((2000 * 400 * 57) / 1e6, 2);
    expect(removed).toBeGreaterThan(2);
  });

  it('never finishes a smaller blank thinner, nor more wood', () => {
    fc.assert(
      fc.property(
        face(54),
        face(0),
        blank,
        fc.double({ min: 0.3, max: 0.95, noNaN: true }),
        fc.integer({ min: 1, max: 30 }),
        (u, v, polygon, share, tenths) => {
          const whole = run(u, v, polygon);
          const [[x0, y0], , [x1, y1]] = polygon as [Point<'face'>, Point<'face'>, Point<'face'>];
          const smaller = run(u, v, rectangle(x0, y0, x0 + share * (x1 - x0), y0 + share * (y1 - y0)));
          expect(smaller.thickest).toBeGreaterThanOrEqual(whole.thickest - 1e-6);
          const more = u.map(([x, y, z], i): Spot3 => [x, y, i % 2 ? z : z + tenths / 10]);
          expect(run(more, v, polygon).thickest).toBeGreaterThanOrEqual(whole.thickest - 1e-6);
        },
      ),
      { numRuns: 12 },
    );
  });

  it('is the same whichever way round the slab lies on the bench, and whichever corner the blank is told from', () => {
    fc.assert(
      fc.property(face(54), face(0), blank, fc.nat(3), (u, v, polygon, first) => {
        const { thickest } = run(u, v, polygon);
        // A half turn keeps the grid's diagonals.
        const turn = ([x, y, z]: Spot3): Spot3 => [-x, -y, z + 7];
        const about = polygon.map(([x, y]): Point<'face'> => [-x, -y]);
        expect(run(u.map(turn), v.map(turn), about).thickest).toBeCloseTo(thickest, 6);
        const again = [...polygon.slice(first), ...polygon.slice(0, first)].reverse();
        expect(run(u, v, again).thickest).toBeCloseTo(thickest, 6);
      }),
      { numRuns: 12 },
    );
  });

  it('says the same in the quick call for laying out', () => {
    fc.assert(
      fc.property(face(54), face(0), blank, (u, v, polygon) => {
        const quick = thicknessOfBlank(facesOf(u, v), polygon);
        const flat = run(u, v, polygon);
        expect(quick.thickest).toBe(flat.thickest);
        expect(quick.sigma).toBe(flat.sigma);
      }),
      { numRuns: 10 },
    );
  });

  it('shows a section whose planes clear the wood and lie as far apart as what the passes leave', () => {
    fc.assert(
      fc.property(face(54), face(0), (u, v) => {
        const flat = run(u, v, blankA, { finished: 30 });
        const section = sectionOf(facesOf(u, v), flat, [
          [-1000, -200],
          [1000, 200],
        ]);
        const { a, b } = flat.plane;
        section.along.forEach((_, i) => {
          const [top, upper, under, bottom] = [
            section.top[i],
            section.upper[i],
            section.under[i],
            section.bottom[i],
          ] as [number, number, number, number];
          expect(top).toBeGreaterThanOrEqual(upper - 1e-6);
          expect(under).toBeGreaterThanOrEqual(bottom - 1e-6);
          expect((upper - under) / Math.hypot(a, b, 1)).toBeCloseTo(35, 6);
        });
        expect(section.along.at(-1)).toBeCloseTo(Math.hypot(2000, 400), 9);
      }),
      { numRuns: 10 },
    );
  });

  it('keeps back what the wood will shrink by: walnut 54 mm from 12 to 8 %, Wood Handbook Eq. 13-2', () => {
    const top: Spot3[] = blankA.map(([x, y]) => [x, y, 54]);
    const bottom: Spot3[] = blankA.map(([x, y]) => [x, y, 0]);
    const input = { surfaces: { top, bottom }, blanks: [{ id: 'a', polygon: blankA }], ...shop };
    const dry = flatten(checked(flattenInput, { ...input, drying: { species: 'walnut_black', from: 12, to: 8 } }));
    // CT 0.00274, the larger of radial and tangential: 54 x 0.00274 x 4.
    expect(mm(dry.blanks[0] as BlankFlattening, 'drying')).toBeCloseTo(54 * 0.00274 * 4, 6);
    expect(mm(dry.blanks[0] as BlankFlattening, 'finished')).toBeCloseTo(54 - 54 * 0.00274 * 4 - 5, 6);
  });
});
