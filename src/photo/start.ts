import type { Point } from '../geometry';
import { adjust, type LensBelief, type Problem, type State } from './adjustment';
import { Camera } from './camera';
import { type Mark, onFace, type Pose, rigidFit } from './marks';

/**
 * A first camera, good enough for the adjustment to find its way: from several tilts, the marks are laid out by what the tilted camera
 * would see, adjusted roughly, and the best is kept. The frame is then the camera's own: x to the photo's right.
 * @param marks with points; each that turns has two or more
 */
export function roughly(marks: readonly Mark[], lens: LensBelief, drop: number): State {
  const free = marks.map((mark) => ({ ...mark, known: null }));
  // Held near what is believed: a mark that is wrong could be met by an absurd focal length.
  const { focal } = lens;
  const held = { ...lens, focal: { mean: focal.mean, sigma: Math.min(focal.sigma, 0.05 * focal.mean) } };
  const problem: Problem = {
    marks: free,
    tapes: [],
    lens: held,
    bias: { mean: 0, sigma: 1 },
    drop,
    height: null,
    edgeSigma: { outer: 1, inner: 1 },
    pointScale: 1,
  };
  const tilts = [[0, 0], ...[0, 90, 180, 270].map((azimuth) => [30, azimuth])] as [number, number][];
  let best: State | null = null;
  for (const [tilt, azimuth] of tilts) {
    const centre: Point<'photo'> = [lens.centre[0].mean, lens.centre[1].mean];
    const unit = Camera.above(1000, lens.focal.mean, centre, tilt, azimuth);
    const ratio = scaleOf(unit, free);
    if (ratio === null) continue;
    const camera = Camera.above(1000 * ratio, lens.focal.mean, centre, tilt, azimuth);
    const state = adjust(problem, { camera, poses: layOut(camera, free, drop) }, 12);
    if (!best || state.fit.cost < best.fit.cost) best = state;
  }
  if (!best) throw new RangeError('No mark lies in front of the camera.');
  return best;
}

/** How much larger the marks are than they seem to this camera (geometric mean); null where it does not see them all. */
function scaleOf(camera: Camera, marks: readonly Mark[]): number | null {
  let [sum, count] = [0, 0];
  for (const mark of marks) {
    const seen = mark.points.map((point) => camera.place(point.px, -mark.above));
    for (let i = 1; i < seen.length; i++) {
      const [p, q] = [seen[i - 1], seen[i]];
      if (!p || !q) return null;
      const [a, b] = [mark.points[i - 1]?.at ?? [0, 0], mark.points[i]?.at ?? [0, 0]];
      sum += Math.log(Math.hypot(a[0] - b[0], a[1] - b[1]) / Math.hypot(p[0] - q[0], p[1] - q[1]));
      count++;
    }
  }
  return count > 0 ? Math.exp(sum / count) : null;
}

/** Where each mark lies as this camera sees it. */
export function layOut(camera: Camera, marks: readonly Mark[], drop: number): Pose[] {
  return marks.map((mark) => {
    const seen = mark.points.map((point) => camera.place(point.px, drop - mark.above - mark.out) ?? ([0, 0] as const));
    return mark.turns
      ? rigidFit(
          mark.points.map((point) => point.at),
          seen,
        )
      : { at: seen[0] ?? [0, 0], radians: 0 };
  });
}

/** A state's camera and poses seen from a frame whose origin and x axis lie at `pose` in the present one. */
export function reframed(camera: Camera, poses: readonly Pose[], frame: Pose): { camera: Camera; poses: Pose[] } {
  const [c, s] = [Math.cos(frame.radians), Math.sin(frame.radians)];
  return {
    camera: camera.reframed(frame.at, frame.radians),
    poses: poses.map(({ at, radians }) => {
      const [x, y] = [at[0] - frame.at[0], at[1] - frame.at[1]];
      return { at: [c * x + s * y, -s * x + c * y], radians: radians - frame.radians };
    }),
  };
}

/**
 * A frame for marks at unknown places: origin in their middle; x along the direction in which they are spread, or, where they have none,
 * along the photo's longer side; to the right in the photo (or down it).
 */
export function ownFrame(
  camera: Camera,
  marks: readonly Mark[],
  poses: readonly Pose[],
  width: number,
  height: number,
): Pose {
  const spots = marks.flatMap((mark, i) => mark.points.map((point) => onFace(poses[i] as Pose, point.at)));
  const n = spots.length;
  const at: Point<'face'> = [spots.reduce((sum, p) => sum + p[0], 0) / n, spots.reduce((sum, p) => sum + p[1], 0) / n];
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of spots) {
    xx += (x - at[0]) ** 2;
    xy += (x - at[0]) * (y - at[1]);
    yy += (y - at[1]) ** 2;
  }
  const middle = camera.project(at, 0);
  const aside: Point<'photo'> = width >= height ? [middle[0] + 50, middle[1]] : [middle[0], middle[1] + 50];
  const to = camera.place(aside, 0) ?? [at[0] + 1, at[1]];
  const along = Math.atan2(to[1] - at[1], to[0] - at[0]);
  const spread = Math.hypot(xx - yy, 2 * xy) / (xx + yy);
  if (spread < 0.4) return { at, radians: along };
  const radians = 0.5 * Math.atan2(2 * xy, xx - yy);
  return { at, radians: Math.cos(radians - along) >= 0 ? radians : radians + Math.PI };
}
