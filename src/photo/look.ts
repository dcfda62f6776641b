import { type Polygon, ringArea } from '../geometry';
import { type FacePicture, maskOf, type Raster } from '../raster';
import { InputProblem } from '../units';
import { blurOf } from './blur';
import { type Cv, scope, toGray, toRaster } from './cv';
import { CARD_MARGIN } from './dictionary';
import { seedMask } from './hints';
import { detectMarkers, type Marker, seeMarkers } from './markers';
import { gridOf, longerAs, shrink } from './pictures';
import { boxOf, type Mask, toldApart } from './segment';
import { tiltOf } from './tilt';
import type { Laid, Side } from './trace-types';

/**
 * A cheap look at a photo, or at a frame of a camera's preview, before anything is measured: is what will be needed in it, and seen well
 * enough? Cards and wood are found in the ways in which reading finds them, only coarser.
 */
export interface Look {
  /** Numbers of the cards that are seen. */
  readonly cards: readonly number[];
  /** Of these, those too small or too blurred to measure by; none is said of a preview, which shows less than the photo will. */
  readonly poor: readonly number[];
  /** How far from square-on to the cards the camera is held, degrees (`tiltOf`); null with fewer than three cards. */
  readonly tilt: number | null;
  /** Sides of the picture at which the wood runs out of it. */
  readonly cutOff: readonly Side[];
  /** How much of the picture the wood takes up, the larger share of both ways; null where no wood is made out. */
  readonly fills: number | null;
  /** Where the brightest twentieth of the picture begins, by red and green, 0..255; and the share of the wood that is burnt out in one of them. */
  readonly light: number;
  readonly burnt: number;
  /** How blurred it is, 0..1 (`blurOf`): the wood in a photo, all of a preview. */
  readonly blur: number;
}

export interface LookOptions {
  /** Side of the printed cards, mm. */
  readonly side: number;
  /** Whether cards lie beside what is photographed, not on it: then the wood is not looked for. */
  readonly beside?: boolean;
  readonly preview?: boolean;
}

/** Longer side at which the wood is looked for: its rough place is enough. */
const WOOD_PX = 240;
/** Longer side at which blur is told: the noise of single pixels is averaged out by then. */
const BLUR_PX = 2000;
/** Without a card the picture's longer side is taken to show a slab and what is round it, mm. */
const SLAB = 3000;
/** Wood along less of a side than this is a corner of something, not the slab running out. */
const RUNS_OUT = 0.04;
/** A channel from here on is burnt out. */
const BURNT = 253;
const BRIGHT = 0.95;

/** What a photo or a frame shows. */
export function lookAt(cv: Cv, photo: Raster, { side, beside = false, preview = false }: LookOptions): Look {
  const gray = grayOf(cv, photo);
  const { found, poor } = preview ? { found: detectMarkers(cv, gray), poor: [] } : cardsOf(cv, photo);
  const square = asIfSquare(photo, found, side);
  const laid = found.map((marker): Laid => ({ polygon: cardOf(marker, square.mmPerPx), onWood: !beside }));
  const small = shrink(cv, square, longerAs(square, WOOD_PX));
  const wood = beside ? null : woodIn(cv, small, laid);
  const bare = wood && without(wood, laid);
  const { width, height } = small.raster;
  const isWood = (x: number, y: number) =>
    preview ||
    !bare ||
    bare[Math.floor((y * height) / gray.height) * width + Math.floor((x * width) / gray.width)] === 1;
  return {
    cards: found.map(({ id }) => id).sort((a, b) => a - b),
    poor,
    tilt: tiltOf(
      photo,
      found.map(({ corners }) => corners),
    ),
    cutOff: wood ? cutOffSides(wood) : [],
    fills: wood && extentOf(wood),
    light: brightest(small.raster),
    burnt: burntShare(small.raster, bare),
    blur: blurOf(gray, isWood),
  };
}

function cardsOf(cv: Cv, photo: Raster): { found: readonly Marker[]; poor: readonly number[] } {
  try {
    return seeMarkers(cv, photo);
  } catch (problem) {
    // The same card twice: reading the photo says so.
    if (problem instanceof InputProblem) return { found: [], poor: [] };
    throw problem;
  }
}

/** The picture in grey, as large as blur is told at at most. */
function grayOf(cv: Cv, photo: Raster): Raster {
  return scope(cv, (own) => {
    const full = own(toGray(cv, photo));
    const share = BLUR_PX / Math.max(photo.width, photo.height);
    if (share >= 1) return toRaster(full);
    const out = own(new cv.Mat());
    const size = new cv.Size(Math.round(photo.width * share), Math.round(photo.height * share));
    cv.resize(full, out, size, 0, 0, cv.INTER_AREA);
    return toRaster(out);
  });
}

