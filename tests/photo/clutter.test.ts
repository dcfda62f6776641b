import { beforeAll, describe, expect, it } from 'vitest';
import { intersection, type Point, type Polygon, type Region, regionArea, ringArea } from '../../src/geometry';
import type { Cv } from '../../src/photo';
import { findDefects } from '../../src/photo/defects';
import { type FacePicture, rasterOf } from '../../src/raster';
import { openCv } from './opencv';

/** Coloured boards, 900 by 300 mm about (0, 0), with things laid on them. Colours are sRGB; light multiplies what they send back. */

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

type Colour = readonly [number, number, number];
const WALNUT: Colour = [112, 80, 60];
const CHERRY: Colour = [176, 120, 84];
const MAPLE: Colour = [222, 198, 160];
const YELLOW: Colour = [226, 200, 40];
const RED: Colour = [190, 60, 36];
const STEEL: Colour = [150, 152, 156];
const BLACK: Colour = [44, 44, 47];
const WHITE: Colour = [236, 236, 234];
const [LENGTH, WIDTH] = [900, 300];

interface Thing {
  readonly at: Point<'face'>;
  readonly size: readonly [number, number];
  readonly degrees: number;
  readonly colour: Colour;
  readonly round?: boolean;
  /** Width over which its edge fades, mm. */
  readonly soft?: number;
  /** 1 lets nothing of the wood through. */
  readonly cover?: number;
}

interface Wish {
  readonly wood: Colour;
  readonly sapwood?: Colour;
  readonly things?: readonly Thing[];
  readonly light?: (u: number) => Colour;
}

/** How far a place lies within a thing, mm. */
function depthIn({ at, size, degrees, round }: Thing, x: number, y: number): number {
  const a = (degrees * Math.PI) / 180;
  const [u, v] = [
    (x - at[0]) * Math.cos(a) + (y - at[1]) * Math.sin(a),
    (y - at[1]) * Math.cos(a) - (x - at[0]) * Math.sin(a),
  ];
  const [p, q] = [size[0] / 2, size[1] / 2];
  return round ? (1 - Math.hypot(u / p, v / q)) * Math.min(p, q) : Math.min(p - Math.abs(u), q - Math.abs(v));
}

function found({ wood, sapwood, things = [], light = () => [1, 1, 1] }: Wish) {
  const [width, height] = [LENGTH + 40, WIDTH + 40];
  const data = new Uint8ClampedArray(width * height * 3);
  const grit = (i: number) => {
    const h = Math.sin(i * 127.1) * 43758.5453;
    return h - Math.floor(h) - 0.5;
  };
  for (let i = 0; i < width * height; i++) {
    const [x, y] = [(i % width) + 0.5 - width / 2, Math.floor(i / width) + 0.5 - height / 2];
    const ring = 1 - 0.25 * Math.max(0, Math.sin((y + 15 * Math.sin(x / 200)) / 1.7)) ** 4;
    const tone = sapwood && Math.abs(y) > WIDTH / 2 - 40 ? sapwood : wood;
    const off = Math.abs(x) > LENGTH / 2 || Math.abs(y) > WIDTH / 2;
    const lit = light(x);
    for (let k = 0; k < 3; k++) {
      let value = off ? 60 : (tone[k] as number) * ring;
      for (const thing of things) {
        const { colour, soft = 1, cover = 1 } = thing;
        const share = cover * Math.min(1, Math.max(0, depthIn(thing, x, y) / soft + 0.5));
        value += share * ((colour[k] as number) * (cover < 1 ? ring : 1) - value);
      }
      data[3 * i + k] = value * (lit[k] as number) + 8 * grit(3 * i + k);
    }
  }
  const picture: FacePicture = {
    raster: rasterOf(width, height, 3, data),
    mmPerPx: 1,
    x0: -width / 2,
    y0: -height / 2,
  };
  const [u, v] = [LENGTH / 2, WIDTH / 2];
  const outer: Polygon<'face'> = [
    [-u, -v],
    [u, -v],
    [u, v],
    [-u, v],
  ];
  return findDefects(cv, picture, { outer, holes: [] }, new Uint8Array(width * height));
}

const ringOf = ({ at, size, degrees }: Thing): Polygon<'face'> => {
  const a = (degrees * Math.PI) / 180;
  return [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([p, q]) => {
    const [u, v] = [((p as number) * size[0]) / 2, ((q as number) * size[1]) / 2];
    return [at[0] + u * Math.cos(a) - v * Math.sin(a), at[1] + u * Math.sin(a) + v * Math.cos(a)];
  });
};

/** Share of one ring that the others cover. */
function covered(ring: Polygon<'face'>, by: readonly Polygon<'face'>[]): number {
  const region = (outer: Polygon<'face'>): Region<'face'> => ({ outer, holes: [] });
  const both = intersection(
    [region(ring)],
    by.map((other) => region(other)),
  );
  return both.reduce((sum, part) => sum + regionArea(part), 0) / Math.abs(ringArea(ring));
}

