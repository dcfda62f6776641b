/**
 * How the rings lie in a slab, and what drying does to its shape. Lengths in mm, in a section across the slab: y across, z up and out of
 * its top face, whose surface is z = 0.
 */

/** Where the pith runs past a section of the slab: over it (z > 0), in it or under it. */
export interface PithPlace {
  readonly y: number;
  readonly z: number;
}

/** A slab's section: from edge `from` to edge `to`, its top face at z = 0 and its underside at -thickness. */
interface SlabSection {
  readonly from: number;
  readonly to: number;
  readonly thickness: number;
}

/** Relative change of length along the rings' radius and around them; negative where the wood shrinks. */
interface RingStrain {
  readonly radial: number;
  readonly tangential: number;
}

/** Stations across the section and layers through it at which means are taken. */
const STATIONS = 64;
const LAYERS = 5;

/** Angle of the rings against the face at a place of the section, degrees: 0 flat-sawn, 90 quarter-sawn. */
export function ringAngleDegrees(pith: PithPlace, y: number, z: number): number {
  return (Math.atan2(Math.abs(y - pith.y), Math.abs(z - pith.z)) * 180) / Math.PI;
}

/**
 * Relative change of width and thickness of a section whose rings stand around a known pith: the strain turned into the face's
 * directions, tangential cos2 + radial sin2 of the rings' angle across and the other way round through, meant over the section
 * (derived: strain in two dimensions turns like that when it has no shear along the rings).
 */
export function sectionStrain(
  { from, to, thickness }: SlabSection,
  pith: PithPlace,
  { radial, tangential }: RingStrain,
): { readonly width: number; readonly thickness: number } {
  let flat = 0;
  for (let i = 0; i < STATIONS; i++) {
    for (let k = 0; k < LAYERS; k++) {
      const y = from + ((to - from) * (i + 0.5)) / STATIONS;
      const z = (-thickness * (k + 0.5)) / LAYERS;
      const angle = (ringAngleDegrees(pith, y, z) * Math.PI) / 180;
      flat += Math.cos(angle) ** 2;
    }
  }
  const share = flat / (STATIONS * LAYERS);
  return {
    width: share * tangential + (1 - share) * radial,
    thickness: share * radial + (1 - share) * tangential,
  };
}

/**
 * Cup that drying gives a flat section, mm at its middle plane: positive with the edges high on the top face, which then is hollow.
 * A sector of rings that shrinks freely keeps its rings round: radius times 1 + radial, angle about the pith times
 * (1 + tangential) / (1 + radial) (derived; no stress, so an upper bound for wood that is held). Null where the pith lies within the slab
 * or at its face: there it cracks, and the rule has no meaning.
 */
export function dryingCup(
  { from, to, thickness }: SlabSection,
  pith: PithPlace,
  { radial, tangential }: RingStrain,
): number | null {
  const middle = -thickness / 2;
  const away = middle - pith.z;
  if (Math.abs(away) < thickness) return null;
  const side = Math.sign(away);
  const turn = (1 + tangential) / (1 + radial);
  const dried = Array.from({ length: STATIONS + 1 }, (_, i): readonly [y: number, z: number] => {
    const across = from + ((to - from) * i) / STATIONS - pith.y;
    const radius = Math.hypot(across, away) * (1 + radial);
    const angle = Math.atan2(across, Math.abs(away)) * turn;
    return [radius * Math.sin(angle), side * radius * Math.cos(angle)];
  });
  const [y0, z0] = dried[0] as readonly [number, number];
  const [y1, z1] = dried[STATIONS] as readonly [number, number];
  let cup = 0;
  for (const [y, z] of dried) {
    const chord = z0 + ((z1 - z0) * (y - y0)) / (y1 - y0);
    if (Math.abs(chord - z) > Math.abs(cup)) cup = chord - z;
  }
  return cup;
}

/** One slab of a log in sawing order. */
export interface SawnSlab {
  /** Height of its top face over any one plane, mm; falling from slab to slab. */
  readonly z: number;
  /** Mean width of that face, mm. */
  readonly width: number;
}

/**
 * Height of a log's middle, in the slabs' heights: the circle whose chords are their widths, by least squares in
 * width2 / 4 + z2 = radius2 - middle2 + 2 middle z (derived). The pith lies near it in a log that grew upright.
 * @returns null where fewer than three slabs tell, or they fit no circle
 */
export function logMiddle(slabs: readonly SawnSlab[]): number | null {
  if (slabs.length < 3) return null;
  const n = slabs.length;
  const meanZ = slabs.reduce((sum, { z }) => sum + z, 0) / n;
  const right = slabs.map(({ z, width }) => width ** 2 / 4 + (z - meanZ) ** 2);
  const meanRight = right.reduce((sum, u) => sum + u, 0) / n;
  let [zz, zr] = [0, 0];
  slabs.forEach(({ z }, i) => {
    zz += (z - meanZ) ** 2;
    zr += (z - meanZ) * ((right[i] as number) - meanRight);
  });
  if (zz === 0) return null;
  const middle = zr / zz / 2;
  const radius2 = meanRight + middle ** 2;
  // Heights that lie far outside the log that they make are no log.
  const inside = slabs.every(({ z }) => (z - meanZ - middle) ** 2 < radius2);
  return inside ? meanZ + middle : null;
}
