import { InputProblem } from '../units';

/** Clamping of a glued joint. Pressures in MPa (N/mm2), lengths in mm, forces in N. */

/** Pressure that a glue maker asks for, as magazines quote it (read): 100-150 psi on softwood, 175-250 psi on hardwood. */
export const CLAMP_PRESSURE: Readonly<Record<'softwood' | 'hardwood', readonly [number, number]>> = {
  softwood: [0.7, 1.0],
  hardwood: [1.2, 1.7],
};

/** Force that presses a joint: pressure times its area. */
export function clampForce(joint: {
  readonly pressure: number;
  readonly thickness: number;
  readonly length: number;
}): number {
  for (const key of ['pressure', 'thickness', 'length'] as const) {
    if (!(joint[key] > 0))
      throw new InputProblem(`The ${key} must be more than 0.`, `/${key}`, 'Give it in MPa or mm.');
  }
  return joint.pressure * joint.thickness * joint.length;
}

/**
 * Most distance between clamps: a clamp presses along a cone of 45 degrees, so it reaches as far to each side as its head stands from
 * the joint (read: a 6 in board gives 12 in).
 */
export function clampSpacing(headToJoint: number): number {
  return 2 * headToJoint;
}

/**
 * Clamps that a joint wants: the larger of what the spacing and what the pressure asks, and the pressure that so many clamps of the
 * shop really reach if only the spacing is kept.
 */
export function clamps(joint: {
  readonly length: number;
  readonly thickness: number;
  /** From the clamp's head to the glue line; the narrower board's width. */
  readonly headToJoint: number;
  readonly pressure: number;
  /** What one clamp of the shop gives. */
  readonly perClamp: number;
}): {
  readonly bySpacing: number;
  readonly byPressure: number;
  readonly count: number;
  readonly pressureBySpacing: number;
} {
  const bySpacing = Math.max(1, Math.ceil(joint.length / clampSpacing(joint.headToJoint) - 1e-9));
  const byPressure = Math.max(1, Math.ceil(clampForce(joint) / joint.perClamp - 1e-9));
  return {
    bySpacing,
    byPressure,
    count: Math.max(bySpacing, byPressure),
    pressureBySpacing: (bySpacing * joint.perClamp) / (joint.length * joint.thickness),
  };
}

/** Litres of resin that fill a crack: its area (mm2) times depth (mm), and a fifth over for what soaks in and is lost (practice). */
export function fillLitres(area: number, depth: number, allowance = 1.2): number {
  return (area * depth * allowance) / 1e6;
}
