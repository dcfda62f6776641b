import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { thicknessOfBlank } from '../../src/flattening';
import { rectangle } from '../../src/geometry';
import { emptySlab, type Slab, type Spot } from '../../src/job';
import { surfacesOf } from '../../src/layout';
import { seededRandom } from '../../src/search';
import { questions, slabReadings, tieFaces } from '../../src/surface';

/** Readings as a person takes them off invented slabs, whose shape is known exactly. */

interface Shape {
  readonly bow: number;
  readonly cup: number;
  readonly twist: number;
  readonly wedge: number;
}
const [LENGTH, WIDTH, THICKNESS] = [2400, 520, 54];
const shapes = fc.record({
  bow: fc.double({ min: -10, max: 10, noNaN: true }),
  cup: fc.double({ min: -5, max: 5, noNaN: true }),
  twist: fc.double({ min: -8, max: 8, noNaN: true }),
  wedge: fc.double({ min: -2, max: 2, noNaN: true }),
});
const planes = fc.record({
  level: fc.double({ min: -60, max: 60, noNaN: true }),
  alongMm: fc.double({ min: -15, max: 15, noNaN: true }),
  acrossMm: fc.double({ min: -5, max: 5, noNaN: true }),
});
type Plane = typeof planes extends fc.Arbitrary<infer P> ? P : never;

const GRID = [0.06, 0.28, 0.5, 0.72, 0.94].flatMap((a) => [0.1, 0.5, 0.9].map((c) => [a, c] as const));
const topAt = ({ bow, cup, twist }: Shape, u: number, v: number) => bow * u * u + cup * v * v + (twist / 4) * u * v;
const thickAt = ({ wedge }: Shape, u: number) => THICKNESS + wedge * u;
const over = ({ level, alongMm, acrossMm }: Plane, u: number, v: number) => level + alongMm * u + acrossMm * v;

/** Heights of both faces, each over a plane of its own, the slab turned over for the second; thicknesses at the edges. */
function readApart(shape: Shape, upper: Plane, under: Plane, edges = GRID.length): Slab {
  const slab = { ...emptySlab('s', 1), heights: 'apart' as const, thickness: THICKNESS };
  GRID.forEach(([a, c], i) => {
    const [u, v] = [2 * a - 1, 2 * c - 1];
    const top = topAt(shape, u, v);
    const bottom = top - thickAt(shape, u);
    const spot: Spot = {
      id: `p${i}`,
      at: [a * LENGTH, c * WIDTH],
      top: top - over(upper, u, v),
      bottom: over(under, u, v) - bottom,
      thickness: c !== 0.5 && i < edges ? thickAt(shape, u) : null,
      sigma: 0.2,
    };
    slab.spots[spot.id] = spot;
  });
  return slab;
}

describe('faces that were read each by itself', () => {
  it('are tied by thicknesses, whatever plane either was read over: the slab is as thick as it was', () => {
    fc.assert(
      fc.property(shapes, planes, planes, (shape, upper, under) => {
        const { top, bottom } = slabReadings(readApart(shape, upper, under));
        top.forEach(({ z, at }, i) => {
          const u = (2 * at[0]) / LENGTH - 1;
          expect(z - (bottom[i]?.z as number)).toBeCloseTo(thickAt(shape, u), 1);
        });
      }),
    );
  });

  it('say which thickness disagrees', () => {
    const flat = { level: 0, alongMm: 0, acrossMm: 0 };
    const slab = readApart({ bow: 3, cup: 1, twist: 2, wedge: 0 }, flat, flat);
    const wrong = slab.spots.p0 as Spot;
    slab.spots.p0 = { ...wrong, thickness: (wrong.thickness as number) + 6 };
    const off = tieFaces(slab)?.off ?? [];
    const worst = off.reduce((a, b) => (Math.abs(b.mm) > Math.abs(a.mm) ? b : a));
    expect(worst.spot).toBe('p0');
    expect(worst.mm).toBeGreaterThan(3);
  });

  it('with one thickness are taken for evenly thick, are less sure of it, and ask for more', () => {
    const shape = { bow: 4, cup: 2, twist: 3, wedge: 0 };
    const plane = { level: 20, alongMm: 9, acrossMm: -3 };
    const few = readApart(shape, plane, plane, 1);
    const { top, bottom } = slabReadings(few);
    top.forEach(({ z }, i) => {
      expect(z - (bottom[i]?.z as number)).toBeCloseTo(THICKNESS, 0);
    });
    const many = slabReadings(readApart(shape, plane, plane)).bottom;
    // The one was measured at the first corner: the last lies farthest from it.
    expect(bottom.at(-1)?.sigma).toBeGreaterThan(2 * (many.at(-1)?.sigma as number));
    expect(questions(few).map(({ message }) => message)).toEqual([
      expect.stringMatching(/fewer than three thicknesses/),
    ]);
  });
});

