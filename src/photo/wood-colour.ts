import { linearLight } from '../raster';
import { type Cv, scope } from './cv';
import type { Placed } from './patches';
import type { Turned } from './turned';

/**
 * Colours of the wood's family: light and shade change how bright wood is, but hardly the ratios between its channels, and the colours that
 * wood has are spread all along the slab.
 */
export interface Colours extends Placed {
  readonly wood: Uint8Array;
  /** Linear light, 0..1, and its median over the wood. */
  readonly light: Float32Array;
  readonly usual: number;
  /** How far each pixel's colour is from any that the wood has, as a share of what is alien: 1 and more is no wood. */
  readonly strange: Float32Array;
  /** 1 where strangeness is on its way from the wood's to that of what is strangest nearby: narrow at a thing's edge, wide at a stain's. */
  readonly fading: Uint8Array;
}

/** Colours are looked at coarser, px of the turned picture (1 mm): a photo keeps colour at half its detail. */
export const COARSE = 2;
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
export const DARK = 0.45;
/** Shares of the strangest within so many pixels between which a colour fades. */
const FADING = [0.25, 0.75] as const;
const NEARBY = 9;
/** Less strange than this is within the wood's own family. */
const ODD = 0.5;

/** Log ratios of red and blue to green. */
interface Ratios {
  readonly width: number;
  readonly height: number;
  readonly wood: Uint8Array;
  readonly red: Float32Array;
  readonly blue: Float32Array;
}

/** Median linear light of the wood; of every so many pixels, which is plenty. */
function usualLight(wood: Uint8Array, light: Float32Array): number {
  const some: number[] = [];
  for (let i = 0; i < light.length; i += EVERY) if (wood[i]) some.push(light[i] as number);
  return some.sort((p, q) => p - q)[some.length >> 1] ?? 0;
}
const EVERY = 17;

/** The face at half its detail, its colours as ratios: noise is averaged out before they are taken. */
export function coloursOf(cv: Cv, face: Turned): Colours {
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
    const wood = shown.data.slice();
    const usual = usualLight(wood, light);
    const strange = strangeness({ width, height, wood, red, blue }, light, usual);
    const fading = fadingOf(cv, { width, height, light, usual, strange });
    return { width, height, wood, light, usual, strange, fading, toFace };
  });
}

const LOG = Float32Array.from({ length: 256 }, (_, byte) => Math.log(Math.max(linearLight(byte), NOISE)));

const cellOf = (red: number, blue: number): number => along(red) * CELLS + along(blue);
const along = (ratio: number): number => Math.min(CELLS - 1, Math.max(0, Math.floor((ratio - FROM) / CELL)));

function strangeness(ratios: Ratios, light: Float32Array, usual: number): Float32Array {
  const { wood, red, blue } = ratios;
  const far = distanceTo(familyOf(ratios));
  const strange = new Float32Array(red.length);
  for (let i = 0; i < strange.length; i++) {
    if (!wood[i]) continue;
    const off = far[cellOf(red[i] as number, blue[i] as number)] as number;
    strange[i] = off / ((light[i] as number) < DARK * usual ? ALIEN_DARK : ALIEN);
  }
  return strange;
}

function fadingOf(
  cv: Cv,
  { width, height, light, usual, strange }: Pick<Colours, 'width' | 'height' | 'light' | 'usual' | 'strange'>,
): Uint8Array {
  return scope(cv, (own) => {
    const most = own(new cv.Mat(height, width, cv.CV_32FC1));
    most.data32F.set(strange);
    cv.dilate(most, most, own(cv.getStructuringElement(cv.MORPH_RECT, new cv.Size(NEARBY, NEARBY))));
    const strangest = most.data32F;
    const fading = new Uint8Array(strange.length);
    for (let i = 0; i < fading.length; i++) {
      const [off, full] = [strange[i] as number, strangest[i] as number];
      // In the dark, ratios err too much to tell an edge by.
      if (full < ODD || (light[i] as number) < DARK * usual) continue;
      if (off >= FADING[0] * full && off < FADING[1] * full) fading[i] = 1;
    }
    return fading;
  });
}

/** 1 for each cell of colour that the wood has. */
function familyOf({ width, height, wood, red, blue }: Ratios): Uint8Array {
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
