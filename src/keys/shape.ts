import type { Point, Polygon } from '../geometry';
import type { KeySize, Router } from '../job';

/** Where a key lies: its middle, and the direction of its length in radians from +x to +y. */
export interface Pose {
  readonly at: Point<'top'>;
  readonly turn: number;
}

/** The key's own frame: x along its length, origin at its middle. */
const LEVEL: Pose = { at: [0, 0], turn: 0 };

/** Points in the key's own frame laid on the top. */
function laid(points: readonly (readonly [number, number])[], { at, turn }: Pose): Polygon<'top'> {
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return points.map(([x, y]) => [at[0] + x * cos - y * sin, at[1] + x * sin + y * cos] as const);
}

/** The six corners of a bow tie from its half length and its half widths at end and waist. */
const bowTie = (half: number, end: number, waist: number) =>
  [
    [half, end],
    [0, waist],
    [-half, end],
    [-half, -end],
    [0, -waist],
    [half, -end],
  ] as const;

/** Slope of a key's sides against its length. */
const slopeOf = (size: KeySize): number => (size.end - size.waist) / size.length;

/** The flare: angle of a key's sides against its length, radians. */
export const flareOf = (size: KeySize): number => Math.atan(slopeOf(size));

/** From a corner of a pocket along its sides to where a bit's round begins; the corner is sharper than square by the flare. */
export const cornerOf = (size: KeySize, bit: number): number => bit / 2 / Math.tan((Math.PI / 2 - flareOf(size)) / 2);

/** The key itself, which is also the pocket once its corners are pared; in the key's own frame where no pose is given. */
export function keyOutline(size: KeySize, pose: Pose = LEVEL): Polygon<'top'> {
  return laid(bowTie(size.length / 2, size.end / 2, size.waist / 2), pose);
}

/** Steps of the arc that a bit leaves in a corner: 16 keep it within 0.01 mm for a 10 mm bit. */
const ARC_STEPS = 16;

/**
 * What a round bit clears of the pocket: its four corners keep the bit's radius and are left to the chisel. What a bushing leaves fuller at the waist
 * is told of the template (`fuller`) and not drawn: the knife line is the key's. Without a bit it is the whole outline, chopped by hand.
 */
export function keyPocket(size: KeySize, pose: Pose, bit: number | undefined): Polygon<'top'> {
  if (bit === undefined) return keyOutline(size, pose);
  const corners = bowTie(size.length / 2, size.end / 2, size.waist / 2);
  const radius = bit / 2;
  const reach = cornerOf(size, bit);
  return laid(
    corners.flatMap(([x, y], i): [number, number][] => {
      if (x === 0) return [[x, y]];
      const before = corners[(i + corners.length - 1) % corners.length] as readonly [number, number];
      const after = corners[(i + 1) % corners.length] as readonly [number, number];
      return fillet([x, y], before, after, reach, radius);
    }),
    pose,
  );
}

/** The arc that rounds one corner, from the side towards `before` to the side towards `after`. */
function fillet(
  [x, y]: readonly [number, number],
  before: readonly [number, number],
  after: readonly [number, number],
  reach: number,
  radius: number,
): [number, number][] {
  const towards = (p: readonly [number, number]) => {
    const [dx, dy] = [p[0] - x, p[1] - y];
    const d = Math.hypot(dx, dy);
    return [dx / d, dy / d] as const;
  };
  const [u, w] = [towards(before), towards(after)];
  const middle = Math.hypot(u[0] + w[0], u[1] + w[1]);
  const away = Math.hypot(reach, radius);
  const centre = [x + ((u[0] + w[0]) / middle) * away, y + ((u[1] + w[1]) / middle) * away] as const;
  const from = Math.atan2(y + u[1] * reach - centre[1], x + u[0] * reach - centre[0]);
  const to = Math.atan2(y + w[1] * reach - centre[1], x + w[0] * reach - centre[0]);
  const sweep = Math.atan2(Math.sin(to - from), Math.cos(to - from));
  return Array.from({ length: ARC_STEPS + 1 }, (_, k) => {
    const t = from + (sweep * k) / ARC_STEPS;
    return [centre[0] + radius * Math.cos(t), centre[1] + radius * Math.sin(t)];
  });
}

/** The key's outline moved outward by `by` mm on every side, square to it, corners kept sharp; in the key's own frame. */
export function openingFor(size: KeySize, by: number): Polygon<'top'> {
  const slope = slopeOf(size);
  const waist = size.waist / 2 + by * Math.hypot(1, slope);
  const half = size.length / 2 + by;
  return bowTie(half, waist + half * slope, waist);
}

/** From a template's edge to the cut: half of bushing less bit (read). */
export const standOff = ({ bushing, bit }: Router): number => (bushing - bit) / 2;

/**
 * Opening of the template that guides a bushing round the pocket: every side moved outward by the stand-off. So the length grows by
 * twice that, the waist by twice that over the cosine of the flare.
 */
export const keyTemplate = (size: KeySize, pose: Pose, router: Router): Polygon<'top'> =>
  laid(openingFor(size, standOff(router)), pose);

/** What of a key's pocket a bit is too wide for: its waist, or its corners, where the bit's rounds would meet. */
export function tooWideFor(size: KeySize, bit: number): readonly ('waist' | 'corners')[] {
  const corner = cornerOf(size, bit);
  const side = Math.hypot(size.length / 2, (size.end - size.waist) / 2);
  return [
    ...(bit > size.waist ? (['waist'] as const) : []),
    ...(2 * corner > size.end || corner > side ? (['corners'] as const) : []),
  ];
}
