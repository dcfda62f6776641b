import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyAll,
  difference,
  distanceToSegment,
  intersection,
  offset,
  type Point,
  type Polygon,
  type Region,
  rectangle,
  regionsArea,
  rigid,
} from '../../src/geometry';
import type { Strip } from '../../src/job';
import { cutsOf, leftOver } from '../../src/layout';

/** Pieces anywhere on a slab: at angles, a kerf apart, at its very ends. What the saw does must be true of all of them. */

const SLAB = { length: 2600, width: 620 };
const outline: Region<'face'> = { outer: rectangle(0, 0, SLAB.length, SLAB.width), holes: [] };
const solid = (outer: Polygon<'face'>): Region<'face'> => ({ outer, holes: [] });
const kerfs = fc.record({
  crosscut: fc.integer({ min: 10, max: 100 }).map((n) => n / 10),
  rip: fc.integer({ min: 10, max: 60 }).map((n) => n / 10),
  fine: fc.integer({ min: 10, max: 40 }).map((n) => n / 10),
});

/** A straight piece, turned about its first corner; its blank as far as the wood goes. */
function pieceAt(
  at: Point<'face'>,
  length: number,
  width: number,
  degrees: number,
  over: readonly [number, number],
): Strip {
  const toFace = rigid<'top', 'face'>(degrees, at[0], at[1]);
  const [a, b, c, d] = toFace.m;
  const ring = (x: number, y: number): Polygon<'face'> => {
    const whole = applyAll(toFace, rectangle<'top'>(-x, -y, length + x, width + y));
    return (intersection([solid(whole)], [outline])[0] as Region<'face'>).outer;
  };
  return {
    flitch: 'log',
    slab: 'one',
    face: 'top',
    toTop: [a, c, b, d, -(a * at[0] + b * at[1]), -(c * at[0] + d * at[1])],
    finished: ring(0, 0),
    rough: ring(...over),
    jointFront: null,
    jointBack: null,
  };
}

/** Two or three pieces side by side, `gap` apart beyond the kerf, all turned alike; and perhaps one behind the first. */
const layouts = fc
  .record({
    kerf: kerfs,
    degrees: fc.integer({ min: -15, max: 15 }).map((n) => n / 10),
    lengths: fc.array(fc.integer({ min: 300, max: 620 }), { minLength: 1, maxLength: 3 }),
    width: fc.integer({ min: 120, max: 220 }),
    gap: fc.constantFrom(0, 0.01, 3, 60),
    behind: fc.boolean(),
    atEnd: fc.boolean(),
    over: fc.constantFrom([0, 0] as const, [25, 10] as const),
  })
  .map(({ kerf, degrees, lengths, width, gap, behind, atEnd, over }) => {
    const t = (degrees * Math.PI) / 180;
    const [cos, sin] = [Math.cos(t), Math.sin(t)];
    const level = degrees === 0 || atEnd;
    const turn = level ? 0 : degrees;
    let along = atEnd ? over[0] : 60 + over[0];
    const pieces = lengths.map((length) => {
      const at: Point<'face'> = level ? [along, 90] : [along * cos, 90 + along * sin];
      along += length + 2 * over[0] + kerf.crosscut + gap;
      return pieceAt(at, length, width, turn, over);
    });
    if (behind) {
      const down = width + 2 * over[1] + kerf.rip + gap;
      const start = atEnd ? over[0] : 60 + over[0];
      const at: Point<'face'> = level ? [start, 90 + down] : [start * cos - down * sin, 90 + start * sin + down * cos];
      pieces.push(pieceAt(at, lengths[0] as number, width, turn, over));
    }
    return { kerf, pieces };
  });

