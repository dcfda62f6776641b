import type { Point } from '../geometry';

/** A place on a mark's own drawing, mm: x and y as a frame on the face, origin at the mark's middle. */
export type Local = readonly [x: number, y: number];

/** A point of a mark as seen in the photo. `sigma` is in px. */
export interface SeenPoint {
  readonly at: Local;
  readonly px: Point<'photo'>;
  readonly sigma: number;
}

/**
 * A spot of an edge between dark and light: `px` lies on the seen edge, somewhere along it, `at` on the drawn one; `towards` is the unit
 * direction on the drawing from dark to light. Only the offset square to the edge is an observation.
 */
export interface SeenEdge {
  readonly at: Local;
  readonly towards: Local;
  readonly px: Point<'photo'>;
  /** Whether it belongs to the outline or to the cells inside, whose printed places are less exact. */
  readonly outer: boolean;
  /** Which of the drawings' uncertain lines it lies on, if on one: across x (0 to 4) or across y (5 to 9). */
  readonly line?: number;
}

/** Lines whose place on the drawing is not exact, alike on all marks of a photo: those between a marker's cells, a side of a rod. */
export const UNCERTAIN_LINES = 10;

/** One standard deviation of edge spots, px, along the outline and between the cells inside. */
export interface EdgeSigma {
  readonly outer: number;
  readonly inner: number;
}

/**
 * A flat, rigid figure of known size lying on the face: a marker, a sheet, a rod, or a single known point. Every reference of the room
 * is made of these, so that one adjustment serves all.
 */
export interface Mark {
  /** What the user calls it: 'marker 3', 'point 2', 'rod 1'. */
  readonly name: string;
  readonly points: readonly SeenPoint[];
  readonly edges: readonly SeenEdge[];
  /** Its measured place on the face, with one standard deviation, mm; null where it lies anywhere. */
  readonly known: { readonly at: Point<'face'>; readonly sigma: number } | null;
  /** Whether it has a direction of its own (a single point has none). */
  readonly turns: boolean;
  /** How far its drawn face stands over the wood, mm. */
  readonly above: number;
  /** How far the wood under it stands out of the face's mean plane towards the camera, mm, and one standard deviation of that. */
  readonly out: number;
  readonly outSigma: number;
  /** How steeply it leans: rise out of the face per mm along x and along y, and one standard deviation of both. */
  readonly lean: Local;
  readonly leanSigma: number;
  /** One standard deviation of its printed or measured size, as a share, where sizes are shared by all marks of a photo. */
  readonly sizeSigma: number;
  /** One standard deviation of the place of uncertain lines, mm. */
  readonly lineSigma: number;
  /** What was said of its size, mm; null for a single point. */
  readonly dimension: { readonly name: 'side' | 'length' | 'long side'; readonly mm: number } | null;
}

/** What is believed of a mark's seat before the first guess tells where it lies. */
export const ROUGHLY_FLAT = { out: 0, outSigma: 2, lean: [0, 0], leanSigma: 0.004 } as const;

/** A single point that a hand set on the photo, with one standard deviation in px; `known` is its measured place on the face, where it has one. */
export const handSetPoint = (name: string, px: Point<'photo'>, sigma: number, known: Mark['known']): Mark => ({
  name,
  points: [{ at: [0, 0], px, sigma }],
  edges: [],
  known,
  turns: false,
  above: 0,
  ...ROUGHLY_FLAT,
  sizeSigma: 0,
  lineSigma: 0,
  dimension: null,
});

/** A mark's pose on the face. */
export interface Pose {
  readonly at: Point<'face'>;
  readonly radians: number;
}

/** Where a spot of the drawing lies on the face. */
export function onFace(pose: Pose, [x, y]: Local, size = 1): Point<'face'> {
  const [c, s] = [Math.cos(pose.radians) * size, Math.sin(pose.radians) * size];
  return [pose.at[0] + c * x - s * y, pose.at[1] + s * x + c * y];
}

/** The shift and turn that best carry points onto others (Arun, Huang and Blostein 1987, in the plane). */
export function rigidFit(from: readonly Local[], to: readonly Local[]): Pose {
  const mean = (points: readonly Local[]): [number, number] => [
    points.reduce((sum, p) => sum + p[0], 0) / points.length,
    points.reduce((sum, p) => sum + p[1], 0) / points.length,
  ];
  const [a, b] = [mean(from), mean(to)];
  let [along, across] = [0, 0];
  from.forEach((p, i) => {
    const q = to[i] as Local;
    const [px, py, qx, qy] = [p[0] - a[0], p[1] - a[1], q[0] - b[0], q[1] - b[1]];
    along += px * qx + py * qy;
    across += px * qy - py * qx;
  });
  const radians = Math.atan2(across, along);
  const [c, s] = [Math.cos(radians), Math.sin(radians)];
  return { at: [b[0] - c * a[0] + s * a[1], b[1] - s * a[0] - c * a[1]], radians };
}
