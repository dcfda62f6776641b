import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bareSlab,
  type MeasuredSlab,
  markQuestion,
  measuresOf,
  mirrored,
  offerMarks,
  pointAt,
  tapesOf,
  trilaterate,
  troublesOf,
} from '../../src/cutmap';
import { crossing } from '../../src/cutmap/datum';
import { worstLanding } from '../../src/cutmap/divisions';
import { bounds, contains, distance, type Point, regionContains, type Segment } from '../../src/geometry';
import { emptySlab, type Slab } from '../../src/job';
import { marksOn } from '../../src/plan';
import { seededRandom } from '../../src/search';
import { formatLength } from '../../src/units';
import { runs } from '../support/runs';
import { inventedReport } from './invented';

const slabs = Array.from({ length: 4 }, (_, i) => inventedReport(i + 1).report.slabs).flat();
const say = (mm: number): string => formatLength(mm, 'mm', { decimals: 0, unit: true });
const troubles = (slab: MeasuredSlab, marks: Segment<'face'>) => {
  const marked = { ...slab, marks };
  return troublesOf(marked, measuresOf(marked)!, say);
};
const kinds = (slab: MeasuredSlab, marks: Segment<'face'>) => troubles(slab, marks).map(({ kind }) => kind);
const share = fc.double({ min: 0, max: 1, noNaN: true });

describe('marks that are offered', () => {
  it('are several, each on sound wood out of the blanks with wood under the chalk, and really differ', () => {
    for (const slab of slabs) {
      const offers = offerMarks(markQuestion(slab), 4);
      const long = bounds(slab.outline.outer).maxX - bounds(slab.outline.outer).minX;
      expect(offers.length).toBeGreaterThan(1);
      offers.forEach(({ marks, place }, i) => {
        expect(place).toBe('beside');
        expect(distance(...marks)).toBeGreaterThan(0.3 * long);
        expect(
          kinds(slab, marks).filter((kind) => ['near', 'off wood', 'defect', 'blank', 'end', 'chalk'].includes(kind)),
        ).toEqual([]);
        for (const other of offers.slice(0, i).map((one) => one.marks))
          expect(Math.max(distance(marks[0], other[0]), distance(marks[1], other[1]))).toBeGreaterThan(0.07 * long);
      });
    }
  });

  it('come before there is a plan too, near a live edge and clear of the ends', () => {
    for (const { outline } of slabs) {
      const slab: Slab = emptySlab('slab', 1);
      slab.faces.top.outline = { outer: [...outline.outer], holes: [] };
      const bare = bareSlab(slab, 'top')!;
      const { datum, place } = measuresOf(bare)!;
      const { minX, maxX } = bounds(outline.outer);
      expect(place).toBe('beside');
      expect(distance(...datum)).toBeGreaterThan(0.6 * (maxX - minX));
      for (const mark of datum) {
        expect(regionContains(outline, mark)).toBe(true);
        expect(Math.min(mark[0] - minX, maxX - mark[0])).toBeGreaterThan(150);
      }
      expect(troublesOf(bare, measuresOf(bare)!, say)).toEqual([]);
    }
    expect(bareSlab(emptySlab('slab', 1), 'top')).toBeNull();
  });
});

