import { offset, type Polygon, simplify } from '../geometry';
import { linearLight } from '../raster';
import { type Cv, scope } from './cv';
import { type Placed, piecesOf, ringOf, thick } from './patches';
import type { Turned } from './turned';

/**
 * Things that lie on the wood: a tape, a clamp, a card, a pencil, chalk. Their colour is not of the wood's family: light and shade change how
 * bright wood is, but hardly the ratios between its channels, and the colours that wood has are spread all along the slab. Their edges are
 * sharp, where a stain's are soft.
 */
export interface Clutter {
  /** Things large enough to hide something. */
  readonly things: readonly Polygon<'face'>[];
  /** 1 for each pixel of the turned picture that shows such a thing, its rim, or chalk. */
  readonly hides: Uint8Array;
}

/** Colours are looked at coarser, px of the turned picture (1 mm): a photo keeps colour at half its detail. */
const COARSE = 2;
/** Log ratios of red and blue to green, in cells this wide, from FROM on. */
const CELL = 0.1;
const CELLS = 60;
const FROM = -3.5;
/** Linear light below which a channel is noise. */
const NOISE = 0.003;

/** Along the slab, bands this long vote on what colours its wood has, mm; a colour is its when so many bands have it. */
const BAND = 60;
const VOTES = 0.35;
/** Share of a band that a colour must have, and how much more for each unit it differs from the commonest: a tape may lie along it all. */
const SHARE = 0.02;
const STRANGER = 0.1;
/** Further than this from any colour of the wood is none; in the dark, where ratios err, further still. */
const ALIEN = 0.3;
const ALIEN_DARK = 0.75;
/** Darker than this share of the wood's usual light is dark. */
const DARK = 0.45;
/** From this share of what is alien a pixel may belong to a thing. */
const FAINT = 0.4;

/** A thing is thicker than THIN, mm, and larger than LEAST, mm2; what is thinner is chalk. */
const THIN = 5;
const LEAST = 300;
/** Gaps in it closed, such as a scale's ticks, mm. */
const TICKS = 6;
/** Share of its smallest rectangle from which a dark patch has straight sides: knots and voids fill three quarters. */
const BOXY = 0.86;
/** Lighter than wood by so much, and not of its colour, is chalk. */
const CHALK = 1.3;
/** Width over which the edge of a thing fades into wood, mm: a stain's is wider. */
const SOFT = 4;
/** Around a thing its shadow and the blur of its edge hide wood too, mm. */
const RIM = 4;
const SIMPLER = 0.5;

/** Colours of a face, coarser: log ratios of the channels, and light. */
interface Colours extends Placed {
  readonly wood: Uint8Array;
  readonly red: Float32Array;
  readonly blue: Float32Array;
  readonly light: Float32Array;
}

export function findClutter(cv: Cv, face: Turned): Clutter {
  const colours = coloursOf(cv, face);
  const { width, light } = colours;
  const usual = usualLight(colours);
  const strange = strangeness(colours, usual);
  const [faint, either, chalk] = [
    new Uint8Array(strange.length),
    new Uint8Array(strange.length),
    new Uint8Array(strange.length),
  ];
  for (let i = 0; i < strange.length; i++) {
    const off = strange[i] as number;
    if (off < FAINT) continue;
    faint[i] = 1;
    if (off >= 1 || (light[i] as number) < DARK * usual) either[i] = 1;
    if ((light[i] as number) > CHALK * usual) chalk[i] = 1;
  }
  // Black plastic is as dark as a void; it is told by what it belongs to, or by its straight sides.
  const solid = thick(cv, colours, either, { size: THIN / COARSE + 1, close: TICKS / COARSE + 1 });
  const things = piecesOf(cv, colours, solid, LEAST / COARSE ** 2).filter((inside) => {
    const plain = inside.filter((i) => (strange[i] as number) >= 1).length;
    const told = plain >= LEAST / COARSE ** 2 || boxiness(cv, inside, width) >= BOXY;
    return told && fadeOf(inside, faint, width) <= SOFT;
  });
  return {
    things: things.flatMap((inside) => {
      const ring = ringOf(cv, colours, inside);
      return ring ? offset([{ outer: ring, holes: [] }], RIM).map(({ outer }) => simplify(outer, SIMPLER)) : [];
    }),
    hides: hidesOf(cv, face, colours, things, chalk),
  };
}

/** Things and chalk on the face in full detail, with what their rims and shadows hide. */
function hidesOf(
  cv: Cv,
  { width, height }: Turned,
  coarse: Colours,
  things: readonly (readonly number[])[],
  chalk: Uint8Array,
): Uint8Array {
  return scope(cv, (own) => {
    const mask = own(cv.Mat.zeros(coarse.height, coarse.width, cv.CV_8UC1));
    const { data } = mask;
    for (const inside of things) for (const i of inside) data[i] = 1;
    const across = 2 * Math.round(RIM / COARSE) + 1;
    cv.dilate(mask, mask, own(cv.getStructuringElement(cv.MORPH_RECT, new cv.Size(across, across))));
    for (let i = 0; i < chalk.length; i++) if (chalk[i]) data[i] = 1;
    cv.resize(mask, mask, new cv.Size(width, height), 0, 0, cv.INTER_NEAREST);
    return mask.data.slice();
  });
}

/** How far the rim of a patch is looked for, px. */
const REACH = 8;

/** Width over which the edge of a patch fades, mm: how much of the faint lies about it, over its edge. */
function fadeOf(inside: readonly number[], faint: Uint8Array, width: number): number {
  const own = new Set(inside);
  const ring = new Set<number>();
  let edge = 0;
  for (const i of inside) {
    for (const by of [-1, 1, -width, width]) {
      if (own.has(i + by)) continue;
      edge++;
      for (let k = 1; k <= REACH; k++) if (faint[i + k * by] && !own.has(i + k * by)) ring.add(i + k * by);
    }
  }
  return (COARSE * ring.size) / Math.max(1, edge);
}