describe('cuts', () => {
  it('leave every piece whole, each with the kerf of the saw that makes it', () => {
    fc.assert(
      fc.property(layouts, ({ kerf, pieces }) => {
        const cuts = cutsOf(outline, pieces, { kerf });
        for (const cut of cuts) {
          expect(cut.kerf).toBeCloseTo(
            cut.stage === 'fine'
              ? cut.parts
                ? cut.kerf
                : kerf.fine
              : cut.kind === 'crosscut'
                ? kerf.crosscut
                : kerf.rip,
            9,
          );
          pieces.forEach((piece, i) => {
            const whole = cut.stage === 'rough' && !cut.strips.includes(i) ? piece.rough : piece.finished;
            if (cut.stage === 'fine' && !cut.strips.includes(i)) return;
            const eaten = intersection([solid(cut.dust)], [solid(whole)]);
            expect(regionsArea(offset(eaten, -0.02, 'mitre'))).toBe(0);
          });
        }
      }),
      { numRuns: 150 },
    );
  });

  it('free every piece: each stretch of a blank that is not the edge of the slab lies on a cut', () => {
    fc.assert(
      fc.property(layouts, ({ kerf, pieces }) => {
        // Pieces of one board, with only the saw between them, are parted last.
        const rough = cutsOf(outline, pieces, { kerf }).filter(({ stage, parts }) => stage === 'rough' || parts);
        const edge = outline.outer.map((p, i) => [p, outline.outer[(i + 1) % 4] as Point<'face'>] as const);
        for (const { rough: ring } of pieces.filter(({ rough: r, finished }) => r !== finished)) {
          ring.forEach((p, i) => {
            const q = ring[(i + 1) % ring.length] as Point<'face'>;
            const middle: Point<'face'> = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
            if (Math.min(...edge.map((side) => distanceToSegment(middle, side))) < 0.6) return;
            const near = Math.min(
              ...rough.map(({ line, kerf: wide }) => distanceToSegment(middle, line) - wide),
              Infinity,
            );
            expect(near).toBeLessThan(0.1);
          });
        }
      }),
      { numRuns: 100 },
    );
  });

  it('are one where they end pieces that lie side by side', () => {
    const kerf = { crosscut: 3, rip: 2, fine: 2 };
    const [front, behind] = [90, 90 + 200 + 20 + 2].map((y) => pieceAt([200, y], 600, 200, 0, [25, 10]));
    const cuts = cutsOf(outline, [front, behind] as Strip[], { kerf }).filter(({ kind }) => kind === 'crosscut');
    expect(cuts.map(({ strips }) => strips)).toEqual([
      [0, 1],
      [0, 1],
    ]);
  });

  it('stop short where they would nick the corner of a blank that lies at an angle beside them', () => {
    // The corner stands 2.2 mm past the end of the other blank, which a kerf of 2.4 mm would reach.
    const beside = pieceAt([0, 133], 495, 260, 0, [0, 0]);
    const turned = pieceAt([497.2, 0], 500, 120, -2, [0, 0]);
    const kerf = { crosscut: 2.4, rip: 2.4, fine: 2.4 };
    for (const cut of cutsOf(outline, [beside, turned], { kerf }).filter(({ stage }) => stage === 'rough'))
      for (const [i, piece] of [beside, turned].entries())
        if (!cut.strips.includes(i))
          expect(regionsArea(intersection([solid(cut.dust)], [solid(piece.rough)]))).toBeLessThan(0.01);
  });

  it('take from the slab what they and the pieces take: the areas add up, and none is less than nothing', () => {
    fc.assert(
      fc.property(layouts, ({ kerf, pieces }) => {
        const cuts = cutsOf(outline, pieces, { kerf });
        const { areas, kept } = leftOver(outline, pieces, cuts, []);
        const parts = pieces.map(({ finished }) => solid(finished));
        const dust = cuts.map((cut) => solid(cut.dust));
        const waste = regionsArea(difference([outline], [...parts, ...dust, ...kept]));
        expect(Math.abs(areas.waste - waste)).toBeLessThan(1e-3 * areas.stock);
        for (const area of Object.values(areas)) expect(area).toBeGreaterThan(-1);
        expect(areas.parts + areas.kerf + areas.offcuts + areas.waste).toBeCloseTo(areas.stock, 3);
        for (const piece of kept) expect(regionsArea(intersection([piece], [...parts, ...dust]))).toBeLessThan(1);
      }),
      { numRuns: 100 },
    );
  });

  it('leave no dust in an offcut where the clipping library loses a corner among many that nearly touch', () => {
    // Found by the test above: 404 mm2 of dust were kept.
    const blank = (x: number, ring: Polygon<'face'>): Strip => {
      const [cos, sin] = [0.9997014897811831, 0.024432178152653153];
      const toTop: Strip['toTop'] = [cos, -sin, sin, cos, x, -89.97313408030648];
      const of = { flitch: 'log', slab: 'one', face: 'top' } as const;
      return { ...of, toTop, finished: [...ring], rough: [...ring], jointFront: null, jointBack: null };
    };
    const pieces = [
      blank(-62.198896033738784, [
        [469.86, 101.483],
        [465.486, 280.43],
        [55.609, 270.412],
        [59.982, 91.466],
      ]),
      blank(-473.1988960337387, [
        [770.77, 108.837],
        [766.396, 287.784],
        [466.486, 280.454],
        [470.859, 101.508],
      ]),
    ];
    const cuts = cutsOf(outline, pieces, { kerf: { crosscut: 1, rip: 1, fine: 1 } });
    const { kept } = leftOver(outline, pieces, cuts, []);
    const dust = cuts.map((cut) => solid(cut.dust));
    for (const piece of kept) expect(regionsArea(intersection([piece], dust))).toBeLessThan(1);
  });

  it('leave no less than nothing where the clipping library loses a ring among many that nearly touch', () => {
    // Found by the test above.
    const piece: Strip = {
      flitch: 'log',
      slab: 'one',
      face: 'top',
      toTop: [0.9997426093226983, 0.022687333572781358, -0.022687333572781358, 0.9997426093226983, -82.958, -89.977],
      finished: [
        [388.145, 224.229],
        [88.222, 231.035],
        [84.978, 88.072],
        [384.901, 81.265],
      ],
      rough: [
        [413.366, 233.659],
        [63.456, 241.599],
        [59.758, 78.641],
        [409.668, 70.701],
      ],
      jointFront: null,
      jointBack: null,
    };
    const cuts = cutsOf(outline, [piece], { kerf: { crosscut: 1, rip: 1.2, fine: 1.2 } });
    const { areas, kept } = leftOver(outline, [piece], cuts, []);
    const dust = cuts.map((cut) => solid(cut.dust));
    const waste = regionsArea(difference([outline], [solid(piece.finished), ...dust, ...kept]));
    expect(Math.abs(waste - areas.waste)).toBeLessThan(10);
  });
});