const TAPE: Thing = { at: [40, -30], size: [260, 19], degrees: 24, colour: YELLOW };
const CASE: Thing = { at: [-95, -90], size: [64, 60], degrees: 24, colour: BLACK };
const BAR: Thing = { at: [260, 60], size: [320, 22], degrees: -40, colour: STEEL };
const JAW: Thing = { at: [180, 100], size: [46, 84], degrees: -40, colour: RED };
const CARD: Thing = { at: [-300, 40], size: [110, 110], degrees: 12, colour: WHITE };
const PENCIL: Thing = { at: [-200, -100], size: [175, 8], degrees: 3, colour: YELLOW };
const PHONE: Thing = { at: [-60, 80], size: [140, 70], degrees: 70, colour: BLACK };

describe.each([
  { name: 'walnut', wood: WALNUT, sapwood: [198, 170, 132] as const },
  { name: 'cherry', wood: CHERRY },
  { name: 'maple', wood: MAPLE },
])('on $name', ({ wood, ...rest }) => {
  const board: Wish = { wood, ...('sapwood' in rest ? { sapwood: rest.sapwood } : {}) };

  it.each([
    { what: 'a tape with its case', laid: [TAPE, CASE] },
    { what: 'a clamp', laid: [BAR, JAW] },
    { what: 'a card of unprinted paper', laid: [CARD] },
    { what: 'a pencil', laid: [PENCIL] },
    { what: 'a black phone', laid: [PHONE] },
  ])('$what hides wood and is no defect', ({ laid }) => {
    const { defects, things } = found({ ...board, things: laid });
    expect(defects).toEqual([]);
    for (const thing of laid) expect(covered(ringOf(thing), things)).toBeGreaterThan(0.95);
    const area = things.reduce((sum, ring) => sum + Math.abs(ringArea(ring)), 0);
    const rims = laid.reduce((sum, { size: [a, b] }) => sum + (a + 14) * (b + 14), 0);
    expect(area).toBeLessThan(rims);
  });

  it('hides nothing where nothing lies, in light that is warm at one end and cold at the other', () => {
    const light = (u: number): Colour => {
      const t = 0.5 + u / LENGTH;
      return [1 - 0.25 * t, 0.85, 0.7 + 0.3 * t];
    };
    expect(found({ ...board, light })).toMatchObject({ defects: [], things: [] });
  });

  it('knots, voids and inclusions are not taken for things', () => {
    const dark = (share: number): Colour => [wood[0] * share, wood[1] * share * 0.95, wood[2] * share * 0.92];
    const things: Thing[] = [
      { at: [-200, -40], size: [38, 34], degrees: 0, colour: dark(0.4), round: true, soft: 3 },
      { at: [40, 60], size: [110, 28], degrees: 2, colour: [18, 15, 12], round: true, soft: 4 },
    ];
    const seen = found({ ...board, things });
    expect(seen.things).toEqual([]);
    expect(seen.defects.map(({ kind }) => kind).sort()).toEqual(['knot', 'void']);
  });
});

describe('chalk', () => {
  it('is no defect, and too thin to hide anything', () => {
    const stroke = (u: number, degrees: number): Thing => ({ at: [u, 10], size: [46, 4], degrees, colour: WHITE });
    const things = [stroke(-120, 80), stroke(-80, 10), stroke(-40, -70), stroke(0, 45)];
    expect(found({ wood: WALNUT, things })).toMatchObject({ defects: [], things: [] });
  });
});

describe('stain', () => {
  it.each([
    { what: 'blue stain in maple', wood: MAPLE, colour: [150, 156, 160] as const, cover: 0.75 },
    { what: 'iron stain in oak', wood: [190, 158, 118] as const, colour: [80, 82, 88] as const, cover: 0.6 },
    { what: 'a green mineral streak in cherry', wood: CHERRY, colour: [120, 130, 84] as const, cover: 0.7 },
  ])('$what is proposed, with modest confidence', ({ wood, colour, cover }) => {
    const patch: Thing = { at: [60, -20], size: [220, 70], degrees: 2, colour, cover, soft: 16, round: true };
    const { defects, things } = found({ wood, things: [patch] });
    expect(things).toEqual([]);
    expect(defects.map(({ kind }) => kind)).toEqual(['stain']);
    const [stain] = defects;
    expect(stain?.confidence).toBeGreaterThan(0.1);
    expect(stain?.confidence).toBeLessThanOrEqual(0.6);
    const polygon = stain && 'polygon' in stain ? stain.polygon : [];
    // An ellipse of which the soft rim may be left out.
    const area = (Math.PI / 4) * 220 * 70;
    expect(Math.abs(ringArea(polygon))).toBeGreaterThan(0.4 * area);
    expect(Math.abs(ringArea(polygon))).toBeLessThan(1.1 * area);
    expect(covered(polygon, [ringOf(patch)])).toBeGreaterThan(0.98);
  });

  it('is not seen in shade, nor in sapwood', () => {
    const light = (u: number): Colour => {
      const shade = 1 - 0.45 / (1 + Math.exp((Math.abs(u - 100) - 120) / 8));
      return [shade, shade, shade];
    };
    for (const board of [{ wood: MAPLE }, { wood: WALNUT, sapwood: [198, 170, 132] as const }])
      expect(found({ ...board, light }).defects).toEqual([]);
  });
});