describe('a slab of which only bow, cup, twist and a few thicknesses were read', () => {
  const read = (warp: Slab['warp'], length = LENGTH): Slab => {
    const slab = { ...emptySlab('s', 1), warp };
    const ring = rectangle<'face'>(0, 0, length, WIDTH);
    slab.faces.top = { ...slab.faces.top, outline: { outer: ring, holes: [] } };
    for (const [i, at] of (
      [
        [100, 30],
        [length - 100, 30],
        [100, 490],
        [length - 100, 490],
      ] as const
    ).entries())
      slab.spots[`t${i}`] = { id: `t${i}`, at, top: null, bottom: null, thickness: THICKNESS, sigma: 0.2 };
    return slab;
  };
  const board = (slab: Slab) => {
    const faces = surfacesOf(slab);
    if (!faces) throw new Error('It has readings.');
    return thicknessOfBlank(faces, rectangle(0, 0, LENGTH, WIDTH));
  };

  it('is about T - bow - cup thick (TRADE 5), and less sure than one that was read all over', () => {
    const { thickest, sigma } = board(read({ bow: 9, cup: 4, twist: 0, sigma: 0.5 }));
    expect(thickest).toBeLessThan(THICKNESS - 9 - 4 + 1);
    expect(thickest).toBeGreaterThan(THICKNESS - 9 - 4 - 6);
    expect(sigma).toBeGreaterThan(0.6);
  });

  it('is thinner, and less sure, the less of it was read', () => {
    const known = board(read({ bow: 3, cup: 1, twist: 1, sigma: 0.3 }));
    const unread = board(read({ bow: 3, cup: 1, twist: null, sigma: 0.3 }));
    expect(unread.sigma).toBeGreaterThan(known.sigma);
    expect(unread.thickest).toBeLessThan(known.thickest);
  });

  it('speaks of one plane with heights that were read besides', () => {
    const slab = read({ bow: 6, cup: 0, twist: 0, sigma: 0.3 });
    const tilt = (x: number, y: number) => 40 + x / 100 - y / 50;
    for (const [i, [a, c]] of GRID.entries()) {
      const at = [a * LENGTH, c * WIDTH] as const;
      const top = 6 * (2 * a - 1) ** 2 + tilt(...at);
      slab.spots[`h${i}`] = { id: `h${i}`, at, top, bottom: null, thickness: THICKNESS, sigma: 0.2 };
    }
    for (const { at, z } of slabReadings(slab).top) {
      expect(z).toBeCloseTo(6 * ((2 * at[0]) / LENGTH - 1) ** 2 + tilt(at[0], at[1]), 1);
    }
  });
});

describe('readings that look wrong', () => {
  /** Drops from rails with their half millimetres, the slab a little rough. */
  function honest(seed: number): Slab {
    const { normal, next } = seededRandom(seed);
    const between = (least: number, most: number) => least + (most - least) * next();
    const shape = { bow: between(-12, 12), cup: between(-6, 6), twist: between(-10, 10), wedge: between(-1, 1) };
    const [waves, phase] = [between(0, 1.5), between(0, 6)];
    const slab = emptySlab('s', 1);
    GRID.forEach(([a, c], i) => {
      const [u, v] = [2 * a - 1, 2 * c - 1];
      const rough = waves * Math.sin((a * LENGTH) / 170 + phase) + 0.15 * normal();
      const round = (mm: number) => Math.round(2 * mm) / 2;
      slab.spots[`p${i}`] = {
        id: `p${i}`,
        at: [a * LENGTH, c * WIDTH],
        top: round(topAt(shape, u, v) + rough - 32),
        bottom: null,
        thickness: c === 0.5 ? null : round(thickAt(shape, u) + 0.2 * normal()),
        sigma: 0.2,
      };
    });
    return { ...slab, thickness: THICKNESS };
  }

  it('are seldom asked of an honest slab: of 30, none or one', () => {
    const asked = Array.from({ length: 30 }, (_, seed) => questions(honest(seed + 1))).filter((q) => q.length > 0);
    expect(asked.length).toBeLessThanOrEqual(1);
  });

  it.each([
    ['an inch typed as mm', 25.4],
    ['mm typed as inches', 1 / 25.4],
    ['a sign', -1],
    ['a digit left out', 10],
    ['a digit too many', 0.1],
  ])('are asked about, with what was meant: %s', (_, factor) => {
    let mended = 0;
    for (let seed = 1; seed <= 12; seed++) {
      const slab = honest(seed);
      const id = `p${(5 * seed) % GRID.length}`;
      const spot = slab.spots[id] as Spot;
      const meant = spot.top as number;
      slab.spots[id] = { ...spot, top: meant / factor };
      const asked = questions(slab).filter((question) => question.spot === id);
      expect(asked.length).toBeGreaterThan(0);
      if (asked.some(({ instead }) => instead !== null && Math.abs(instead - meant) < 0.01)) mended++;
      // Told to be right, it is not asked about again.
      slab.spots[id] = { ...spot, top: meant / factor, sure: true };
      expect(questions(slab).filter((question) => question.spot === id)).toEqual([]);
    }
    expect(mended).toBeGreaterThanOrEqual(10);
  });

  it('are named with their place: outside the slab, underside over upper face, all on one line, too few', () => {
    const slab = honest(3);
    slab.faces.top = { ...slab.faces.top, outline: { outer: rectangle(0, 0, LENGTH, WIDTH), holes: [] } };
    slab.spots.p0 = { ...(slab.spots.p0 as Spot), at: [-200, 40] };
    expect(questions(slab)).toContainEqual(expect.objectContaining({ spot: 'p0', which: 'place' }));
    const over = honest(4);
    over.spots.p1 = { ...(over.spots.p1 as Spot), bottom: 20, thickness: null };
    expect(questions(over)).toContainEqual(expect.objectContaining({ spot: 'p1', which: 'bottom' }));
    const line = honest(5);
    for (const id of Object.keys(line.spots)) if (line.spots[id]?.at[1] !== WIDTH / 2) delete line.spots[id];
    expect(questions(line).map(({ message }) => message)).toContainEqual(expect.stringMatching(/along one line/));
    const few = honest(6);
    for (const id of Object.keys(few.spots).slice(2)) delete few.spots[id];
    expect(questions(few).map(({ message }) => message)).toContainEqual(expect.stringMatching(/2 places only/));
  });
});
