import { beforeAll, describe, expect, it } from 'vitest';
import {
  distanceToSegment,
  intersection,
  type Point,
  type Polygon,
  type Region,
  regionArea,
  ringArea,
} from '../../src/geometry';
import type { Cv } from '../../src/photo';
import type { Crack } from '../../src/photo/cracks';
import { findDefects } from '../../src/photo/defects';
import { type FacePicture, maskOf, rasterOf } from '../../src/raster';
import { openCv } from './opencv';

/**
 * Boards drawn from formulas, so that every defect's place and width is known. A board lies along u, across v, its middle at (0, 0), turned
 * by `degrees` on the face; mm. Tolerances are about twice what was reached.
 */

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

const LENGTH = 900;
const WIDTH = 300;
const WALNUT = { tone: 78, rings: 9 };
const OAK = { tone: 168, rings: 42 };

interface Mark {
  /** Half width of the defect across the board at u, mm; 0 and less where there is none. */
  readonly half: (u: number) => number;
  readonly middle: (u: number) => number;
  /** Grey of it, 0..255. */
  readonly tone: number;
}

interface Wish {
  readonly wood?: { readonly tone: number; readonly rings: number };
  readonly degrees?: number;
  readonly mmPerPx?: number;
  readonly marks?: readonly Mark[];
  /** Everything so much brighter or darker. */
  readonly light?: (u: number) => number;
  /** Cards, middle and half side. */
  readonly cards?: readonly (readonly [u: number, v: number, half: number])[];
  /** Sapwood lighter by so much within 40 mm of both edges. */
  readonly sapwood?: number;
}

function draw({ wood = WALNUT, degrees = 0, mmPerPx = 1, marks = [], light = () => 1, cards = [], sapwood = 0 }: Wish) {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const place = (u: number, v: number): Point<'face'> => [u * c - v * s, u * s + v * c];
  const reach = Math.hypot(LENGTH, WIDTH) / 2 + 20;
  const size = Math.ceil((2 * reach) / mmPerPx);
  const grit = (i: number) => {
    const h = Math.sin(i * 127.1) * 43758.5453;
    return h - Math.floor(h) - 0.5;
  };
  const toneAt = (u: number, v: number): number => {
    if (Math.abs(u) > LENGTH / 2 || Math.abs(v) > WIDTH / 2) return 40;
    if (cards.some(([x, y, half]) => Math.abs(u - x) < half && Math.abs(v - y) < half)) return 235;
    for (const { half, middle, tone } of marks) if (Math.abs(v - middle(u)) < half(u)) return tone;
    // Rings: dark lines a centimetre apart, narrow as cracks are.
    const ring = Math.max(0, Math.sin((v + 15 * Math.sin(u / 200)) / 1.7)) ** 4;
    return wood.tone + (Math.abs(v) > WIDTH / 2 - 40 ? sapwood : 0) - wood.rings * ring;
  };
  const data = new Uint8ClampedArray(size * size);
  const SUB = 3;
  for (let i = 0; i < data.length; i++) {
    let sum = 0;
    for (let k = 0; k < SUB * SUB; k++) {
      const x = ((i % size) + ((k % SUB) + 0.5) / SUB) * mmPerPx - reach;
      const y = (Math.floor(i / size) + (Math.floor(k / SUB) + 0.5) / SUB) * mmPerPx - reach;
      const [u, v] = [x * c + y * s, y * c - x * s];
      sum += toneAt(u, v) * light(u);
    }
    data[i] = sum / (SUB * SUB) + 8 * grit(i);
  }
  const picture: FacePicture = { raster: rasterOf(size, size, 1, data), mmPerPx, x0: -reach, y0: -reach };
  const rect = (u: number, v: number, a: number, b: number): Region<'face'> => ({
    outer: [place(u - a, v - b), place(u + a, v - b), place(u + a, v + b), place(u - a, v + b)],
    holes: [],
  });
  const outline = rect(0, 0, LENGTH / 2, WIDTH / 2);
  const grid = { width: size, height: size, mmPerPx, x0: -reach, y0: -reach };
  const hides = maskOf(
    grid,
    cards.map(([u, v, half]) => rect(u, v, half + 2, half + 2)),
  );
  return { picture, outline, hides, place };
}

