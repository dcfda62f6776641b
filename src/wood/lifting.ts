/** How well the hands hold the load. */
type Coupling = 'good' | 'fair' | 'poor';

/** A lift by one person with two hands. Lengths in mm. */
interface Lift {
  /** From the ankles to the hands. */
  readonly horizontal: number;
  /** From the floor to the hands at the start (or at the end, for the setting down). */
  readonly vertical: number;
  /** How far the hands travel up or down. */
  readonly distance: number;
  /** How far the body turns. */
  readonly asymmetryDegrees: number;
  readonly coupling: Coupling;
  /** Frequency multiplier; 1 for a lift now and then. */
  readonly frequency: number;
}

/** Load constant: 23 kg (51 lb). */
const LOAD_CONSTANT = 23;

/**
 * Recommended weight limit in kg: the revised lifting equation of the United States National Institute for Occupational Safety and
 * Health (Waters, Putz-Anderson and Garg, NIOSH 94-110; LC, HM, VM, DM read, AM, CM and the outer limits from memory).
 * For one person, smooth, two-handed, on a good footing only: not for two people, a long slab, a turn or the stairs.
 */
export function recommendedLift({
  horizontal,
  vertical,
  distance,
  asymmetryDegrees,
  coupling,
  frequency,
}: Lift): number {
  const [h, v, d] = [horizontal / 10, vertical / 10, distance / 10];
  const hm = h > 63 ? 0 : 25 / Math.max(25, h);
  const vm = v < 0 || v > 175 ? 0 : 1 - 0.003 * Math.abs(v - 75);
  const dm = d > 175 ? 0 : 0.82 + 4.5 / Math.max(25, d);
  const am = asymmetryDegrees > 135 ? 0 : 1 - 0.0032 * asymmetryDegrees;
  return LOAD_CONSTANT * hm * vm * dm * am * frequency * couplingMultiplier(coupling, v);
}

function couplingMultiplier(coupling: Coupling, verticalCm: number): number {
  if (coupling === 'poor') return 0.9;
  return coupling === 'fair' && verticalCm < 75 ? 0.95 : 1;
}
