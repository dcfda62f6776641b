import { beforeAll, describe, expect, test } from 'vitest';
import type { Scale } from '../../src/job';
import type { Cv } from '../../src/photo';
import { calibrate, measure } from '../../src/photo';
import { seededRandom } from '../../src/search';
import { problemOf } from '../support/problem-of';
import { openCv } from './opencv';
import { type Eye, pixelOf } from './scene';

/** A slab measured by its own length and three widths, with nothing laid on it. */

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

type P = [number, number];
type SlabScale = Extract<Scale, { kind: 'slab' }>;

const BLANK = { width: 4000, height: 3000, channels: 1 as const, data: new Uint8Array(0) };
const RUNS = process.env.SLOW ? 120 : 4;

/** A slab whose edges crook, taper and wave, before a camera that somebody holds over it at a slant. */
function drawn(random: ReturnType<typeof seededRandom>, eyes: Partial<Eye> = {}) {
  const [length, width] = [1600 + 1400 * random.next(), 300 + 350 * random.next()];
  const [taper, crook] = [0.25 * (random.next() - 0.5), 12 * random.normal()];
  const waves = [0, 1].map(() =>
    Array.from({ length: 8 }, (_, k) => ({
      swing: k < 4 ? (6 * random.normal()) / (k + 1) : 2.2 * random.normal(),
      pace: k < 4 ? ((k + 1) * Math.PI) / length : 6.28 / (150 + 350 * random.next()),
      phase: 6.28 * random.next(),
    })),
  );
  const edge = (side: 0 | 1, x: number) => {
    const u = (2 * x) / length - 1;
    const wavy = (waves[side] ?? []).reduce((sum, w) => sum + w.swing * Math.sin(w.pace * x + w.phase), 0);
    return crook * (1 - u * u) + (side - 0.5) * width * (1 + taper * u) + wavy;
  };
  const eye: Eye = {
    ...{ width: 4000, height: 3000, k1: 0.05 * random.normal(), k2: 0.01 * random.normal() },
    focal: 4000 * 0.78 * (1 + 0.025 * random.normal()),
    centre: [1999.5 + 20 * random.normal(), 1499.5 + 20 * random.normal()],
    at: [length / 2 + 50 * random.normal(), 30 * random.normal()],
    distance: length * (0.95 + 0.6 * random.next()),
    ...{ pitch: -50 * random.next(), yaw: 50 * (random.next() - 0.5), roll: 16 * (random.next() - 0.5) },
    ...eyes,
  };
  return { length, edge, eye };
}

/** What a maker types and taps of it; `clumsy` 0 for one who never errs. */
function taped(
  { length, edge, eye }: ReturnType<typeof drawn>,
  random: ReturnType<typeof seededRandom>,
  clumsy = 1,
): SlabScale {
  const off = (sigma: number) => clumsy * sigma * random.normal();
  const tap = (x: number, y: number): P => {
    const [u, v] = pixelOf(eye, [x, y]);
    return [u + off(4), v + off(4)];
  };
  const across = (share: number) => {
    const x = share * length;
    const [a, b] = [x + off(25), x + off(25)];
    const px: [P, P] = [tap(a, edge(0, a)), tap(b, edge(1, b))];
    return { px, mm: edge(1, x) - edge(0, x) + off(2) };
  };
  const amid = (x: number) => (edge(0, x) + edge(1, x)) / 2;
  const ends: [P, P] = [tap(0, amid(0) + off(20)), tap(length, amid(length) + off(20))];
  return {
    kind: 'slab',
    length: { px: ends, mm: Math.hypot(length, amid(length) - amid(0)) + off(3) },
    widths: [across(0.1), across(0.5), across(0.9)],
  };
}

test('by random cameras and a clumsy hand, 19 of 20 lengths on the slab are inside their ±', () => {
  const random = seededRandom(20_261_126);
  let [inside, all] = [0, 0];
  for (let run = 0; run < RUNS; run++) {
    const slab = drawn(random);
    const { length, edge, eye } = slab;
    const view = measure(calibrate(cv, BLANK, taped(slab, random), { exifFocal35: 0.78 * 35.3 }));
    const spot = (share: number, side: 0 | 1): P => [share * length, edge(side, share * length)];
    const pairs: [P, P][] = [0.03, 0.3, 0.7, 0.97].map((share) => [spot(share, 0), spot(share, 1)]);
    pairs.push(
      [spot(0, 0), spot(1, 0)],
      [spot(0, 1), spot(1, 1)],
      [spot(0, 0), spot(1, 1)],
      [spot(0.1, 1), spot(0.5, 0)],
    );
    for (const [a, b] of pairs) {
      const seen = view.distance(pixelOf(eye, a), pixelOf(eye, b));
      all++;
      if (seen && Math.abs(seen.mm - Math.hypot(a[0] - b[0], a[1] - b[1])) <= 2 * seen.sigma) inside++;
    }
  }
  expect(inside / all).toBeGreaterThanOrEqual(RUNS > 100 ? 0.95 : 0.9);
});

