import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sameCracks } from '../../src/app/stages/stock/far-face';
import { grainAt, grainStrokes } from '../../src/app/stages/stock/grain-layer';
import { emptyLayer } from '../../src/app/stages/stock/layers';
import { doubtful } from '../../src/app/stages/stock/ruler';
import { sapwoodFrom } from '../../src/app/stages/stock/sapwood-edge';
import { checkTie } from '../../src/app/stages/stock/tie';
import { stretches } from '../../src/app/stages/stock/unseen-edge';
import {
  type Point,
  type Region,
  rectangle,
  regionArea,
  regionContains,
  regionsArea,
  ringArea,
} from '../../src/geometry';
import { type Defect, defectLetters, emptyFace, emptySlab, nextDefectId, type Slab } from '../../src/job';
import { farDefects } from '../../src/layout';

const board: Region<'face'> = { outer: rectangle<'face'>(0, 0, 2000, 500), holes: [] };

describe('where the ± is wide', () => {
  it('is a disc around the place where it grows from, within a node of it', () => {
    // ± = 2 sigma grows by 1 mm each 400 mm from a corner, so it is over 2 mm beyond 800 mm.
    const from: Point<'face'> = [0, 250];
    const regions = doubtful(board, { sigma: ([x, y]) => Math.hypot(x - from[0], y - from[1]) / 800 });
    for (let x = 20; x < 2000; x += 37)
      for (let y = 20; y < 500; y += 41) {
        const off = Math.hypot(x - from[0], y - from[1]) - 800;
        if (Math.abs(off) < 5) continue;
        expect(regions.some((region) => regionContains(region, [x, y]))).toBe(off > 0);
      }
  });

  it('keeps a clear middle as a hole, is all of the wood where no photo measures, and nothing where all is sure', () => {
    const around = doubtful(board, { sigma: ([x, y]) => Math.hypot(x - 1000, y - 250) / 150 });
    expect(around.length).toBe(1);
    expect(around[0]?.holes.length).toBe(1);
    const [hole] = around[0]?.holes ?? [];
    // Radius 150: the hole of straight pieces between nodes 40 mm apart is that disc within 3 %.
    expect(ringArea(hole ?? [])).toBeGreaterThan(0.97 * Math.PI * 150 ** 2);
    expect(ringArea(hole ?? [])).toBeLessThan(1.03 * Math.PI * 150 ** 2);
    expect(regionsArea(doubtful(board, { sigma: () => null }))).toBeCloseTo(regionArea(board), 0);
    expect(doubtful(board, { sigma: () => 0.9 })).toEqual([]);
  });
});

describe('what is said of the sapwood', () => {
  const picture = { file: 'f.jpg', mmPerPx: 1, x0: 0, y0: 0, width: 2000, height: 500 };
  const said = (told: boolean | undefined, strips: number, seen = true) =>
    emptyLayer('sapwood', {
      ...emptyFace(),
      sapwood: Array.from({ length: strips }, () => rectangle<'face'>(0, 0, 2000, 40)),
      picture: seen ? picture : null,
      ...(told !== undefined && { sapwoodTold: told }),
    });

  it('tells sapwood that is not there from sapwood that cannot be told, along some edges or along all', () => {
    expect(said(true, 2)).toBeNull();
    expect(said(false, 1)).toMatch(/not tell it along every edge/);
    expect(said(true, 0)).toBe('No sapwood.');
    expect(said(false, 0)).toMatch(/cannot be told/);
    // A job from before this was kept claims neither.
    expect(said(undefined, 0)).toBe('None drawn.');
    expect(said(undefined, 1)).toBeNull();
    expect(said(undefined, 0, false)).toBe('Not drawn yet.');
  });
});

describe('a sapwood edge drawn by hand', () => {
  it('cuts off the rim between it and the live edge, whichever way it is drawn and wherever it ends', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 10, max: 200 }),
        fc.boolean(),
        fc.boolean(),
        fc.integer({ min: 0, max: 300 }),
        (depth, atTop, turned, short) => {
          const y = atTop ? depth : 500 - depth;
          const edge: Point<'face'>[] = [
            [short, y],
            [1000, y],
            [2000 - short, y],
          ];
          const rims = sapwoodFrom(turned ? edge.reverse() : edge, board);
          expect(rims.length).toBe(1);
          expect(ringArea(rims[0] ?? [])).toBeCloseTo(2000 * depth, 0);
        },
      ),
      { numRuns: 40 },
    );
  });
});

