import { ringArea, simplify } from '../geometry';
import type { FacePicture } from '../raster';
import { InputProblem } from '../units';
import { findBark } from './bark';
import { laidMask } from './hints';
import { obeying } from './obeying';
import { gridOf, seenMask } from './pictures';
import { findSapwood } from './sapwood';
import type { Mask } from './segment';
import { traceSides } from './sides';
import type { Edges, TraceOptions } from './trace-types';
import { unseenStretches } from './unseen';

/** Rings are simplified to within this, mm: far below what a photo shows. */
const SIMPLER = 0.3;
/**
 * What following the edge adds to the doubt, mm (one standard deviation): where it is clear, and where it is left to its neighbours. Both as
 * found on rendered photos, whose truth is good to 0.1-0.4 mm.
 */
const FOLLOWED = 0.5;
const LOST = 1.8;
/** Cards cast a rim of shadow: so much around them is not looked at, mm. */
const RIM = 2;
/** Wood smaller than this, mm2, is no slab: it is a stray patch that looks like one. */
const LEAST_AREA = 5000;

/**
 * From the rough wood to its edges in full detail.
 * @throws InputProblem when nothing is left that could be a slab
 */
export function edgesOf(picture: FacePicture, wood: Mask, options: TraceOptions): Edges {
  const hides = hiddenMask(picture, options);
  const edge = traceSides(picture, hides, wood, options);
  const outer = obeying(simplify(edge.outline, SIMPLER), options);
  if (outer.length < 3 || ringArea(outer) < LEAST_AREA) throw noWood();
  const sapwood = findSapwood(picture, hides, edge.sides);
  const outline = { outer, holes: [] };
  return {
    outline,
    bark: findBark(picture, hides, edge.sides, outer),
    outlineSigma: Math.hypot(options.sigma?.(outline) ?? 0, FOLLOWED, LOST * Math.sqrt(edge.unsure)),
    sapwood: sapwood.map(({ strip }) => strip).filter((strip) => strip !== null),
    sapwoodTold: sapwood.length > 0 && sapwood.every(({ strip }) => strip !== null),
    unseen: options.frame ? unseenStretches(outer, options.frame) : [],
  };
}

/** 1 for each pixel that shows neither wood nor floor. */
export function hiddenMask(picture: FacePicture, options: TraceOptions): Uint8Array {
  const seen = seenMask(picture);
  return laidMask(gridOf(picture), options, 'all', RIM).map((laid, i) => (laid || !seen[i] ? 1 : 0));
}

export const noWood = (): InputProblem =>
  new InputProblem(
    'No wood was found in this photo.',
    '',
    'Draw the outline by hand, or take the photo again with the whole slab in it and the marks lying on its wood.',
  );
