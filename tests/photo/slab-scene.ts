import type { Point, Polygon } from '../../src/geometry';
import { type FacePicture, rasterOf } from '../../src/raster';

/**
 * A slab drawn from formulas, seen square from above: heart with rings, sapwood, a rim of bark, cards on it, bearers under it, a floor that varies.
 * Its edges are known everywhere. The slab lies along s, across t, its middle at (0, 0), turned by `degrees` in the picture. mm
 */
export interface SceneWish {
  readonly wood: keyof typeof WOODS;
  readonly floor: keyof typeof FLOORS;
  readonly degrees?: number;
  /** What lies over an edge: a card, a shoe. */
  readonly over?: 'card' | 'shoe';
  /** The picture ends so far before the slab's right end. */
  readonly cutOff?: number;
  readonly side?: 'live' | 'sawn';
  /** No cards on it. */
  readonly bare?: boolean;
  /** A second slab beside it, narrower, sawn, of the same wood. */
  readonly second?: boolean;
  /** How the light falls: a hard shadow over the right half, or dimming to a third from left to right. */
  readonly light?: 'even' | 'shadow' | 'falling';
}

export interface Scene {
  readonly picture: FacePicture;
  /** The wood's edge, bark left out. */
  readonly outline: Polygon<'face'>;
  /** Where heart meets sapwood, along both sides. */
  readonly heart: readonly (readonly Point<'face'>[])[];
  readonly cards: readonly Polygon<'face'>[];
  readonly crack: readonly Point<'face'>[];
  readonly knot: { readonly at: Point<'face'>; readonly radius: number };
}

type Rgb = readonly [number, number, number];

const WOODS = {
  walnut: { heart: [104, 74, 58], sap: [205, 180, 142], rings: 14 },
  cherry: { heart: [186, 118, 84], sap: [226, 206, 160], rings: 12 },
  ash: { heart: [206, 186, 150], sap: [210, 190, 154], rings: 10 },
  oak: { heart: [172, 140, 98], sap: [204, 178, 138], rings: 16 },
  reddish: { heart: [170, 100, 70], sap: [184, 116, 84], rings: 12 },
} as const;
const FLOORS = {
  plywood: [208, 176, 120],
  concrete: [150, 148, 142],
  grass: [78, 112, 52],
  tiles: [206, 200, 190],
  rubber: [46, 46, 49],
  sheet: [230, 228, 220],
  deck: [98, 70, 52],
} as const;
const BARK: Rgb = [62, 54, 50];
const KNOT_BLACK: Rgb = [30, 22, 18];
const BEARER: Rgb = [190, 166, 120];
const SHOE: Rgb = [84, 56, 44];

const LENGTH = 1400;
const SAP = 32;
const CARD = 112;
/** Frame of the picture, mm. */
const [WIDE, HIGH] = [1840, 940];

const low = (s: number): number =>
  -185 + 14 * Math.sin(s / 170) + 5 * Math.sin(s / 41 + 1) - 55 * Math.exp((-700 - s) / 70);
const high = (s: number): number => 178 + 18 * Math.sin(s / 230 + 2) + 4 * Math.sin(s / 33);
const BARK_RIM = (s: number): number => 9 + 5 * Math.sin(s / 60);
const crackAt = (s: number): number => 30 + 6 * Math.sin(s / 90);
const CRACK = [60, 430] as const;
const KNOT = { s: -260, t: -70, radius: 16 };

/** A value from -1 to 1 for each cell, the same every time. */
const grit = (x: number, y: number): number => {
  const h = Math.sin(Math.floor(x) * 127.1 + Math.floor(y) * 311.7) * 43758.5453;
  return 2 * (h - Math.floor(h)) - 1;
};

/** A floor's colour: tiles have dark joints every 300 mm, a deck every 140, and grass is rough. */
function floorAt(floor: keyof typeof FLOORS, u: number, t: number): Rgb {
  const from = (v: number, every: number) => ((v % every) + every) % every;
  if (floor === 'tiles' && Math.min(from(u, 300), from(t, 300)) < 6) return [120, 118, 114];
  if (floor === 'deck' && from(t, 140) < 6) return [30, 24, 20];
  if (floor === 'grass') return shade(FLOORS.grass, 22 * grit(u / 4, t / 6));
  return FLOORS[floor];
}

const LIT = {
  even: () => 1,
  shadow: (u: number, t: number) => (u + 0.5 * t > 120 ? 0.5 : 1),
  falling: (u: number) => 0.7 - 0.35 * (u / 920),
} as const;

const shade = ([r, g, b]: Rgb, by: number): Rgb => [r + by, g + by, b + by];