/** The photo as if it were seen square from above: the cards tell how many mm its pixels are. */
function asIfSquare(photo: Raster, found: readonly Marker[], side: number): FacePicture {
  const sides = found.map(({ corners }) => Math.sqrt(ringArea(corners))).sort((a, b) => a - b);
  const px = sides[sides.length >> 1];
  return { raster: photo, mmPerPx: px ? side / px : SLAB / Math.max(photo.width, photo.height), x0: 0, y0: 0 };
}

/** A card with its white border. */
function cardOf({ corners }: Marker, mmPerPx: number): Polygon<'face'> {
  const [u, v] = [0, 1].map((k) => corners.reduce((sum, p) => sum + (p[k as 0] as number), 0) / 4) as [number, number];
  const grow = 1 + 2 * CARD_MARGIN;
  return corners.map((p) => [(u + grow * (p[0] - u)) * mmPerPx, (v + grow * (p[1] - v)) * mmPerPx]);
}

/** Where the wood roughly is: all of its colours that hangs together with what the cards point at. Null where none stands out. */
function woodIn(cv: Cv, small: FacePicture, laid: readonly Laid[]): Mask | null {
  const grid = gridOf(small);
  // What lies between two cards is wood, too: of the wood under them alone too little is seen in so small a picture.
  const hints = { laid, points: laid.flatMap(({ polygon }) => polygon) };
  const seeds = seedMask(grid, hints);
  return scope(cv, (own) => {
    const told = toldApart(cv, own, small, hints, seeds);
    if (!told) return null;
    const pieces = own(new cv.Mat());
    cv.connectedComponents(told.wood, pieces, 4, cv.CV_32S);
    const { data32S } = pieces;
    const votes = new Map<number, number>();
    data32S.forEach((piece, i) => {
      if (piece > 0 && seeds[i]) votes.set(piece, (votes.get(piece) ?? 0) + 1);
    });
    const [best] = [...votes].sort((a, b) => b[1] - a[1]);
    return best ? { ...grid, data: Uint8Array.from(data32S, (piece) => (piece === best[0] ? 1 : 0)) } : null;
  });
}

/** 1 for wood that no card hides. */
function without(wood: Mask, laid: readonly Laid[]): Uint8Array {
  const hidden = maskOf(
    wood,
    laid.map(({ polygon }) => ({ outer: polygon, holes: [] })),
  );
  return wood.data.map((v, i) => (v && !hidden[i] ? 1 : 0));
}

function cutOffSides({ width, height, data }: Mask): Side[] {
  const along = (count: number, place: (k: number) => number) => {
    let wood = 0;
    for (let k = 0; k < count; k++) wood += data[place(k)] as number;
    return wood > RUNS_OUT * count;
  };
  return [
    ...(along(height, (r) => r * width) ? (['left'] as const) : []),
    ...(along(height, (r) => (r + 1) * width - 1) ? (['right'] as const) : []),
    ...(along(width, (c) => c) ? (['top'] as const) : []),
    ...(along(width, (c) => (height - 1) * width + c) ? (['bottom'] as const) : []),
  ];
}

function extentOf(wood: Mask): number {
  const { minX, maxX, minY, maxY } = boxOf(wood);
  return Math.max((maxX - minX) / (wood.width * wood.mmPerPx), (maxY - minY) / (wood.height * wood.mmPerPx));
}

function brightest({ width, height, channels, data }: Raster): number {
  const counts = new Uint32Array(256);
  const second = channels > 1 ? 1 : 0;
  for (let i = 0; i < data.length; i += channels) {
    const byte = Math.max(data[i] as number, data[i + second] as number);
    counts[byte] = (counts[byte] as number) + 1;
  }
  let byte = 255;
  for (let left = (1 - BRIGHT) * width * height; byte > 0; byte--) {
    left -= counts[byte] as number;
    if (left <= 0) break;
  }
  return byte;
}

function burntShare({ channels, data }: Raster, counts: Uint8Array | null): number {
  let [all, burnt] = [0, 0];
  const second = channels > 1 ? 1 : 0;
  for (let i = 0; i < data.length; i += channels) {
    if (counts && !counts[i / channels]) continue;
    all++;
    if (Math.max(data[i] as number, data[i + second] as number) >= BURNT) burnt++;
  }
  return all > 0 ? burnt / all : 0;
}
