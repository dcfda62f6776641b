import { bounds, offset, type Region, ringArea, simplify } from '../geometry';
import type { FacePicture } from '../raster';
import { pause, unwatched } from '../search';
import { InputProblem } from '../units';
import { findBark } from './bark';
import { findBlobs } from './blobs';
import { findCracks } from './cracks';
import type { Cv } from './cv';
import { darknessOf } from './dark';
import { laidMask } from './hints';
import { crop, gridOf, seenMask } from './pictures';
import { findSapwood } from './sapwood';
import { boxOf, grown, segment } from './segment';
import { traceSides } from './sides';
import type { Traced, TraceOptions } from './trace-types';

/** Rings are simplified to within this, mm: far below what a photo shows. */
const SIMPLER = 0.3;
/**
 * What following the edge adds to the doubt, mm (one standard deviation): where it is clear, and where it is left to its neighbours. Both as
 * found on rendered photos, whose truth is good to 0.1-0.4 mm.
 */
const FOLLOWED = 0.5;
const LOST = 2.5;
/** The wood's edge is sought so far around the rough wood, mm. */
const ABOUT = 130;
/** Cards cast a rim of shadow: so much around them is not looked at, mm. */
const RIM = 2;
/** Wood smaller than this, mm2, is no slab: it is a stray patch that looks like one. */
const LEAST_AREA = 5000;

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
  const aboutHides = hiddenMask(about, options);
  const edge = traceSides(about, aboutHides, wood);
  const outer = simplify(edge.outline, SIMPLER);
  if (outer.length < 3 || ringArea(outer) < LEAST_AREA) throw noWood();
  const outline: Region<'face'> = { outer, holes: [] };
  const known = {
    outline,
    outlineSigma: Math.hypot(options.sigma ?? 0, FOLLOWED, LOST * Math.sqrt(edge.unsure)),
    hidden: (options.laid ?? []).filter(({ onWood }) => onWood).map(({ polygon }) => polygon),
  };
  options.outlined?.(known);
  const near = offset([outline], NEAR_WOOD);
  const face = crop(about, bounds(near.flatMap((region) => region.outer)));
  const faceHides = hiddenMask(face, options);
  await pause(control, 0.65, 'Looking for cracks');
  const cracks = findCracks(darknessOf(cv, face, outline, faceHides, BESIDE_CRACK));
  await pause(control, 0.85, 'Looking for knots and voids');
  const blobs = findBlobs(cv, darknessOf(cv, face, outline, faceHides, BESIDE_BLOB), cracks);
  return {
    ...known,
    bark: findBark(about, aboutHides, edge.sides, outer),
    sapwood: findSapwood(about, aboutHides, edge.sides),
    defects: [...cracks, ...blobs],
    cutOff: [],
  };
}

/** How far across the slab the wood lies that cracks are held against, and knots and voids, mm. */
const BESIDE_CRACK = 18;
const BESIDE_BLOB = 40;
/** Floor and bark kept around the wood for telling what borders it, mm. */
const NEAR_WOOD = 60;

/** 1 for each pixel that shows neither wood nor floor. */
function hiddenMask(picture: FacePicture, options: TraceOptions): Uint8Array {
  const seen = seenMask(picture);
  return laidMask(gridOf(picture), options, 'all', RIM).map((laid, i) => (laid || !seen[i] ? 1 : 0));
}

const noWood = (): InputProblem =>
  new InputProblem(
    'No wood was found in this photo.',
    '',
    'Draw the outline by hand, or take the photo again with the whole slab in it and the marks lying on its wood.',
  );
