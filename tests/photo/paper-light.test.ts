import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Polygon } from '../../src/geometry';
import { paperLight, relit } from '../../src/photo/paper-light';
import { type FacePicture, labPlanes, linearLight, rasterOf, srgbByte } from '../../src/raster';

/** A board of three tones, 1,000 by 240 mm at 2 mm a pixel, with four printed cards on it, in light that is made up. */

const SIZE = { width: 500, height: 120 };
const MM = 2;
const WOODS = [
  [92, 66, 48],
  [150, 108, 74],
  [196, 160, 118],
] as const;
const CARDS: readonly (readonly [number, number])[] = [
  [80, 60],
  [900, 50],
  [120, 190],
  [860, 180],
];
const HALF = 40;
const cards = CARDS.map(
  ([x, y]): Polygon<'face'> => [
    [x - HALF, y - HALF],
    [x + HALF, y - HALF],
    [x + HALF, y + HALF],
    [x - HALF, y + HALF],
  ],
);

interface Light {
  readonly gains: readonly [number, number, number];
  /** Share of the light lost from one end to the other. */
  readonly falls?: number;
}

/** @param paper linear light that paper sends back in full light */
function board({ gains, falls = 0 }: Light, channels: 3 | 4 = 3, paper = 0.8): FacePicture {
  const { width, height } = SIZE;
  const data = new Uint8ClampedArray(width * height * channels).fill(255);
  for (let i = 0; i < width * height; i++) {
    const [x, y] = [((i % width) + 0.5) * MM, (Math.floor(i / width) + 0.5) * MM];
    const card = CARDS.find(([u, v]) => Math.max(Math.abs(x - u), Math.abs(y - v)) < HALF);
    // A marker: paper round a black square with white in it.
    const print = card && Math.max(Math.abs(x - card[0]), Math.abs(y - card[1])) < 30 && (x + y) % 20 < 10;
    const wood = WOODS[Math.floor(i / width / 40)] as readonly number[];
    for (let k = 0; k < 3; k++) {
      const back = card ? (print ? 0.03 : paper) : linearLight(wood[k] as number);
      data[channels * i + k] = srgbByte(back * (gains[k] as number) * Math.exp((Math.log(1 - falls) * x) / 1000));
    }
  }
  return { raster: rasterOf(width, height, channels, data), mmPerPx: MM, x0: 0, y0: 0 };
}

const seen = (picture: FacePicture): FacePicture => {
  const light = paperLight(picture, cards);
  return light ? relit(picture, light) : picture;
};

/** Differences of colour between two pictures of the board, CIELAB (CIE76), the cards left out: median and worst. */
function apart(one: FacePicture, two: FacePicture): { median: number; worst: number } {
  const [p, q] = [labPlanes(one.raster), labPlanes(two.raster)];
  const off: number[] = [];
  p.L.data.forEach((l, i) => {
    const [x, y] = [((i % SIZE.width) + 0.5) * MM, (Math.floor(i / SIZE.width) + 0.5) * MM];
    if (CARDS.some(([u, v]) => Math.max(Math.abs(x - u), Math.abs(y - v)) < HALF + MM)) return;
    const d = (a: Float32Array, b: Float32Array) => (a[i] as number) - (b[i] as number);
    off.push(Math.hypot(l - (q.L.data[i] as number), d(p.a.data, q.a.data), d(p.b.data, q.b.data)));
  });
  off.sort((a, b) => a - b);
  return { median: off[off.length >> 1] as number, worst: off.at(-1) as number };
}

const plain = seen(board({ gains: [1, 1, 1] }));

describe('the same board in other light', () => {
  it('looks the same once its paper has told of the light', () => {
    // Of the order of what is just seen, 2.3 (Mahy, Van Eycken and Oosterlinck 1994); bytes alone give one in the dark.
    const gain = fc.double({ min: 0.35, max: 1.1, noNaN: true });
    fc.assert(
      fc.property(gain, gain, gain, fc.double({ min: 0, max: 0.4, noNaN: true }), (r, g, b, falls) => {
        const off = apart(seen(board({ gains: [r, g, b], falls })), plain);
        expect(off.median).toBeLessThan(1.5);
        expect(off.worst).toBeLessThan(4);
      }),
      { numRuns: 20 },
    );
  });

  it('differs plainly before: the test could fail', () => {
    expect(apart(board({ gains: [0.7, 0.7, 0.7] }), board({ gains: [1, 1, 1] })).median).toBeGreaterThan(5);
  });

  it('keeps what the photo did not see, and its size', () => {
    const given = board({ gains: [0.6, 0.7, 0.8] }, 4);
    const lit = seen(given);
    expect(lit.raster.channels).toBe(4);
    const alpha = ({ raster }: FacePicture) => raster.data.filter((_, i) => i % 4 === 3);
    expect(alpha(lit)).toEqual(alpha(given));
    expect({ ...lit, raster: null }).toEqual({ ...given, raster: null });
  });
});

describe('nothing is said of the light', () => {
  it.each([
    { why: 'where the paper is overexposed', picture: board({ gains: [1.4, 1.4, 1.4] }) },
    { why: 'where one channel of it is', picture: board({ gains: [1.3, 0.8, 0.7] }) },
    { why: 'where it lies in the dark', picture: board({ gains: [0.02, 0.02, 0.02] }) },
    { why: 'where it is no white paper', picture: board({ gains: [1.1, 0.5, 0.2] }) },
  ])('$why', ({ picture }) => expect(paperLight(picture, cards)).toBeNull());

  it('where no card lies in the picture', () => {
    const picture = board({ gains: [1, 1, 1] });
    expect(paperLight(picture, [])).toBeNull();
    expect(paperLight(picture, [(cards[0] as Polygon<'face'>).map(([x, y]) => [x + 5000, y])])).toBeNull();
  });

  it('by a card that is overexposed, while others tell', () => {
    const picture = board({ gains: [1.35, 1.35, 1.35], falls: 0.5 });
    const light = paperLight(picture, cards);
    expect(light).not.toBeNull();
    expect(light?.at[0]).toBeGreaterThan(500);
  });
});

describe('one card alone', () => {
  it('tells the strength of the light, and claims no slope', () => {
    const light = paperLight(board({ gains: [0.5, 0.5, 0.5] }), cards.slice(0, 1));
    for (const [base, perX, perY] of light?.channels ?? []) {
      expect(Math.exp(base)).toBeCloseTo(0.75 / 0.4, 1);
      expect([perX, perY].map(Math.abs)).toEqual([0, 0]);
    }
  });
});