describe('a slab seen at a slant', () => {
  const random = seededRandom(5);
  const slab = drawn(random, { pitch: -35, yaw: 15, roll: 5, k1: -0.03, focal: 3100 });
  const exact = taped(slab, random, 0);
  const lens = { focal: 3100 / 4000, k1: -0.03 };
  const off = (change: Partial<SlabScale>) => problemOf(() => calibrate(cv, BLANK, { ...exact, lens, ...change }));
  const wider = (i: number, mm: number) =>
    exact.widths.map((span, k) => (k === i ? { ...span, mm: span.mm + mm } : span)) as SlabScale['widths'];

  test('is told to the millimetre by exact taps and a known lens, from either side', () => {
    for (const pitch of [-35, 35]) {
      const { length, edge, eye } = { ...slab, eye: { ...slab.eye, pitch } };
      const view = measure(calibrate(cv, BLANK, { ...taped({ ...slab, eye }, random, 0), lens }));
      for (const share of [0.02, 0.3, 0.98]) {
        const x = share * length;
        const seen = view.distance(pixelOf(eye, [x, edge(0, x)]), pixelOf(eye, [x, edge(1, x)]));
        expect(Math.abs((seen?.mm ?? 0) - (edge(1, x) - edge(0, x)))).toBeLessThan(1.5);
      }
    }
  });

  test('lies in a frame from its left end to its right', () => {
    const view = measure(calibrate(cv, BLANK, { ...exact, lens }));
    const [left, right] = exact.length.px.map((px) => view.place(px)) as [P, P];
    expect(right[0] - left[0]).toBeGreaterThan(exact.length.mm - 10);
    expect(Math.abs(right[1] - left[1])).toBeLessThan(20);
  });

  test('has its wrong measure named, with what the photo says of it', () => {
    const middle = off({ widths: wider(1, 90) });
    expect(middle.message).toMatch(/One measure does not go with this photo: the width in the middle, 658 mm as typed/);
    const shown = Number(/looks like about (\d+)/.exec(middle.message)?.[1]);
    expect(Math.abs(shown - (exact.widths[1]?.mm ?? 0))).toBeLessThan(10);
    expect(middle.where).toBe('/widths/1/mm');
    const long = off({ length: { ...exact.length, mm: 1.25 * exact.length.mm } });
    expect(long.message).toContain('the length, ');
    const [left, amid, right] = exact.widths;
    const turned = off({ widths: [{ ...left, mm: right.mm - 60 }, amid, { ...right, mm: left.mm + 60 }] });
    expect(turned.mend.length).toBeGreaterThan(20);
  });

  test('with taps that lie as no slab has them is refused at the tap', () => {
    const [left, amid, right] = exact.widths;
    const crossed = off({ widths: [{ ...left, px: amid.px }, { ...amid, px: left.px }, right] });
    expect(crossed.message).toContain('wrong order');
    expect(crossed.where).toBe('/widths/0/px');
    const [[u, v]] = left.px;
    const [[a, b], [c, d]] = exact.length.px;
    const along = off({
      widths: [
        {
          ...left,
          px: [
            [u, v],
            [u + (c - a) / 20, v + (d - b) / 20],
          ],
        },
        amid,
        right,
      ],
    });
    expect(along.message).toContain('nothing of the slab');
    expect(
      off({
        length: {
          ...exact.length,
          px: [
            [a, b],
            [a + 3, b],
          ],
        },
      }).message,
    ).toContain('one spot');
    // The same taps with left and right changed over are the slab seen from its other side, which is no fault.
    const [l, r] = exact.length.px;
    expect(() =>
      calibrate(cv, BLANK, { ...exact, lens, length: { ...exact.length, px: [r, l] }, widths: [right, amid, left] }),
    ).not.toThrow();
  });
});
