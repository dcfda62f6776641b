import type { Point } from '../geometry';
import type { Calibration } from '../job';
import { onFace, type Pose, rigidFit } from './marks';
import { type Measure, measure } from './measure';
import type { MeasuredShot } from './stitch-types';

/** Spots along each side of a photo by which two measures of it are compared. */
const SPOTS = 5;
/** Marks spread less than this (of all, as a share) have no direction. */
const SPREAD = 0.4;

/**
 * Where the face's frame lies in the one that the shots were tied in. A face that was measured before keeps its frame; where mm are given
 * with a reference theirs is the frame; else the origin lies amid all marks and x runs along them, as it does in the first shot.
 * @returns the tied frame's own place in the face's
 */
export function faceFrame(shots: readonly MeasuredShot[], tied: readonly Calibration[]): Pose {
  const earlier = shots.findIndex(({ shot }) => shot.before);
  if (earlier >= 0) return between(tied[earlier] as Calibration, shots[earlier]?.shot.before as Calibration);
  const given = shots.findIndex(
    ({ shot: { scale } }) => scale.kind === 'points' || (scale.kind === 'markers' && scale.centres),
  );
  if (given >= 0) return between(tied[given] as Calibration, (shots[given] as MeasuredShot).calibration);
  const spots = shots.flatMap(({ sightings }, i) => {
    const view = measure(tied[i] as Calibration);
    return sightings.flatMap(({ px }) => px.map((at) => view.place(at)).filter((at) => at !== null));
  });
  const mean = (k: 0 | 1) => spots.reduce((sum, p) => sum + p[k], 0) / Math.max(1, spots.length);
  const at: Point<'face'> = [mean(0), mean(1)];
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of spots) {
    xx += (x - at[0]) ** 2;
    xy += (x - at[0]) * (y - at[1]);
    yy += (y - at[1]) ** 2;
  }
  const told = Math.hypot(xx - yy, 2 * xy) >= SPREAD * (xx + yy);
  const along = told ? 0.5 * Math.atan2(2 * xy, xx - yy) : 0;
  const own = onFace({ at: [0, 0], radians: -along }, at);
  return { at: [-own[0], -own[1]], radians: -along };
}

/** How a photo's frame by one measure lies in that by another. */
function between(from: Calibration, to: Calibration): Pose {
  const [a, b]: [Measure, Measure] = [measure(from), measure(to)];
  const { width, height } = from;
  const [own, theirs]: [Point<'face'>[], Point<'face'>[]] = [[], []];
  for (let n = 0; n < SPOTS * SPOTS; n++) {
    const [i, j] = [(n % SPOTS) + 1, Math.floor(n / SPOTS) + 1];
    const px: Point<'photo'> = [(i * width) / (SPOTS + 1), (j * height) / (SPOTS + 1)];
    const [p, q] = [a.place(px), b.place(px)];
    if (!p || !q) continue;
    own.push(p);
    theirs.push(q);
  }
  return rigidFit(own, theirs);
}
