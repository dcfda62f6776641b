import type { BlankSurfaces } from '../flattening';
import type { Slab } from '../job';
import { surfacesOf } from '../layout';
import type { Memo } from '../surface';

/** A slab's readings as surfaces, so that its blanks share them. */
export type SlabSurfaces = (slab: Slab) => BlankSurfaces | null;

/** Surfaces computed once a slab. @param memo from the last time, where there was one */
export function surfacesOnce(memo?: Memo): SlabSurfaces {
  const known = new Map<Slab, BlankSurfaces | null>();
  return (slab) => {
    if (!known.has(slab)) known.set(slab, surfacesOf(slab, memo));
    return known.get(slab) ?? null;
  };
}
