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

/** Glue for a joint brushed on one side, g per m2: 150-250 for white glue (from memory). */
const SPREAD = 200;
const MM2_PER_M2 = 1e6;

/** How one edge joint is glued up. Pressures in MPa, lengths in mm, forces in N. */
export interface GlueUp {
  readonly pressure: readonly [least: number, most: number];
  /** Force that the least pressure asks over the whole joint. */
  readonly force: number;
  readonly bySpacing: number;
  readonly byPressure: number;
  readonly count: number;
  /** Most distance between clamps. */
  readonly spacing: number;
  /** What so many of the shop's clamps as the spacing asks really press with. */
  readonly reached: number;
  readonly grams: number;
}

/**
 * Clamps and glue of an edge joint: the least pressure of the wood's range (a well planed joint needs no more), the cones that must meet, and
 * the larger count of both.
 * @throws InputProblem for a size of 0 or less
 */
export function glueUp(joint: {
  readonly kind: 'softwood' | 'hardwood' | 'imported';
  readonly length: number;
  readonly thickness: number;
  /** The narrower part's width: a clamp's head stands on its far edge. */
  readonly headToJoint: number;
  readonly perClamp: number;
}): GlueUp {
  const { length, thickness, headToJoint, perClamp } = joint;
  const pressure = CLAMP_PRESSURE[joint.kind === 'softwood' ? 'softwood' : 'hardwood'];
  const needed = clamps({ length, thickness, headToJoint, pressure: pressure[0], perClamp });
  return {
    pressure,
    force: clampForce({ pressure: pressure[0], thickness, length }),
    bySpacing: needed.bySpacing,
    byPressure: needed.byPressure,
    count: needed.count,
    spacing: clampSpacing(headToJoint),
    reached: needed.pressureBySpacing,
    grams: (SPREAD * length * thickness) / MM2_PER_M2,
  };
}
