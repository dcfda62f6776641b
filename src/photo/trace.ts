import { bounds, offset } from '../geometry';
import type { FacePicture } from '../raster';
import { pause, unwatched } from '../search';
import { findBlobs } from './blobs';
import { findCracks } from './cracks';
import type { Cv } from './cv';
import { darknessOf } from './dark';
import { edgesOf, hiddenMask, noWood } from './outline';
import { crop } from './pictures';
import { boxOf, grown, segment } from './segment';
import type { Traced, TraceOptions } from './trace-types';

/** The wood's edge is sought so far around the rough wood, mm. */
const ABOUT = 130;

/**
 * Traces the wood in a rectified picture: outline, bark, sapwood and what look like defects.
 * @throws InputProblem when no wood is found; Cancelled when called off
 */
export async function trace(cv: Cv, picture: FacePicture, options: TraceOptions): Promise<Traced> {
  const control = { ...unwatched(), ...options.control };
  await pause(control, 0, 'Telling wood from floor');
  const wood = segment(cv, picture, options);
  if (!wood) throw noWood();
  await pause(control, 0.45, "Following the wood's edge");
  const part = grown(boxOf(wood), ABOUT);
  const about = options.closer?.(part) ?? crop(picture, part);
  const edges = edgesOf(about, wood, options);
  const { outline } = edges;
  const known = { ...edges, hidden: (options.laid ?? []).filter(({ onWood }) => onWood).map(({ polygon }) => polygon) };
  await options.outlined?.(known);
  const near = offset([outline], NEAR_WOOD);
  const face = crop(about, bounds(near.flatMap((region) => region.outer)));
  const faceHides = hiddenMask(face, options);
  await pause(control, 0.65, 'Looking for cracks');
  const cracks = findCracks(darknessOf(cv, face, outline, faceHides, BESIDE_CRACK));
  await pause(control, 0.85, 'Looking for knots and voids');
  const blobs = findBlobs(cv, darknessOf(cv, face, outline, faceHides, BESIDE_BLOB), cracks);
  return {
    ...known,
    defects: [...cracks, ...blobs],
    cutOff: [],
  };
}

/** How far across the slab the wood lies that cracks are held against, and knots and voids, mm. */
const BESIDE_CRACK = 18;
const BESIDE_BLOB = 40;
/** Floor and bark kept around the wood for telling what borders it, mm. */
const NEAR_WOOD = 60;
