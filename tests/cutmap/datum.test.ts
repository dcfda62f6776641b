import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { offsetsOf, pointAt, tapesOf, trilaterate } from '../../src/cutmap';
import { crossing, tapedError } from '../../src/cutmap/datum';
import { measuresOf } from '../../src/cutmap/measures';
import { edgeChecks, onWood } from '../../src/cutmap/spots';
import { distance, distanceToSegment, type Point, rectangle, regionContains } from '../../src/geometry';
import { inventedReport } from './invented';

const point = fc.tuple(
  fc.double({ min: -3000, max: 3000, noNaN: true }),
  fc.double({ min: -600, max: 600, noNaN: true }),
);
const datum = fc.tuple(point, point).filter(([a, b]) => distance(a, b) > 300);

describe('measuring from two marks', () => {
  it('along and in lead back to the point, whatever way the chalk line runs', () => {
    fc.assert(
      fc.property(datum, point, (marks, p) => {
        expect(distance(pointAt(marks, offsetsOf(marks, p)), p)).toBeLessThan(1e-6);
      }),
    );
  });

  it('counts in to the right hand of one who walks from A to B, on a face with y down the picture', () => {
    expect(
      offsetsOf(
        [
          [0, 0],
          [1000, 0],
        ],
        [400, 70],
      ),
    ).toEqual({ along: 400, inward: 70 });
    expect(
      offsetsOf(
        [
          [1000, 0],
          [0, 0],
        ],
        [400, 70],
      ),
    ).toEqual({ along: 600, inward: -70 });
  });

  it('crosses the two tapes at the point, on its side of the line (3-4-5 triangle)', () => {
    const marks = [
      [0, 0],
      [500, 0],
    ] as const;
    expect(tapesOf(marks, [180, 240])).toEqual({ fromA: 300, fromB: 400 });
    const right = trilaterate(marks, { fromA: 300, fromB: 400 }, 'right');
    const left = trilaterate(marks, { fromA: 300, fromB: 400 }, 'left');
    expect(right[0]).toBeCloseTo(180, 9);
    expect(right[1]).toBeCloseTo(240, 9);
    expect(left[1]).toBeCloseTo(-240, 9);
    expect(() => trilaterate(marks, { fromA: 100, fromB: 200 }, 'left')).toThrow(/do not meet/);
    // In the 3-4-5 triangle the tapes are square to each other, so a point is as sure as each tape.
    expect(crossing(marks, [180, 240])).toBeCloseTo(90, 9);
    expect(tapedError(marks, [180, 240], [1, 0], 2)).toBeCloseTo(2, 9);
  });

  it('says the error of a crossing as small changes of the tapes show it', () => {
    fc.assert(
      fc.property(datum, point, fc.double({ min: 0, max: Math.PI, noNaN: true }), (marks, p, t) => {
        fc.pre(crossing(marks, p) > 15 && Math.min(distance(marks[0], p), distance(marks[1], p)) > 50);
        const n = [Math.cos(t), Math.sin(t)] as const;
        const side = offsetsOf(marks, p).inward >= 0 ? 'right' : 'left';
        const { fromA, fromB } = tapesOf(marks, p);
        const step = 1e-4;
        const move = (q: Point<'face'>): number => ((q[0] - p[0]) * n[0] + (q[1] - p[1]) * n[1]) / step;
        const byA = move(trilaterate(marks, { fromA: fromA + step, fromB }, side));
        const byB = move(trilaterate(marks, { fromA, fromB: fromB + step }, side));
        expect(tapedError(marks, p, n, 1)).toBeCloseTo(Math.hypot(byA, byB), 2);
      }),
    );
  });

  it('checks from the edge straight across and along', () => {
    const { across, alongside } = edgeChecks(rectangle(0, 0, 1000, 400), [150, 330]);
    expect(across).toMatchObject({ edge: 'lower edge', mm: 70, at: [150, 400] });
    expect(alongside).toMatchObject({ edge: 'left end', mm: 150, at: [0, 330] });
  });
});

describe('marks and points of invented slabs', () => {
  const slabs = Array.from({ length: 40 }, (_, i) => inventedReport(i + 1).report.slabs).flat();
  const measured = slabs.map((slab) => ({ slab, measures: measuresOf(slab) }));

  it('puts both marks on sound wood, inside the crosscut length, out of every blank', () => {
    for (const { slab, measures } of measured) {
      expect(measures).not.toBeNull();
      if (!measures) continue;
      expect(measures.place).toBe('beside');
      const xs = slab.cuts.filter((cut) => cut.kind === 'crosscut').map((cut) => cut.line[0][0]);
      for (const mark of measures.datum) {
        expect(regionContains(slab.outline, mark)).toBe(true);
        expect(slab.blanks.some((blank) => regionContains({ outer: blank.rough, holes: [] }, mark))).toBe(false);
        expect(mark[0]).toBeGreaterThan(Math.min(...xs));
        expect(mark[0]).toBeLessThan(Math.max(...xs));
        for (const { polygon, kind } of slab.defects) {
          if (polygon && kind !== 'stain' && kind !== 'pith')
            expect(regionContains({ outer: polygon, holes: [] }, mark)).toBe(false);
        }
      }
      expect(measures.datum[0][0]).toBeLessThan(measures.datum[1][0]);
    }
  });

  it('marks every rough cut by two points on its line and on wood, four a blank', () => {
    for (const { slab, measures } of measured) {
      for (const cut of slab.cuts.filter(({ stage }) => stage === 'rough')) {
        const own =
          measures?.points.filter(
            ({ what }) => new RegExp(`\\b${cut.number}\\b`).test(what) && what.startsWith('cut'),
          ) ?? [];
        expect(own).toHaveLength(2);
        for (const spot of own) {
          expect(distanceToSegment(spot.at, cut.line)).toBeLessThan(0.01);
          expect(regionContains(slab.outline, spot.at)).toBe(true);
        }
      }
      expect(measures?.points.filter(({ kind }) => kind === 'cut')).toHaveLength(4);
    }
  });

  it('lands within 0.5 mm of the plan from the distances as printed, in tenths of a millimetre', () => {
    for (const { measures } of measured) {
      for (const { at, tapes, offsets, flat } of measures?.points ?? []) {
        const printed = { fromA: Math.round(tapes.fromA * 10) / 10, fromB: Math.round(tapes.fromB * 10) / 10 };
        const found = trilaterate(measures!.datum, printed, offsets.inward >= 0 ? 'right' : 'left');
        if (!flat) expect(distance(found, at)).toBeLessThan(0.5);
        const by = { along: Math.round(offsets.along * 10) / 10, inward: Math.round(offsets.inward * 10) / 10 };
        expect(distance(pointAt(measures!.datum, by), at)).toBeLessThan(0.1);
      }
    }
  });

  it('keeps marks that were set by hand, and flags a point on the line between them', () => {
    const slab = slabs[0]!;
    const cut = slab.cuts[0]!;
    const span = onWood(cut.line, slab.outline)!;
    const measures = measuresOf({ ...slab, marks: span });
    expect(measures?.datum).toEqual(span);
    expect(measures?.points.filter(({ what }) => what.includes('1')).every(({ flat }) => flat)).toBe(true);
    expect(measuresOf({ ...slab, marks: [span[0], span[0]] })).toBeNull();
  });
});