function found(wish: Wish) {
  const { picture, outline, hides, place } = draw(wish);
  const { defects, things } = findDefects(cv, picture, outline, hides);
  const cracks = defects.filter((found): found is Crack => found.kind === 'crack');
  const blobs = defects.flatMap((found) => (found.kind === 'crack' ? [] : [found]));
  return { cracks, blobs, things, place };
}

/** A crack from u = from to u = to whose width swells from 0 to `widest` and tapers out again. */
const crack = (from: number, to: number, widest: number, v = 20): Mark => ({
  half: (u) => (u < from || u > to ? 0 : (widest / 2) * Math.sin((Math.PI * (u - from)) / (to - from)) ** 0.5),
  middle: (u) => v + 8 * Math.sin(u / 120),
  tone: 10,
});

const truthOf = ({ half, middle }: Mark, place: (u: number, v: number) => Point<'face'>, least = 2) =>
  Array.from({ length: LENGTH / 2 }, (_, i) => 2 * i - LENGTH / 2)
    .filter((u) => 2 * half(u) > least)
    .map((u) => ({ at: place(u, middle(u)), width: 2 * half(u) }));

/** Distance to a crack's line and its width there. */
function nearest(line: Crack['line'], p: Point<'face'>): { off: number; width: number } {
  return line.slice(1).reduce(
    (best, [x, y, wide], i) => {
      const [px, py, before] = line[i] as Crack['line'][number];
      const off = distanceToSegment(p, [
        [px, py],
        [x, y],
      ]);
      const t = Math.hypot(p[0] - px, p[1] - py) / Math.max(1e-9, Math.hypot(x - px, y - py));
      return off < best.off ? { off, width: before + (wide - before) * Math.min(1, t) } : best;
    },
    { off: Number.POSITIVE_INFINITY, width: 0 },
  );
}

const lengthOf = (line: Crack['line']): number =>
  line.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - (line[i]?.[0] ?? 0), y - (line[i]?.[1] ?? 0)), 0);

const inOne = (a: Polygon<'face'>, b: Polygon<'face'>): number => {
  const [A, B]: Region<'face'>[] = [
    { outer: a, holes: [] },
    { outer: b, holes: [] },
  ] as Region<'face'>[];
  const both = intersection([A as Region<'face'>], [B as Region<'face'>]).reduce((sum, r) => sum + regionArea(r), 0);
  return both / (ringArea(a) + ringArea(b) - both);
};

const ellipse = (u: number, v: number, a: number, b: number, tone: number): Mark => ({
  half: (x) => (Math.abs(x - u) < a ? b * Math.sqrt(1 - ((x - u) / a) ** 2) : 0),
  middle: () => v,
  tone,
});
const ringOf = (u: number, v: number, a: number, b: number, place: (u: number, v: number) => Point<'face'>) =>
  Array.from({ length: 72 }, (_, k) =>
    place(u + a * Math.cos((k * Math.PI) / 36), v + b * Math.sin((k * Math.PI) / 36)),
  );