const crack = (id: string, points: readonly (readonly [number, number])[], through = false): Defect => ({
  id,
  kind: 'crack',
  permit: 'keyed',
  line: points.map(([x, y]): [number, number, number] => [x, y, 3]),
  ...(through && { through }),
});

/** A slab whose underside is its top face turned over about its length, seen in a frame of its own. */
function slabWithBothFaces(): Slab {
  const slab = emptySlab('s', 1);
  slab.faces.top = { ...emptyFace(), outline: { outer: tapered(1), holes: [] } };
  slab.faces.bottom = { ...emptyFace(), outline: { outer: tapered(-1), holes: [] } };
  return slab;
}

/** 2000 long, 500 wide at one end and 350 at the other; mirrored across its length by -1. */
function tapered(way: 1 | -1): [number, number][] {
  return [
    [0, 0],
    [2000, 0],
    [2000, way * 350],
    [0, way * 500],
  ];
}

const far = (x: number, y: number) => [x, y] as unknown as Point<'farFace'>;

describe('the other face', () => {
  it('shows a hole drilled through where it is: mirrored, turned and shifted back', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
        fc.integer({ min: -500, max: 500 }),
        fc.integer({ min: 0, max: 2000 }),
        fc.integer({ min: 0, max: 500 }),
        (turn, shift, x, y) => {
          // The underside as seen turned over: y changes its sign, then the photo has any frame.
          const seen = ([px, py]: readonly [number, number]): [number, number] => [
            px * Math.cos(turn) + py * Math.sin(turn) + shift,
            px * Math.sin(turn) - py * Math.cos(turn) - shift,
          ];
          const slab = slabWithBothFaces();
          const [a, b] = [seen([100, 250]), seen([1900, 230])];
          slab.tie = {
            top: [
              [100, 250],
              [1900, 230],
            ],
            bottom: [far(...a), far(...b)],
          };
          slab.faces.bottom.defects = { d1: crack('d1', [seen([x, y]), seen([x + 50, y])]) };
          slab.faces.top.defects = {
            d1: crack('d1', [
              [x, y],
              [x + 50, y],
            ]),
          };
          const [onTop] = farDefects(slab, 'top');
          expect(onTop?.line?.[0]?.[0]).toBeCloseTo(x, 6);
          expect(onTop?.line?.[0]?.[1]).toBeCloseTo(y, 6);
          const [onBottom] = farDefects(slab, 'bottom');
          const [u, v] = seen([x, y]);
          expect(onBottom?.line?.[0]?.[0]).toBeCloseTo(u, 6);
          expect(onBottom?.line?.[0]?.[1]).toBeCloseTo(v, 6);
        },
      ),
    );
    expect(farDefects(slabWithBothFaces(), 'top')).toEqual([]);
  });

  it('takes two cracks for one where most of the shorter runs along the other, and neither is known to go through', () => {
    const long = crack('d1', [
      [0, 250],
      [800, 250],
    ]);
    const face = (...all: Defect[]) => ({ ...emptyFace(), defects: Object.fromEntries(all.map((d) => [d.id, d])) });
    const pairs = (far: Defect) => sameCracks(face(long), [far]).length;
    expect(
      pairs(
        crack('x', [
          [10, 262],
          [300, 240],
        ]),
      ),
    ).toBe(1);
    expect(
      pairs(
        crack('x', [
          [10, 290],
          [300, 290],
        ]),
      ),
    ).toBe(0);
    expect(
      pairs(
        crack('x', [
          [700, 250],
          [1100, 250],
        ]),
      ),
    ).toBe(0);
    expect(
      pairs(
        crack(
          'x',
          [
            [10, 262],
            [300, 240],
          ],
          true,
        ),
      ),
    ).toBe(0);
  });

  it('is tied by two marks equally far apart, says when they are not, and when they are swapped', () => {
    const slab = slabWithBothFaces();
    const top = [
      [100, 200],
      [1900, 200],
    ] as const;
    const bottom = [
      [100, -200],
      [1900, -200],
    ] as const;
    const good = checkTie(slab, { slabId: 's', top, bottom });
    expect(good).toMatchObject({ kind: 'good', swapped: false });
    expect(checkTie(slab, { slabId: 's', top, bottom: [bottom[1], bottom[0]] })).toMatchObject({
      kind: 'good',
      swapped: true,
    });
    // Outlines by hand are good for 2 mm at each end (one sigma): 8 mm for both distances, and the holes' own 2.
    const off = (mm: number) => checkTie(slab, { slabId: 's', top, bottom: [bottom[0], [1900 + mm, -200]] });
    expect(off(7)).toMatchObject({ kind: 'good' });
    expect(off(9)).toMatchObject({ kind: 'apart', top: 1800, bottom: 1809 });
    expect(checkTie(slab, { slabId: 's', top, bottom: [bottom[0]] }).kind).toBe('more');
    expect(checkTie(slab, { slabId: 's', top: [top[0], [150, 200]], bottom }).kind).toBe('near');
  });
});