describe('what speaks against two marks', () => {
  it('is said of marks anywhere: too near, off the wood, in a blank, with a cut, each where it is so and nowhere else', () => {
    fc.assert(
      fc.property(fc.nat(slabs.length - 1), share, share, share, share, (k, ax, ay, bx, by) => {
        const slab = slabs[k]!;
        const { minX, maxX, minY, maxY } = bounds(slab.outline.outer);
        const at = (u: number, v: number): Point<'face'> => [minX + u * (maxX - minX), minY + v * (maxY - minY)];
        const marks: Segment<'face'> = [at(ax, ay), at(bx, by)];
        fc.pre(distance(...marks) > 1);
        const found = troubles(slab, marks);
        const about = (kind: string, name: string) => found.some((one) => one.kind === kind && one.marks === name);
        expect(about('near', 'both')).toBe(distance(...marks) < 0.3 * (maxX - minX));
        (['A', 'B'] as const).forEach((name, i) => {
          const mark = marks[i]!;
          const on = contains(slab.outline.outer, mark);
          const [blank] = slab.blanks.filter(({ rough }) => contains(rough, mark));
          expect(about('off wood', name)).toBe(!on);
          expect(about('blank', name)).toBe(on && blank !== undefined);
          const shows = blank !== undefined && contains(blank.finished, mark);
          if (on && blank) expect(found.find((one) => one.kind === 'blank' && one.marks === name)!.bad).toBe(shows);
          const ends = slab.cuts.filter(({ kind }) => kind === 'crosscut').map(({ line }) => line[0][0]);
          expect(about('end', name)).toBe(on && !blank && (mark[0] < Math.min(...ends) || mark[0] > Math.max(...ends)));
        });
        // What is bad comes first.
        expect(found.map(({ bad }) => Number(bad)).join('')).toMatch(/^1*0*$/);
      }),
      { numRuns: runs(150) },
    );
  });

  it('is a line with the points: marks on the rip cut do not find its points by tape, and proposed ones find most', () => {
    for (const slab of slabs) {
      const rip = slab.cuts.find(({ kind, stage }) => kind === 'rip' && stage === 'rough')!;
      const [p, q] = rip.line;
      const on = (t: number): Point<'face'> => [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
      const line = troubles(slab, [on(0.1), on(0.9)]).find(({ kind }) => kind === 'line');
      expect(line?.words).toMatch(/^Points? .*(nearly on a line with A and B)/);
      const [best] = offerMarks(markQuestion(slab), 1);
      expect(troubles(slab, best!.marks).filter(({ bad }) => bad)).toEqual([]);
    }
  });
});

describe('marks and their points', () => {
  it('seen from the other face: along and both tapes stay, in changes its hand, and lead to the same hole', () => {
    const flip = ([x, y]: Point<'face'>): Point<'face'> => [x, -y];
    for (const slab of slabs) {
      const measures = measuresOf(slab)!;
      const turned: Segment<'face'> = [flip(measures.datum[0]), flip(measures.datum[1])];
      for (const { at, offsets, tapes, flat } of mirrored(measures).points) {
        expect(distance(pointAt(turned, offsets), flip(at))).toBeLessThan(1e-6);
        expect(tapesOf(turned, flip(at)).fromA).toBeCloseTo(tapes.fromA, 9);
        if (!flat)
          expect(distance(trilaterate(turned, tapes, offsets.inward >= 0 ? 'right' : 'left'), flip(at))).toBeLessThan(
            1e-3,
          );
      }
    }
  });

  it('stay where they are drilled when the plan changes; proposed ones follow it', () => {
    const [one, other] = [
      slabs[0]!,
      {
        ...slabs[0]!,
        blanks: slabs[0]!.blanks.map((blank) => ({
          ...blank,
          rough: blank.rough.map(([x, y]): Point<'face'> => [x, y - 200]),
        })),
      },
    ];
    const drilled = measuresOf(one)!.datum;
    expect(measuresOf({ ...other, marks: drilled, drilled: true })!.datum).toEqual(drilled);
    expect(measuresOf(other)!.datum).not.toEqual(drilled);
    const words = troublesOf(
      { ...other, marks: drilled, drilled: true },
      measuresOf({ ...other, marks: drilled })!,
      say,
    );
    expect(words.some(({ kind }) => kind === 'blank')).toBe(true);
  });

  it('set on one face are known on the other by the tie, and not without it', () => {
    const slab: Slab = emptySlab('slab', 1);
    slab.marks = [
      [100, 40],
      [1900, 60],
    ];
    expect(marksOn(slab, 'top')).toEqual(slab.marks);
    expect(marksOn(slab, 'bottom')).toBeNull();
    const far = (x: number, y: number) => [x, y] as unknown as NonNullable<Slab['tie']>['bottom'][0];
    slab.tie = { top: [...slab.marks], bottom: [far(110, 360), far(1910, 340)] };
    const [a, b] = marksOn(slab, 'bottom')!;
    expect(distance(a, [110, 360])).toBeLessThan(1e-6);
    expect(distance(b, [1910, 340])).toBeLessThan(1e-6);
    slab.marksFace = 'bottom';
    expect(marksOn(slab, 'bottom')).toEqual(slab.marks);
  });

  it('lead within 0.5 mm by the printed tapes, in millimetres and in 32nds of an inch, wherever marks or points may be moved', () => {
    const found = slabs.flatMap((slab) =>
      [0.1, 25.4 / 32].map((division) => {
        const { datum, points, place } = measuresOf(slab, undefined, division)!;
        expect(place).toBe('beside');
        const onLine = points.filter(({ kind, flat }) => kind !== 'key' && !flat);
        const printed = (mm: number) => Math.round(mm / division) * division;
        return onLine.map(({ at, tapes, offsets }) => {
          const side = offsets.inward >= 0 ? 'right' : 'left';
          return distance(trilaterate(datum, { fromA: printed(tapes.fromA), fromB: printed(tapes.fromB) }, side), at);
        });
      }),
    );
    for (const offs of found) expect(Math.max(...offs)).toBeLessThan(0.5);
  });

  it('from marks set by hand lead within 0.5 mm in millimetres; in inches no farther off than two rounded tapes can, and than the sheet says', () => {
    const { next } = seededRandom(11);
    for (const slab of slabs) {
      const marks = measuresOf(slab)!.datum.map(
        ([x, y]): Point<'face'> => [x + Math.round(400 * next()) / 10 - 20, y + Math.round(200 * next()) / 10 - 10],
      ) as [Point<'face'>, Point<'face'>];
      for (const division of [0.1, 25.4 / 32, 25.4 / 16]) {
        const { datum, points } = measuresOf({ ...slab, marks }, undefined, division)!;
        const onLine = points.filter(({ kind, flat }) => kind !== 'key' && !flat);
        const printed = (mm: number) => Math.round(mm / division) * division;
        const offs = onLine.map(({ at, tapes, offsets }) => {
          const side = offsets.inward >= 0 ? 'right' : 'left';
          const found = trilaterate(datum, { fromA: printed(tapes.fromA), fromB: printed(tapes.fromB) }, side);
          // Each tape is off by half a division at most: the far corner of the rhombus that the two make.
          const half = (crossing(datum, at) * Math.PI) / 360;
          expect(distance(found, at)).toBeLessThan((1.05 * (division / 2)) / Math.sin(half));
          return distance(found, at);
        });
        if (division === 0.1) expect(Math.max(...offs)).toBeLessThan(0.5);
        else
          expect(
            worstLanding(
              onLine.map(({ at }) => at),
              datum,
              division,
            ),
          ).toBeCloseTo(Math.max(...offs), 6);
      }
    }
  });
});
