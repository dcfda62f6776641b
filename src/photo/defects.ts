import { offset, type Polygon, type Region } from '../geometry';
import { type FacePicture, maskOf } from '../raster';
import { type Blob, findBlobs } from './blobs';
import { type Clutter, findClutter } from './clutter';
import { findCracks } from './cracks';
import type { Cv } from './cv';
import { darknessOf, woodOf } from './dark';
import { findPith, type Pith } from './pith';
import { findStains } from './stains';
import type { ProposedDefect } from './trace-types';
import { type Turned, turned, without } from './turned';
import { COARSE, type Colours, coloursOf } from './wood-colour';

/** How far across the slab the wood lies that cracks are held against, and knots and voids, mm. */
const BESIDE_CRACK = 18;
const BESIDE_BLOB = 40;
/** So far around a patch, mm, wood is darkened by it. */
const FRINGE = 8;

/** What a face shows beside sound wood. */
export interface Faults {
  readonly defects: readonly ProposedDefect[];
  /** Things that lie on the wood and hide it. */
  readonly things: readonly Polygon<'face'>[];
  readonly pith: Pith | null;
}

/**
 * Looks for defects in the wood within an outline, and for what lies on it.
 * @param hides 1 for each pixel of the picture that shows no wood or floor, known things on the wood included
 */
export function findDefects(cv: Cv, picture: FacePicture, outline: Region<'face'>, hides: Uint8Array): Faults {
  const face = turned(cv, picture, outline, hides);
  const colours = coloursOf(cv, face);
  const clutter = findClutter(cv, face, colours);
  const wood = woodOf(cv, without(face, clutter.hides));
  const cracks = findCracks(darknessOf(cv, wood, BESIDE_CRACK));
  const blobs = findBlobs(cv, darknessOf(cv, wood, BESIDE_BLOB), cracks);
  const stains = findStains(cv, colours, takenOf(face, colours, clutter, blobs));
  return { defects: [...cracks, ...blobs, ...stains], things: clutter.things, pith: findPith(wood) };
}

/** 1 for each pixel of the colours that shows a thing or a patch. */
function takenOf(face: Turned, { width, height }: Colours, { hides }: Clutter, blobs: readonly Blob[]): Uint8Array {
  const rings = blobs.map(({ polygon }) => ({
    outer: polygon.map((p): Polygon<'face'>[number] => {
      const [x, y] = face.fromFace(p);
      return [x / COARSE, y / COARSE];
    }),
    holes: [],
  }));
  const taken = maskOf({ width, height, mmPerPx: 1, x0: 0, y0: 0 }, offset(rings, FRINGE / COARSE));
  for (let i = 0; i < taken.length; i++) {
    const [x, y] = [(i % width) * COARSE, Math.floor(i / width) * COARSE];
    if (hides[y * face.width + x]) taken[i] = 1;
  }
  return taken;
}
