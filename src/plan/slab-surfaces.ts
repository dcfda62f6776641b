import type { BlankSurfaces } from '../flattening';
import type { Slab } from '../job';
import { surfacesOf } from '../layout';

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
