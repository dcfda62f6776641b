import { type BlankFlattening, type BlankSurfaces, flattenBlank, type Section, sectionOf } from '../flattening';
import { type Affine, apply, applyAll, bounds, invert, type Point } from '../geometry';
import { findSlab, type Job, type Slab, type Strip } from '../job';
import { flatteningShop, fromFarFace, stripMap, surfacesOf } from '../layout';

/** A slab's readings as surfaces, so that its blanks share them. */
export type SlabSurfaces = (slab: Slab) => BlankSurfaces | null;

/** Surfaces computed once a slab. */
export function surfacesOnce(): SlabSurfaces {
  const known = new Map<Slab, BlankSurfaces | null>();
  return (slab) => {
    if (!known.has(slab)) known.set(slab, surfacesOf(slab));
    return known.get(slab) ?? null;
  };
}

/**
 * How one blank is flattened. Readings stand in the frame of the slab's top face; a blank that was laid out on the lower face is carried there
 * through the two marks that tie the faces, and what comes out is carried back. Null without readings, or without the tie.
 */
export function blankFlattening(
  job: Job,
  strip: Strip,
  id: string,
  thickness: number,
  surfaces: SlabSurfaces,
): BlankFlattening | null {
  const { flitch, slab } = findSlab(job, strip.flitch, strip.slab);
  const faces = surfaces(slab);
  if (!faces || (strip.face === 'bottom' && !slab.tie)) return null;
  const shop = flatteningShop(flitch, slab, job.shop);
  if (strip.face === 'top' || !slab.tie)
    return flattenBlank(faces, { id, polygon: strip.rough, finished: thickness }, shop);
  const toTop = fromFarFace(slab.tie);
  const back: Affine<'face', 'face'> = invert(toTop);
  const flat = flattenBlank(faces, { id, polygon: applyAll(toTop, strip.rough), finished: thickness }, shop);
  return {
    ...flat,
    limits: flat.limits.map(({ at, face }) => ({ at: apply(back, at), face })),
    shims: flat.shims.map(({ at, height }) => ({ at: apply(back, at), height })),
  };
}

/** A blank from the side: along its middle, and across it half way. */
export interface BlankSections {
  readonly along: Section;
  readonly across: Section;
}

/** The side sections of one blank of a plan; null where its slab has no readings. */
export function blankSections(job: Job, strip: Strip, blank: BlankFlattening): BlankSections | null {
  const { slab } = findSlab(job, strip.flitch, strip.slab);
  const faces = surfacesOf(slab);
  const toReadings = strip.face === 'top' ? null : slab.tie && fromFarFace(slab.tie);
  if (!faces || (strip.face === 'bottom' && !toReadings)) return null;
  const toFace = invert(stripMap(strip));
  const box = bounds(applyAll(stripMap(strip), strip.rough));
  const [x, y] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  const section = (from: Point<'top'>, to: Point<'top'>): Section => {
    const ends = applyAll(toFace, [from, to]) as [Point<'face'>, Point<'face'>];
    return sectionOf(faces, blank, toReadings ? (applyAll(toReadings, ends) as [Point<'face'>, Point<'face'>]) : ends);
  };
  return { along: section([box.minX, y], [box.maxX, y]), across: section([x, box.minY], [x, box.maxY]) };
}
