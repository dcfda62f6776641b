import { applyToRegions, distance, intersection, type Point, regionsArea } from '../../../geometry';
import type { Slab } from '../../../job';
import { fromFarFace } from '../../../layout';
import { sigmaBetween } from '../../../photo';
import { xy } from './path';
import type { Tying } from './view';

/** Whether two marks on each face are the same two holes. */
export type TieCheck =
  | { readonly kind: 'more' }
  | { readonly kind: 'near' }
  | { readonly kind: 'apart'; readonly top: number; readonly bottom: number; readonly allowed: number }
  | { readonly kind: 'good'; readonly tie: NonNullable<Slab['tie']>; readonly off: number; readonly swapped: boolean };

/** Marks nearer than this, mm, turn the other face by more than a degree for every few mm that they are off. */
const LEAST_APART = 150;
/** A drilled hole wanders and is tapped to within this at each end, two sigma, mm (practice). */
const HOLE = 2;
/** The marks are taken for swapped where that lays the two outlines over each other better by this share of the wood. */
const BETTER = 0.05;

/**
 * Checks two marks tapped on both faces: they must be equally far apart within the ± of both photos and of the holes. Which is the first
 * cannot be told by that, so the outlines tell: turned end for end, a slab seldom covers itself.
 */
export function checkTie(slab: Slab, tying: Tying): TieCheck {
  const [t0, t1] = tying.top.map(xy) as Point<'face'>[];
  const [b0, b1] = tying.bottom.map(xy) as Point<'face'>[];
  if (!t0 || !t1 || !b0 || !b1) return { kind: 'more' };
  const [top, bottom] = [distance(t0, t1), distance(b0, b1)];
  if (Math.min(top, bottom) < LEAST_APART) return { kind: 'near' };
  const sigmas = [sigmaBetween(slab.faces.top, t0, t1), sigmaBetween(slab.faces.bottom, b0, b1)] as const;
  const allowed = Math.hypot(2 * sigmas[0], 2 * sigmas[1], HOLE);
  if (Math.abs(top - bottom) > allowed) return { kind: 'apart', top, bottom, allowed };
  // The underside's own frame is what the job calls the far face's.
  const far = (p: Point<'face'>): Point<'farFace'> => [p[0], p[1]] as unknown as Point<'farFace'>;
  const tie: NonNullable<Slab['tie']> = { top: [t0, t1], bottom: [far(b0), far(b1)] };
  const turned: NonNullable<Slab['tie']> = { top: [t0, t1], bottom: [far(b1), far(b0)] };
  const swapped = covered(slab, turned) > covered(slab, tie) + BETTER;
  return { kind: 'good', tie, off: Math.abs(top - bottom), swapped };
}

/** How much of the top face the underside covers when they are tied so. */
function covered({ faces }: Slab, tie: NonNullable<Slab['tie']>): number {
  const [top, bottom] = [faces.top.outline, faces.bottom.outline];
  if (!top || !bottom) return 0;
  const under = applyToRegions(fromFarFace(tie), [bottom]);
  return regionsArea(intersection([top], under)) / Math.max(1, regionsArea([top]));
}