export function drawSlab({
  wood,
  floor,
  degrees = 0,
  over,
  cutOff,
  side = 'live',
  bare = false,
  second,
  light = 'even',
}: SceneWish): Scene {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const place = (u: number, t: number): Point<'face'> => [u * c - t * s, u * s + t * c];
  const colours = WOODS[wood];
  const [bottom, top] = side === 'live' ? [low, high] : [() => -180, () => 180];
  const all: [number, number][] = [
    [-520, -60],
    [-500, 70],
    [480, -80],
    [510, over === 'card' ? 178 : 60],
  ];
  const spots = bare ? [] : all;
  const isCard = (u: number, t: number) =>
    spots.some(([x, y]) => Math.abs(u - x) < CARD / 2 && Math.abs(t - y) < CARD / 2);

  const colourAt = (u: number, t: number): Rgb => {
    const fine = 6 * grit(u * 0.7, t * 0.7);
    if (isCard(u, t)) {
      const black = spots.some(([x, y]) => Math.abs(u - x) < 40 && Math.abs(t - y) < 40);
      return shade(black ? [24, 24, 26] : [236, 236, 234], fine);
    }
    if (over === 'shoe' && ((u - 60) / 48) ** 2 + ((t - 255) / 125) ** 2 < 1) return shade(SHOE, fine);
    const along = Math.abs(u) < LENGTH / 2;
    if (along && t > bottom(u) && t < top(u)) {
      if (Math.abs(t - crackAt(u)) < 2.2 && u > CRACK[0] && u < CRACK[1]) return shade([14, 11, 10], fine / 2);
      if (Math.hypot((u - KNOT.s) / 1.2, t - KNOT.t) < KNOT.radius) return shade(KNOT_BLACK, fine);
      const sapwood = side === 'live' && (t < bottom(u) + SAP || t > top(u) - SAP);
      const ring = colours.rings * Math.sin((t + 12 * Math.sin(u / 260)) / 2.6);
      return shade(sapwood ? colours.sap : colours.heart, (sapwood ? 0.4 : 1) * ring + fine);
    }
    if (side === 'live' && along && t > bottom(u) - BARK_RIM(u) && t < top(u) + BARK_RIM(u)) {
      return shade(BARK, 9 * grit(u / 5, t / 3) + fine);
    }
    if ([-420, 380].some((x) => Math.abs(u - x) < 42) && Math.abs(t) < 300)
      return shade(BEARER, 5 * Math.sin(u / 4) + fine);
    if (second && Math.abs(u) < 600 && t > 275 && t < 460)
      return shade(colours.heart, colours.rings * Math.sin(t / 2.4) + fine);
    return shade(floorAt(floor, u, t), 10 * Math.sin(u / 310 + t / 190) + 8 * grit(u / 9, t / 2) + fine);
  };

  const data = new Uint8ClampedArray(WIDE * HIGH * 4);
  const last = cutOff === undefined ? WIDE : WIDE / 2 + LENGTH / 2 - cutOff;
  for (let row = 0; row < HIGH; row++) {
    for (let column = 0; column < last; column++) {
      const sum = [0, 0, 0];
      for (const [dx, dy] of [
        [0.25, 0.25],
        [0.75, 0.25],
        [0.25, 0.75],
        [0.75, 0.75],
      ] as const) {
        const [x, y] = [column + dx - WIDE / 2, row + dy - HIGH / 2];
        const [u, t] = [x * c + y * s, y * c - x * s];
        colourAt(u, t).forEach((v, k) => {
          sum[k] = (sum[k] as number) + (Math.max(0, v) * LIT[light](u, t)) / 4;
        });
      }
      data.set([...sum, 255], (row * WIDE + column) * 4);
    }
  }
  const us = Array.from({ length: LENGTH / 2 + 1 }, (_, i) => -LENGTH / 2 + 2 * i);
  return {
    picture: { raster: rasterOf(WIDE, HIGH, 4, data), mmPerPx: 1, x0: -WIDE / 2, y0: -HIGH / 2 },
    outline: [...us.map((u) => place(u, bottom(u))), ...us.toReversed().map((u) => place(u, top(u)))],
    heart: [us.map((u) => place(u, bottom(u) + SAP)), us.map((u) => place(u, top(u) - SAP))],
    cards: spots.map(([x, y]) =>
      [
        [-1, -1],
        [1, -1],
        [1, 1],
        [-1, 1],
      ].map(([i, j]) => place(x + ((i as number) * CARD) / 2, y + ((j as number) * CARD) / 2)),
    ),
    crack: us.filter((u) => u > CRACK[0] && u < CRACK[1]).map((u) => place(u, crackAt(u))),
    knot: { at: place(KNOT.s, KNOT.t), radius: KNOT.radius },
  };
}
