import { beforeAll, describe, expect, test } from 'vitest';
import { regionArea } from '../../src/geometry';
import type { Cv } from '../../src/photo';
import { layBeside, measure, readFaceOfShots, type Shot } from '../../src/photo';
import { InputProblem } from '../../src/units';
import { cardsAt, LEFT, LENGTH, PLACES, type Place, RIGHT, SIDE, WIDTH, woodFace } from './drawn-ends';
import { openCv } from './opencv';
import { type Eye, pixelOf } from './scene';
import { type ShotWish, shoot } from './two-shots';

const SCALE = { kind: 'markers', dictionary: '4x4_50', side: SIDE } as const;

let cv: Cv;
let left: Shot;
let right: Shot;
/** The two joined, left first, by the first test that asks. */
let joining: ReturnType<typeof readFaceOfShots> | null = null;
const joined = () => {
  joining ??= readFaceOfShots(cv, [left, right]);
  return joining;
};
const shot = (name: string, from: Eye, wish: Partial<ShotWish> = {}): Shot => ({
  name,
  scale: SCALE,
  photo: shoot(from, { face: woodFace(1), cards: cardsAt(cv, PLACES), ...wish }),
});

beforeAll(async () => {
  ({ cv } = await openCv());
  left = shot('left', LEFT);
  right = shot('right', RIGHT, { light: [0.8, 0.72, 0.62, -0.2, 0.15] });
}, 300_000);

const refusal = (work: Promise<unknown>): Promise<InputProblem> =>
  work.then(
    () => {
      throw new Error('nothing was wrong');
    },
    (fault: unknown) => {
      if (fault instanceof InputProblem) return fault;
      throw fault;
    },
  );

/** Spots of both ends, and what the joined photos make of them. */
const SPOTS: [number, number][] = [
  [60, 0],
  [400, -140],
  [700, 120],
  [1000, -100],
  [1300, 150],
  [1540, 20],
];

const placesOf = (face: Awaited<ReturnType<typeof readFaceOfShots>>, shots: readonly string[]) =>
  SPOTS.map((spot) => {
    const which = spot[0] < 800 ? 'left' : 'right';
    const calibration = face.calibrations[shots.indexOf(which)];
    const seen = calibration && measure(calibration).toFace(pixelOf(which === 'left' ? LEFT : RIGHT, spot));
    if (!seen) throw new Error('not seen');
    return seen;
  });

type Measured = ReturnType<typeof placesOf>[number];

