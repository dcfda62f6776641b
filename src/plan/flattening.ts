import { type BlankFlattening, type BlankSurfaces, flattenBlank } from '../flattening';
import { type Affine, apply, applyAll, invert } from '../geometry';
import { findSlab, type Job, type Slab, type Strip } from '../job';
import { flatteningShop, fromFarFace, surfacesOf } from '../layout';

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