/** Share of the smallest rectangle around a patch, however turned, that it fills. */
function boxiness(cv: Cv, inside: readonly number[], width: number): number {
  return scope(cv, (own) => {
    const points = own(
      cv.matFromArray(
        inside.length,
        1,
        cv.CV_32SC2,
        inside.flatMap((i) => [i % width, Math.floor(i / width)]),
      ),
    );
    const { size } = cv.minAreaRect(points);
    return inside.length / ((size.width + 1) * (size.height + 1));
  });
}

/** Median linear light of the wood. */
function usualLight({ wood, light }: Colours): number {
  const lights = light.filter((_, i) => wood[i]).sort();
  return lights[lights.length >> 1] ?? 0;
}

/** The face at half its detail, its colours as ratios: noise is averaged out before they are taken. */
function coloursOf(cv: Cv, face: Turned): Colours {
  const [width, height] = [Math.ceil(face.width / COARSE), Math.ceil(face.height / COARSE)];
  return scope(cv, (own) => {
    const size = new cv.Size(width, height);
    const rgb = own(new cv.Mat(face.height, face.width, cv.CV_8UC3));
    rgb.data.set(face.colour);
    cv.resize(rgb, rgb, size, 0, 0, cv.INTER_AREA);
    cv.blur(rgb, rgb, new cv.Size(3, 3));
    const shown = own(new cv.Mat(face.height, face.width, cv.CV_8UC1));
    shown.data.set(face.wood);
    cv.resize(shown, shown, size, 0, 0, cv.INTER_NEAREST);
    const n = width * height;
    const [red, blue, light] = [new Float32Array(n), new Float32Array(n), new Float32Array(n)];
    const { data } = rgb;
    for (let i = 0; i < n; i++) {
      const [r, g, b] = [data[3 * i], data[3 * i + 1], data[3 * i + 2]] as [number, number, number];
      red[i] = (LOG[r] as number) - (LOG[g] as number);
      blue[i] = (LOG[b] as number) - (LOG[g] as number);
      // Luminance of sRGB (IEC 61966-2-1).
      light[i] = 0.2126 * linearLight(r) + 0.7152 * linearLight(g) + 0.0722 * linearLight(b);
    }
    const toFace = (x: number, y: number) => face.toFace(x * COARSE, y * COARSE);
    return { width, height, wood: shown.data.slice(), red, blue, light, toFace };
  });
}

const LOG = Float32Array.from({ length: 256 }, (_, byte) => Math.log(Math.max(linearLight(byte), NOISE)));

const cellOf = (red: number, blue: number): number => along(red) * CELLS + along(blue);
const along = (ratio: number): number => Math.min(CELLS - 1, Math.max(0, Math.floor((ratio - FROM) / CELL)));

/** How far each pixel's colour is from any that the wood has, as a share of what is alien: 1 and more is no wood. */
function strangeness(colours: Colours, usual: number): Float32Array {
  const { wood, red, blue, light } = colours;
  const far = distanceTo(familyOf(colours));
  const dark = DARK * usual;
  return red.map((r, i) => {
    if (!wood[i]) return 0;
    const off = far[cellOf(r, blue[i] as number)] as number;
    return off / ((light[i] as number) < dark ? ALIEN_DARK : ALIEN);
  });
}

/** 1 for each cell of colour that the wood has. */
function familyOf({ width, height, wood, red, blue }: Colours): Uint8Array {
  const bands = Math.max(1, Math.round((width * COARSE) / BAND));
  const counts = Array.from({ length: bands }, () => new Float32Array(CELLS * CELLS));
  const totals = new Float32Array(bands);
  for (let i = 0; i < width * height; i++) {
    if (!wood[i]) continue;
    const band = Math.floor(((i % width) * bands) / width);
    const cell = cellOf(red[i] as number, blue[i] as number);
    const count = counts[band] as Float32Array;
    count[cell] = (count[cell] as number) + 1;
    totals[band] = (totals[band] as number) + 1;
  }
  const sums = new Float32Array(CELLS * CELLS);
  for (const count of counts)
    for (let k = 0; k < sums.length; k++) sums[k] = (sums[k] as number) + (count[k] as number);
  const commonest = sums.reduce((best, v, k) => (v > (sums[best] as number) ? k : best), 0);
  const shown = totals.filter((total) => total > 0).length;
  const family = new Uint8Array(CELLS * CELLS);
  for (let k = 0; k < family.length; k++) {
    if (!sums[k]) continue;
    const needed = SHARE + STRANGER * apart(k, commonest);
    const votes = counts.filter((count, b) => near(count, k) > needed * (totals[b] as number)).length;
    family[k] = votes >= VOTES * shown ? 1 : 0;
  }
  family[commonest] = 1;
  return family;
}

/** Count of a cell and of those around it: a colour does not keep to cells. */
function near(count: Float32Array, cell: number): number {
  let sum = 0;
  for (const by of [-CELLS, 0, CELLS]) for (const k of [-1, 0, 1]) sum += count[cell + by + k] ?? 0;
  return sum;
}

const apart = (k: number, l: number): number =>
  CELL * Math.hypot(Math.floor(k / CELLS) - Math.floor(l / CELLS), (k % CELLS) - (l % CELLS));

/** From each cell to the nearest of the family. */
function distanceTo(family: Uint8Array): Float32Array {
  const own = [...family.keys()].filter((k) => family[k]);
  return Float32Array.from(family, (_, k) => own.reduce((least, l) => Math.min(least, apart(k, l)), 99));
}
