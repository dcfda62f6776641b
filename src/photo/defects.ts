import type { Polygon, Region } from '../geometry';
import type { FacePicture } from '../raster';
import { findBlobs } from './blobs';
import { findClutter } from './clutter';
import { findCracks } from './cracks';
import type { Cv } from './cv';
import { darknessOf, woodOf } from './dark';
import type { ProposedDefect } from './trace-types';
import { turned, without } from './turned';

/** How far across the slab the wood lies that cracks are held against, and knots and voids, mm. */
const BESIDE_CRACK = 18;
const BESIDE_BLOB = 40;

/** What a face shows beside sound wood. */
export interface Faults {
  readonly defects: readonly ProposedDefect[];
  /** Things that lie on the wood and hide it. */
  readonly things: readonly Polygon<'face'>[];
}

/**
 * Looks for defects in the wood within an outline, and for what lies on it.
 * @param hides 1 for each pixel of the picture that shows no wood or floor, known things on the wood included
 */
export function findDefects(cv: Cv, picture: FacePicture, outline: Region<'face'>, hides: Uint8Array): Faults {
  const face = turned(cv, picture, outline, hides);
  const clutter = findClutter(cv, face);
  const wood = woodOf(cv, without(face, clutter.hides));
  const cracks = findCracks(darknessOf(cv, wood, BESIDE_CRACK));
  const blobs = findBlobs(cv, darknessOf(cv, wood, BESIDE_BLOB), cracks);
  return { defects: [...cracks, ...blobs], things: clutter.things };
}
