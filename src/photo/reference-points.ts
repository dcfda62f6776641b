import type { Scale } from '../job';
import { InputProblem } from '../units';
import type { LensBelief } from './adjustment';
import { Camera } from './camera';
import { type Cv, scope } from './cv';
import { handSetPoint } from './marks';
import type { Reference } from './reference-type';

/** One standard deviation of a hand's click on a point that was marked to be clicked, px (practice, no source). */
const CLICK_SIGMA = 0.7;

/** One standard deviation of a point's place as measured on the slab, mm. Common practice, no source. */
const PLACE_SIGMA = 0.5;

/** Known points as marks without a direction. */
export function pointMarks(cv: Cv, scale: Extract<Scale, { kind: 'points' }>, lens: LensBelief): Reference {
  const marks = scale.points.map(({ px, mm }, i) =>
    handSetPoint(`point ${i + 1}`, px, CLICK_SIGMA, { at: mm, sigma: PLACE_SIGMA }),
  );
  const poses = scale.points.map(({ mm }) => ({ at: mm, radians: 0 }));
  const h = homography(cv, scale.points);
  const centre = [lens.centre[0].mean, lens.centre[1].mean] as const;
  const camera = h && Camera.fromHomography(h, lens.focal.mean, centre);
  if (!camera) {
    throw new InputProblem(
      'These points do not tell how the slab lies: three or more of the four lie on one line.',
      '/points',
      'Choose points spread over the slab, such as near its four corners.',
    );
  }
  if (!(camera.position[2] < 0)) {
    throw new InputProblem(
      'The points on the slab are a mirror image of the points in the photo.',
      '/points',
      'Check their order, and let y grow clockwise from x as the photo shows it (x to the right, y down).',
    );
  }
  return {
    ways: [{ marks, rough: marks }],
    start: { camera, poses },
    leftOut: [],
    leastEdgeSigma: 0,
    bias: { mean: 0, sigma: 1 },
    least: 4,
  };
}

/** Face to photo, row by row, the odd wrong point set aside; null where the points do not determine it. */
function homography(
  cv: Cv,
  points: readonly { px: readonly [number, number]; mm: readonly [number, number] }[],
): number[] | null {
  return scope(cv, (own) => {
    const matrix = (of: (p: (typeof points)[number]) => readonly [number, number]) =>
      own(
        cv.matFromArray(
          points.length,
          1,
          cv.CV_64FC2,
          points.flatMap((p) => [...of(p)]),
        ),
      );
    const span = Math.max(
      ...points.map((p) => Math.hypot(p.px[0] - (points[0]?.px[0] ?? 0), p.px[1] - (points[0]?.px[1] ?? 0))),
    );
    const method = points.length > 4 ? cv.RANSAC : 0;
    const h = own(
      cv.findHomography(
        matrix((p) => p.mm),
        matrix((p) => p.px),
        method,
        Math.max(3, span * 0.01),
      ),
    );
    if (h.rows !== 3) return null;
    const values = [...h.data64F];
    // A map that folds the points' own spread to a line has no use.
    const [a, b, , d, e] = values as [number, number, number, number, number];
    return values.every(Number.isFinite) && Math.abs(a * e - b * d) > 1e-9 * (a * a + b * b + d * d + e * e)
      ? values
      : null;
  });
}
