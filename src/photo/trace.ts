import { bounds, offset } from '../geometry';
import type { FacePicture } from '../raster';
import { pause, unwatched } from '../search';
import type { Cv } from './cv';
import { findDefects } from './defects';
import { edgesOf, hiddenMask, noWood } from './outline';
import { crop } from './pictures';
import { boxOf, findWood, grown, type Segmented } from './segment';
import type { Traced, TraceOptions } from './trace-types';

/** The wood's edge is sought so far around the rough wood, mm. */
const ABOUT = 130;
/** Nothing is sought within this of another slab's rough rim, mm. */
const BESIDE = 8;

/**
 * Traces the wood in a rectified picture: outline, bark, sapwood and what look like defects.
 * @throws InputProblem when no wood is found, or two slabs and nothing tells which is meant; Cancelled when called off
 */
export async function trace(cv: Cv, picture: FacePicture, options: TraceOptions): Promise<Traced> {
  const control = { ...unwatched(), ...options.control };
  await pause(control, 0, 'Telling wood from floor');
  const segmented = findWood(cv, picture, options);
  if (!segmented) throw noWood();
  return traceWood(cv, picture, segmented, options);
}

/** Traces the wood that was found: from its rough place on. @throws InputProblem when nothing is left; Cancelled */
export async function traceWood(
  cv: Cv,
  picture: FacePicture,
  { wood, others }: Segmented,
  options: TraceOptions,
): Promise<Traced> {
  const control = { ...unwatched(), ...options.control };
  await pause(control, 0.45, "Following the wood's edge");
  const part = grown(boxOf(wood), ABOUT);
  const about = options.closer?.(part) ?? crop(picture, part);
  // Another slab's edge is none of this one's, however clear it is.
  const aside = offset(
    others.map((outer) => ({ outer, holes: [] })),
    BESIDE,
  ).map(({ outer }) => ({ polygon: outer, onWood: false }));
  const edges = edgesOf(about, wood, { ...options, laid: [...(options.laid ?? []), ...aside] });
  const { outline } = edges;
  const known = {
    ...edges,
    others,
    hidden: (options.laid ?? []).filter(({ onWood }) => onWood).map(({ polygon }) => polygon),
  };
  await options.outlined?.(known);
  const near = offset([outline], NEAR_WOOD);
  const face = crop(about, bounds(near.flatMap((region) => region.outer)));
  await pause(control, 0.65, 'Looking for cracks, knots and voids');
  const { defects, things, pith } = findDefects(cv, face, outline, hiddenMask(face, options));
  return { ...known, hidden: [...known.hidden, ...things], defects, cutOff: [], pith };
}

/** Floor and bark kept around the wood for telling what borders it, mm. */
const NEAR_WOOD = 60;
