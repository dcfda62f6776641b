import { type Bounds, bounds, offset } from '../geometry';
import type { Calibration } from '../job';
import type { FacePicture } from '../raster';
import { type Control, pause, stage, unwatched } from '../search';
import { InputProblem } from '../units';
import type { Cv } from './cv';
import { measure } from './measure';
import { medianSigma } from './outline-doubt';
import { crop } from './pictures';
import { AROUND, COARSEST, detailOf, FINEST } from './read-face';
import { type FaceReading, heightsFrom } from './readings';
import { type SightedPhoto, settled, sightedIn } from './sighted';
import { frameOfShots, hintsOf, joined } from './stitch-join';
import { seenBy, stitched } from './stitch-picture';
import { sightingsOf } from './stitch-sightings';
import { tieWays } from './stitch-tie';
import type { FaceOfShots, MeasuredShot, ReadFaceOfShotsOptions, Shot } from './stitch-types';
import { trace } from './trace';
import type { Side, Traced } from './trace-types';
import { calibrationAt } from './working-copy';

/**
 * Measures and traces a face that was shot in two or more pictures: each is measured by its own reference, all are brought into one frame
 * by the marks that they share, the wood's own figure settles what is left, and the picture of the whole is traced like one photo.
 * @throws InputProblem when photos share no mark, overlap too little or show different wood; when a reference or the wood is not found
 */
export async function readFaceOfShots(
  cv: Cv,
  shots: readonly Shot[],
  options: ReadFaceOfShotsOptions = {},
): Promise<FaceOfShots> {
  const control: Control = { ...unwatched(), ...options.control };
  const { readings = [] } = options;
  let own = await measured(cv, shots, stage(control, 0, 0.3));
  let face = await joined(cv, own, stage(control, 0.3, 0.6));
  if (readings.length > 0) {
    // Readings lie in the face's frame, which is known only now: each photo is measured once more with them.
    await pause(control, 0.6, 'Measuring with the readings');
    own = own.map((shot, i) => withReadings(shot, readings, face.calibrations[i] as Calibration));
    face = await joined(cv, own, stage(control, 0.6, 0.75));
  }
  const { layers, cuts, calibrations, joins } = face;
  const mmPerPx = Math.min(
    COARSEST,
    Math.max(
      FINEST,
      Math.min(...layers.map(({ photo, calibration }) => detailOf(measure(calibrationAt(calibration, photo)), photo))),
    ),
  );
  let near = face.whole;
  const closer = (part: Bounds): FacePicture => {
    near = stitched(cv, layers, cuts, { mmPerPx, bounds: part });
    return near;
  };
  const found = await trace(cv, face.whole, {
    ...hintsOf(own, face),
    // Where marks or wood miss each other the outline is doubted by as much.
    sigma: () =>
      Math.hypot(
        Math.max(...calibrations.map(medianSigma)),
        ...joins.map(({ marks, wood }) => Math.max(marks, wood ?? 0) / 2),
      ),
    frame: frameOfShots(calibrations),
    closer,
    control: stage(control, 0.75, 1),
  });
  const box = bounds(offset([found.outline], AROUND).flatMap(({ outer }) => outer));
  const traced: Traced = { ...found, cutOff: cutOff(found) };
  return { calibrations, joins, traced, picture: crop(near, box) };
}

/** Photos of one face look at parts of it that lie this far apart, as a share of what each shows along it. */
const ASIDE = 0.15;

/**
 * Whether photos look as if they showed parts of one face: they share marks, which lie alike in them, and look at different places. The
 * wood itself is not compared.
 */
export function layBeside(cv: Cv, shots: readonly Shot[]): boolean {
  const all = shots.map((shot) => measuredShot(cv, shot));
  const [way] = tieWays(all);
  // A single mark fits anywhere.
  if (!way || way.moved.length > 0 || way.tie.marks < 2) return false;
  const boxes = way.tie.calibrations.map(seenBy);
  return boxes.some((a) =>
    boxes.some(
      (b) =>
        Math.abs(a.minX + a.maxX - b.minX - b.maxX) > 2 * ASIDE * (a.maxX - a.minX) ||
        Math.abs(a.minY + a.maxY - b.minY - b.maxY) > 2 * ASIDE * (a.maxY - a.minY),
    ),
  );
}

/** Each shot measured by itself. */
async function measured(cv: Cv, shots: readonly Shot[], control: Control): Promise<MeasuredShot[]> {
  const all: MeasuredShot[] = [];
  for (const [i, shot] of shots.entries()) {
    await pause(control, i / shots.length, `Finding the reference in ${shot.name}`);
    all.push(measuredShot(cv, shot));
  }
  return all;
}

function measuredShot(cv: Cv, shot: Shot): MeasuredShot {
  return saidOf(shot, () => {
    const sighted = sightedIn(cv, shot.photo, shot.scale, shot);
    return measuredBy(shot, sighted, settled(sighted));
  });
}

/** A shot measured once more, with what was read of the face. */
function withReadings(own: MeasuredShot, readings: readonly FaceReading[], over: Calibration): MeasuredShot {
  const { shot, sighted } = own;
  const heights = sighted.scale.heights ? [] : heightsFrom(readings, measure(over));
  return heights.length === 0 ? own : saidOf(shot, () => measuredBy(shot, sighted, sighted.calibrated(heights)));
}

function measuredBy(shot: Shot, sighted: SightedPhoto, calibration: Calibration): MeasuredShot {
  const times = (shot.full ?? shot.photo).width / shot.photo.width;
  return { shot, sighted, calibration, sightings: sightingsOf(sighted, calibration, times) };
}

/** What is wrong with a shot is said with its name. */
function saidOf<T>({ name }: Shot, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof InputProblem)) throw error;
    throw new InputProblem(`${name}: ${error.message}`, error.where, error.mend);
  }
}

/** Sides of the face, as its picture shows it, at which the wood runs out of all photos. */
function cutOff({ outline, unseen }: Omit<Traced, 'cutOff'>): Side[] {
  const { minX, minY, maxX, maxY } = bounds(outline.outer);
  const sides = unseen.map((line): Side => {
    const [x, y] = line[line.length >> 1] ?? [minX, minY];
    const away: [number, Side][] = [
      [x - minX, 'left'],
      [maxX - x, 'right'],
      [y - minY, 'top'],
      [maxY - y, 'bottom'],
    ];
    return away.reduce((a, b) => (b[0] < a[0] ? b : a))[1];
  });
  return [...new Set(sides)];
}