describe('a crack', () => {
  it.each([
    { name: 'in dark wood', wish: {} },
    { name: 'in oak, whose rings are as narrow and dark', wish: { wood: OAK } },
    { name: 'of a board that stands upright in the picture', wish: { degrees: 88 } },
    { name: 'of a board at a slant, seen finer', wish: { degrees: -33, mmPerPx: 0.6 } },
    {
      name: 'in light that falls off to a third',
      wish: { wood: OAK, light: (u: number) => 0.67 - (0.66 * u) / LENGTH },
    },
  ])('$name is one line, in its place and as wide as it is', ({ wish }) => {
    const mark = crack(-300, 260, 5);
    const { cracks, blobs, place } = found({ ...wish, marks: [mark] });
    expect(cracks).toHaveLength(1);
    expect(blobs).toEqual([]);
    const line = cracks[0]?.line as Crack['line'];
    const seen = truthOf(mark, place).map(({ at, width }) => ({ ...nearest(line, at), truth: width }));
    expect(Math.max(...seen.map(({ off }) => off))).toBeLessThan(1.5);
    const wrong = seen.map(({ width, truth }) => Math.abs(width - truth)).sort((a, b) => a - b);
    expect(wrong[Math.floor(0.9 * wrong.length)]).toBeLessThan(1);
    // Tips: 560 mm from end to end, the last few too fine to see.
    expect(Math.abs(lengthOf(line) - 560)).toBeLessThan(20);
  });

  it('goes on beneath a card, as one line that crosses it', () => {
    const mark = crack(-300, 260, 5);
    const { cracks, place } = found({ marks: [mark], cards: [[0, 20, 56]] });
    expect(cracks).toHaveLength(1);
    const line = cracks[0]?.line as Crack['line'];
    expect(Math.max(...truthOf(mark, place).map(({ at }) => nearest(line, at).off))).toBeLessThan(6);
  });

  it('and another beside it are two', () => {
    const marks = [crack(-430, -100, 4, 20), crack(-430, 0, 4, 32)];
    expect(found({ marks }).cracks).toHaveLength(2);
  });

  it('is not joined to another that begins far along in its line', () => {
    const marks = [crack(-400, -120, 4), crack(40, 330, 4)];
    expect(found({ marks }).cracks).toHaveLength(2);
  });

  it('darker and wider counts for more', () => {
    const sure = found({ marks: [crack(-300, 260, 5)] }).cracks[0]?.confidence ?? 0;
    const unsure = found({ marks: [{ ...crack(-60, 10, 2.4), tone: 24 }] }).cracks[0]?.confidence ?? 0;
    expect(unsure).toBeGreaterThan(0);
    expect(unsure).toBeLessThan(sure);
  });
});

describe('sound wood', () => {
  it.each([
    { name: 'plain', wish: {} },
    { name: 'with the rings of oak', wish: { wood: OAK } },
    { name: 'with pale sapwood beside a dark heart', wish: { sapwood: 90 } },
    { name: 'with a dark streak along it', wish: { marks: [{ half: () => 9, middle: () => -60, tone: 60 }] } },
    {
      name: 'with cards on it',
      wish: {
        cards: [
          [-300, 0, 56],
          [250, 60, 56],
        ] as const,
      },
    },
  ])('$name shows no defect', ({ wish }) => {
    const { cracks, blobs } = found(wish);
    expect(cracks).toEqual([]);
    expect(blobs).toEqual([]);
  });
});

describe('a patch', () => {
  it.each([
    { kind: 'knot', at: [-100, -50, 17, 15, 28], wish: {} },
    { kind: 'knot', at: [120, 60, 11, 13, 70], wish: { wood: OAK, degrees: 60 } },
    { kind: 'void', at: [0, 40, 45, 14, 8], wish: { degrees: 12 } },
    { kind: 'bark inclusion', at: [50, -70, 80, 11, 40], wish: {} },
  ] as const)('is a $kind, drawn along its edge', ({ kind, at: [u, v, a, b, tone], wish }) => {
    const { blobs, cracks, place } = found({ ...wish, marks: [ellipse(u, v, a, b, tone)] });
    expect(cracks).toEqual([]);
    expect(blobs.map((blob) => blob.kind)).toEqual([kind]);
    const polygon = blobs[0]?.polygon ?? [];
    const truth = ringOf(u, v, a, b, place);
    expect(inOne(polygon, truth)).toBeGreaterThan(0.85);
  });

  it('with a crack through it does not swallow the crack, nor the crack the patch', () => {
    const marks = [ellipse(0, 20, 20, 18, 26), crack(-300, 260, 4)];
    const { cracks, blobs } = found({ marks });
    expect(cracks).toHaveLength(1);
    expect(lengthOf(cracks[0]?.line ?? [])).toBeGreaterThan(500);
    expect(blobs.map((blob) => blob.kind)).toEqual(['knot']);
  });
});
