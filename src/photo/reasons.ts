import type { Point } from '../geometry';
import { minimise } from './least-squares';
import { type Mark, onFace, type Pose } from './marks';
import type { Solution } from './solve';
import { layOut } from './start';

/** A size this near to the nominal one is the nominal one, as a share. */
const SAME_SIZE = 0.006;
/** A mark may lie lower by as much as a floor below a slab on bearers, or a bench below a leaf, mm; or higher by an offcut's thickness. */
const LOWER = 250;
const HIGHER = 60;
/** Edges of a flat mark miss its drawing by less than this, px (root of the mean of squares). */
const FLAT = 0.45;

/**
 * Why a mark that was left out disagrees, as far as it can be told by laying it alone before the camera that the others found: at a
 * size of its own, wherever it likes. Smaller and farther look alike, so both are said where both are likely.
 */
export function whyLeftOut(mark: Mark, { problem, state }: Solution): string | null {
  const { camera } = state;
  const depth = problem.drop - mark.above;
  const [start] = layOut(camera, [{ ...mark, points: sightings(mark) }], problem.drop) as [Pose];
  if (!mark.turns) {
    const off = mark.known && Math.hypot(start.at[0] - mark.known.at[0], start.at[1] - mark.known.at[1]);
    return off ? `the photo shows it ${off.toFixed(0)} mm from its measured place` : null;
  }
  const spots = sightings(mark);
  const alone = (p: Float64Array, out: Float64Array) => {
    const pose: Pose = { at: [p[0] as number, p[1] as number], radians: p[2] as number };
    const show = (x: number, y: number) => camera.project(onFace(pose, [x, y], p[3] as number), depth);
    spots.forEach(({ at, px, across }, i) => {
      const [u, v] = show(at[0], at[1]);
      if (!across) out.set([u - px[0], v - px[1]], 2 * i);
      else {
        const [u1, v1] = show(at[0] - across[1], at[1] + across[0]);
        const length = Math.hypot(u1 - u, v1 - v);
        out.set([((px[0] - u) * (v1 - v) - (px[1] - v) * (u1 - u)) / length + state.bias, 0], 2 * i);
      }
    });
  };
  const fit = minimise({
    start: Float64Array.of(...start.at, start.radians, 1),
    step: Float64Array.of(1e-3, 1e-3, 1e-6, 1e-6),
    rows: 2 * spots.length,
    residuals: alone,
  });
  const size = fit.p[3] as number;
  const missed = Math.sqrt(fit.cost / spots.length);
  const { dimension, known } = mark;
  if (missed > FLAT && mark.edges.length > 0) {
    return `it does not lie flat: its edges miss a flat drawing by ${missed.toFixed(1)} px (bent, curled, or partly lifted)`;
  }
  if (Math.abs(size - 1) > SAME_SIZE) {
    const fits = dimension && `its ${dimension.name} fits as ${(dimension.mm * size).toFixed(1)} mm`;
    // Looked at as if it were on the face, a mark that lies lower seems smaller by its share of the camera's height.
    const lower = (1 / size - 1) * (depth - camera.position[2]);
    const height =
      lower > 0 && lower < LOWER
        ? `it lies about ${lower.toFixed(0)} mm lower than the others`
        : lower < 0 && lower > -HIGHER
          ? `it lies about ${(-lower).toFixed(0)} mm higher than the others`
          : null;
    return [fits, height].filter((word) => word !== null).join(', or ') || null;
  }
  if (!known) return null;
  const off = Math.hypot((fit.p[0] as number) - known.at[0], (fit.p[1] as number) - known.at[1]);
  return `the photo shows it ${off.toFixed(0)} mm from its measured place`;
}

/** All that was seen of a mark: points, and spots on edges with the way across them on the drawing. */
function sightings({ points, edges }: Mark) {
  return [
    ...points.map((point) => ({ ...point, across: null })),
    ...edges.map(({ at, px, towards }) => ({ at, px, sigma: 1, across: towards })),
  ] as { at: Point<'face'>; px: Point<'photo'>; sigma: number; across: readonly [number, number] | null }[];
}
