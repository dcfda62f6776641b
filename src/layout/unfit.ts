import type { SeamZone } from './seam-zones';

/** Why a place that was found in the wood is not what is wanted, and by how much, mm; with the zone that a joint runs through. */
export type Unfit =
  | { readonly why: 'swing' | 'cut-out' | 'strip' | 'stairs' | 'bevel'; readonly by: number }
  | { readonly why: 'zone'; readonly by: number; readonly zone: SeamZone };