describe('a face in two photos', () => {
  test.runIf(process.env.SLOW)(
    'measures across both, says how sure it is, and shows the whole wood in one picture',
    async () => {
      const face = await joined();
      const places = placesOf(face, ['left', 'right']);
      for (const [i, a] of SPOTS.entries()) {
        for (const [j, b] of SPOTS.entries()) {
          if (j <= i) continue;
          const [p, q] = [places[i], places[j]];
          if (!p || !q) continue;
          const true_ = Math.hypot(a[0] - b[0], a[1] - b[1]);
          const off = Math.hypot(p.mm[0] - q.mm[0], p.mm[1] - q.mm[1]) - true_;
          // 0.12 % or 1.2 mm is what one photo must reach (issue 3).
          expect(Math.abs(off)).toBeLessThan(Math.max(1.2, 0.0012 * true_));
          expect(Math.abs(off)).toBeLessThan(3 * Math.hypot(p.sigma, q.sigma));
        }
      }
      // The far end is tied by way of the shared cards: it is doubted more than in a photo of its own.
      expect(places[5]?.sigma).toBeGreaterThan(places[0]?.sigma as number);
      expect(face.joins[0]?.marks).toBeLessThan(0.3);
      expect(face.joins[0]?.likeness).toBeGreaterThan(0.9);
      expect(face.joins[0]?.moved).toEqual([]);
      // No end is cut off: each photo alone loses one.
      expect(face.traced.cutOff).toEqual([]);
      const share = regionArea(face.traced.outline) / (LENGTH * WIDTH);
      expect(share).toBeGreaterThan(0.98);
      expect(share).toBeLessThan(1.02);
      // What is hidden is each card once.
      expect(face.traced.hidden).toHaveLength(6);
    },
    300_000,
  );

  test.runIf(process.env.SLOW)(
    'is the same in whichever order its photos are given',
    async () => {
      const places = placesOf(await joined(), ['left', 'right']);
      const other = await readFaceOfShots(cv, [right, left]);
      placesOf(other, ['right', 'left']).forEach(({ mm: [x, y] }, i) => {
        const {
          mm: [u, v],
        } = places[i] as Measured;
        expect(Math.hypot(x - u, y - v)).toBeLessThan(0.3);
      });
    },
    300_000,
  );

  test.runIf(process.env.SLOW)(
    'a face that was measured before keeps its frame',
    async () => {
      const alone = await joined();
      const moved = await readFaceOfShots(cv, [{ ...right, before: alone.calibrations[1] ?? null }, left]);
      const [a, b] = [placesOf(alone, ['left', 'right']), placesOf(moved, ['right', 'left'])];
      a.forEach(({ mm }, i) => {
        const {
          mm: [x, y],
        } = b[i] as Measured;
        expect(Math.hypot(mm[0] - x, mm[1] - y)).toBeLessThan(0.3);
      });
    },
    300_000,
  );

  test.runIf(process.env.SLOW)(
    'three photos, given out of order, are one face',
    async () => {
      const middle = shot('middle', { ...LEFT, at: [900, 0], distance: 1000, roll: 91, width: 1200, height: 1600 });
      const face = await readFaceOfShots(cv, [right, middle, left]);
      const places = placesOf(face, ['right', 'middle', 'left']);
      const [p, q] = [places[0], places[5]] as [Measured, Measured];
      const off = Math.hypot(p.mm[0] - q.mm[0], p.mm[1] - q.mm[1]) - Math.hypot(1480, 20);
      expect(Math.abs(off)).toBeLessThan(1.8);
      expect(Math.abs(off)).toBeLessThan(3 * Math.hypot(p.sigma, q.sigma));
      expect(face.joins.map(({ between }) => between)).toEqual([
        ['left', 'middle'],
        ['middle', 'right'],
      ]);
      expect(face.traced.cutOff).toEqual([]);
      expect(regionArea(face.traced.outline) / (LENGTH * WIDTH)).toBeCloseTo(1, 1);
    },
    300_000,
  );

  test.runIf(process.env.SLOW)(
    'a card that was moved between the shots is named and left out',
    async () => {
      const places = PLACES.map((p) => (p[0] === 3 ? ([3, 890, 90, 60] as Place) : p));
      const face = await readFaceOfShots(cv, [left, shot('right', RIGHT, { cards: cardsAt(cv, places) })]);
      expect(face.joins[0]?.moved).toEqual(['card 3']);
      for (const { outliers, reasons } of face.calibrations) {
        expect(outliers).toContain('marker 3');
        expect(reasons?.find(({ name }) => name === 'marker 3')?.why).toContain(
          'another photo of this face shows it elsewhere',
        );
      }
      const [p, q] = [placesOf(face, ['left', 'right'])[0], placesOf(face, ['left', 'right'])[5]];
      expect(Math.hypot((p?.mm[0] ?? 0) - (q?.mm[0] ?? 0), (p?.mm[1] ?? 0) - (q?.mm[1] ?? 0))).toBeCloseTo(1480.14, -1);
    },
    300_000,
  );

  test.runIf(process.env.SLOW)(
    'photos that share no mark, and another slab under the same cards, are refused in words',
    async () => {
      const apart = shot('right', RIGHT, {
        cards: cardsAt(
          cv,
          PLACES.filter(([id]) => id > 3),
        ),
      });
      const none = await refusal(readFaceOfShots(cv, [left, apart]));
      expect(none.message).toContain('shows no mark that another photo');
      const slab = shot('other', RIGHT, { face: woodFace(2.3) });
      const different = await refusal(readFaceOfShots(cv, [left, slab]));
      expect(different.message).toContain('different wood');
    },
    300_000,
  );

  test('marks tell whether photos show parts of one face', () => {
    const other = PLACES.map(
      ([id, x, y, d]): Place => [id, x + 40 * Math.sin(3 * id), y + 30 * Math.cos(5 * id), d + 20 * id],
    );
    expect(layBeside(cv, [left, right])).toBe(true);
    expect(layBeside(cv, [left, left])).toBe(false);
    expect(layBeside(cv, [left, shot('other', RIGHT, { cards: cardsAt(cv, other) })])).toBe(false);
  }, 300_000);
});