describe('an outline that ran out of the picture', () => {
  it('is parted into what a photo shows and what none does, nothing lost and nothing twice', () => {
    const { seen, unseen } = stretches({
      outline: board,
      unseen: [
        [
          [2000, 0],
          [2000, 500],
        ],
      ],
    });
    const long = (lines: readonly (readonly Point<'face'>[])[]) =>
      lines.flatMap((line) => line.slice(1).map((p, i) => Math.hypot(p[0] - line[i]![0], p[1] - line[i]![1])));
    expect(long(unseen)).toEqual([500]);
    expect(long(seen).reduce((a, b) => a + b)).toBe(2000 + 2000 + 500);
    expect(stretches({ outline: board, unseen: [] }).unseen).toEqual([]);
  });
});

describe('the letters of defects', () => {
  it('stay with their defect whatever is dropped and brought back, and are never given twice', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 60 }), { minLength: 1 }), fc.nat(), (numbers, n) => {
        const all = [...numbers.map((k) => ({ id: `d${k}` })), { id: 'drawn-long-ago' }];
        const before = defectLetters(all);
        expect(new Set(before.values()).size).toBe(all.length);
        const dropped = all[n % numbers.length]!;
        const back = defectLetters([...all.filter((one) => one !== dropped), dropped]);
        expect(back.get(dropped.id)).toBe(before.get(dropped.id));
        expect(all.map(({ id }) => id)).not.toContain(nextDefectId(all));
      }),
    );
    expect([...defectLetters([{ id: 'd1' }, { id: 'd27' }, { id: 'x' }]).values()]).toEqual(['a', 'aa', 'ab']);
  });
});

describe('strokes along the grain', () => {
  const field = {
    step: 25,
    x0: 0,
    y0: 0,
    columns: 2,
    rows: 1,
    angles: Float32Array.of(30, Number.NaN),
    coherence: Float32Array.of(0.8, 0),
    spacing: Float32Array.of(2.5, Number.NaN),
  };
  it('run as the grain does, longer where it is surer, and only where there is wood', () => {
    const strokes = grainStrokes(field);
    expect(strokes.length).toBe(1);
    const [[from, to]] = strokes as [[Point<'face'>, Point<'face'>]];
    expect((Math.atan2(to[1] - from[1], to[0] - from[0]) * 180) / Math.PI).toBeCloseTo(30, 4);
    const [[a, b]] = grainStrokes({ ...field, coherence: Float32Array.of(0.3, 0) }) as [[Point<'face'>, Point<'face'>]];
    expect(Math.hypot(b[0] - a[0], b[1] - a[1])).toBeLessThan(Math.hypot(to[0] - from[0], to[1] - from[1]));
    expect(grainAt(field, [3, 4])).toEqual({ degrees: 30, spacing: 2.5 });
    expect(grainAt(field, [25, 0])).toBeNull();
    expect(grainAt(field, [400, 0])).toBeNull();
  });
});
