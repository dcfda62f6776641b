import type { Slab, Spot } from '../job';
import { leaningSurface } from './leaning';
import { linearSurface } from './linear';
import type { Faces, Reading } from './reading';
import { tieFaces } from './tie';
import { warpReadings } from './warp-readings';

/** A nominal thickness said of the whole slab is good to about this much at any one place, mm (practice, no source). */
const NOMINAL_SIGMA = 1;

/**
 * The readings of both faces that a slab's spots and warp amount to: of top, bottom and thickness at a spot any two give the third. A
 * thickness read where no height was is hung under (or set on) the face that others read; where a spot has one height alone
 * the slab's own thickness gives the other. Faces that were read each by itself are tied by the thicknesses. Bow, cup and twist
 * count as readings that are less sure. A slab without any of these has none: its warp is unknown.
 */
export function slabReadings(slab: Slab): { readonly top: Reading[]; readonly bottom: Reading[] } {
  const spots = slab.heights === 'apart' ? tied(slab) : Object.values(slab.spots);
  const readings = { top: [] as Reading[], bottom: [] as Reading[] };
  for (const spot of spots) {
    const { top, bottom } = heightsAt(spot, slab.thickness);
    if (top) readings.top.push(top);
    if (bottom) readings.bottom.push(bottom);
  }
  readings.top.push(...warpReadings(slab, readings.top));
  hang(spots, slab.thickness, readings);
  return readings;
}

/** Thicknesses without a height beside them, hung under the face that others read; without any the slab's own thickness all over. */
function hang(
  spots: readonly Spot[],
  nominal: number | null,
  readings: { readonly top: Reading[]; readonly bottom: Reading[] },
): void {
  if (readings.top.length + readings.bottom.length === 0) return;
  const [from, to, sign] = readings.top.length > 0 ? (['top', 'bottom', -1] as const) : (['bottom', 'top', 1] as const);
  const known = leaningSurface(readings[from]);
  const alone = spots.filter((spot) => spot.top === null && spot.bottom === null && spot.thickness !== null);
  for (const { at, thickness, sigma } of alone) {
    const z = known.height(at) + sign * (thickness as number);
    readings[to].push({ at, z, sigma: Math.hypot(known.sigma(at), sigma) });
  }
  if (readings[to].length > 0 || nominal === null) return;
  readings[to].push(
    ...readings[from].map(({ at, z, sigma }) => ({
      at,
      z: z + sign * nominal,
      sigma: Math.hypot(sigma, NOMINAL_SIGMA),
    })),
  );
}

/** Spots of faces that were read each by itself, with the underside's heights over the upper face's plane; left out where nothing ties them. */
function tied(slab: Slab): Spot[] {
  const tie = tieFaces(slab);
  return Object.values(slab.spots).map((spot) => ({
    ...spot,
    bottom: tie && spot.bottom !== null ? tie.height(spot.at) - spot.bottom : null,
    // What tied the faces is in the tie: together with both heights it would count twice.
    thickness: tie && spot.top !== null && spot.bottom !== null ? null : spot.thickness,
    sigma: tie && spot.bottom !== null ? Math.hypot(spot.sigma, tie.sigma(spot.at)) : spot.sigma,
  }));
}

/** What one spot says of the two faces. */
function heightsAt(spot: Spot, nominal: number | null): { top: Reading | null; bottom: Reading | null } {
  const { at, top, bottom, sigma } = spot;
  const thickness = spot.thickness ?? nominal;
  const through = spot.thickness === null ? NOMINAL_SIGMA : sigma;
  const read = (z: number): Reading => ({ at, z, sigma });
  const derived = (z: number): Reading => ({ at, z, sigma: Math.hypot(sigma, through) });
  if (top !== null && bottom !== null) return { top: read(top), bottom: read(bottom) };
  if (top !== null) return { top: read(top), bottom: thickness === null ? null : derived(top - thickness) };
  if (bottom !== null) return { top: thickness === null ? null : derived(bottom + thickness), bottom: read(bottom) };
  return { top: null, bottom: null };
}

/** Both faces of a slab as flat facets between its readings; null where a face has no reading, since nothing then tells its thickness. */
export function slabSurfaces(slab: Slab): Faces | null {
  const { top, bottom } = slabReadings(slab);
  if (top.length === 0 || bottom.length === 0) return null;
  return { top: linearSurface(top), bottom: linearSurface(bottom) };
}
