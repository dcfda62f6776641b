import { regionContains } from '../../../../geometry';
import { type Calibration, type Face, isProposed, type Photo } from '../../../../job';
import { heightsFrom, measure, parallax, rulerOf } from '../../../../photo';
import { type Reading, slabReadings } from '../../../../surface';
import { formatLength, formatPlusMinus } from '../../../../units';
import { useUnits } from '../../../parts/job-context';
import type { StockView } from '../view';
import { mendFor, spoken } from './names';
import { measureAgain } from './remeasure';

/** A ± over this, mm, is more than a shop likes. */
const MUCH = 6;

/** What makes a measure surer, by what it was measured by. */
const SURER = {
  markers: 'cards nearer to the corners, the camera higher and looking straight down, or a long tape check',
  paper: "a long tape check, this camera's lens, or cards near the corners instead of one sheet",
  rods: "the corners and marks of the rods, a long tape check, or this camera's lens",
  slab: 'a chalk tick at each edge where a width is taped and its tap on the tick, a photo from higher up, or printed cards',
  points: 'more points near the corners, or a long tape check',
} as const;

/** What measuring a photo told: how sure it is, what was left out and why, and what height and warp do to it. */
export function Findings({ view, photo, face }: { view: StockView; photo: Photo; face: Face }) {
  const units = useUnits();
  const lensRefused = photo.calibration?.lensRefused;
  // Two standard deviations, at the best and the worst place of the wood: what the floor would measure is no one's concern.
  const { outline } = face;
  const measured = Object.values(face.photos).flatMap((one) => one.calibration ?? []);
  const ruler = rulerOf(face);
  const onWood = measured.flatMap(({ sigma }) => sigma).filter(({ at }) => outline && regionContains(outline, at));
  const all = onWood.map(({ at, mm }) => 2 * (ruler.sigma(at) ?? mm));
  const left = leftOut(measured);
  const proposed = Object.values(face.defects).filter(isProposed).length;
  return (
    <div class="note measured stack">
      <p>
        Measured
        {all.length > 0 && (
          <>
            {' '}
            to {formatPlusMinus(Math.min(...all), units)} near the marks, {formatPlusMinus(Math.max(...all), units)} at
            worst
          </>
        )}
        .
        {face.outlineSigma !== null && (
          <> The traced edge is {formatPlusMinus(2 * face.outlineSigma, units, { unit: true })}.</>
        )}
      </p>
      {Math.max(...all) > MUCH && <p class="small">To make it surer: {SURER[photo.scale.kind]}.</p>}
      {[...left].map(([name, why]) => (
        <p key={name}>
          <strong>{spoken(name)} left out:</strong> {why}
        </p>
      ))}
      {lensRefused !== undefined && <p>This camera's lens was not used: {lensRefused}</p>}
      <Height photo={photo} face={face} />
      <Warp view={view} photo={photo} />
      {proposed > 0 && (
        <button type="button" class="button" onClick={() => view.open('defects')}>
          Look at {proposed === 1 ? 'one defect' : `${proposed} defects`} that it saw
        </button>
      )}
    </div>
  );
}

/** What was left out in any of the face's photos, and why. */
function leftOut(calibrations: readonly Calibration[]): Map<string, string> {
  const all = new Map<string, string>();
  for (const { outliers, reasons = [] } of calibrations)
    for (const name of outliers.filter((one) => !one.startsWith('distance')))
      all.set(
        name,
        reasons.find((reason) => reason.name === name)?.why ?? `it does not agree with the others. ${mendFor(name)}`,
      );
  return all;
}

/** Parallax in one line with its size, where the reference lies lower than the face. */
function Height({ photo, face }: { photo: Photo; face: Face }) {
  const units = useUnits();
  const { calibration, scale } = photo;
  const { drop, cameraHeight } = scale;
  if (!calibration || !drop) return null;
  const { worst, share, cameraHeight: found } = parallax(calibration, drop, face.outline?.outer);
  const length = (mm: number) => formatLength(mm, units, { decimals: 0, denominator: 16, unit: true });
  return (
    <p class="small">
      The wood stands {length(drop)} nearer to the camera than what it is measured by, so it looks{' '}
      {(100 * share).toFixed(1)} % larger; this is allowed for. Left alone, its farthest edge would be off by{' '}
      {length(worst)}. The camera was {length(found)} above the face (
      {cameraHeight === undefined ? 'found from the photo' : 'your measure helped'}).
    </p>
  );
}

/** Warp that a rough slab is believed to have before it is read, mm at its ends and corners (practice). */
const USUAL_WARP = 5;
/** Readings that say something of a warp. */
const LEAST_READINGS = 4;

/** What warp may do to the measure before the face is read; and measuring by the readings once it is. */
function Warp({ view, photo }: { view: StockView; photo: Photo }) {
  const units = useUnits();
  const slab = view.place.value?.slab;
  const { calibration } = photo;
  if (!slab || !calibration || view.faceName.value !== 'top') return null;
  const readings = slabReadings(slab).top;
  const used = calibration.relief?.length ?? 0;
  const length = (mm: number) => formatLength(mm, units, { decimals: 1, denominator: 16, unit: true });
  if (readings.length < LEAST_READINGS) {
    const { worst } = parallax(calibration, USUAL_WARP, view.face.value?.outline?.outer);
    return used > 0 ? null : (
      <p class="small">
        The ± allows for warp: an edge that stands {length(USUAL_WARP)} high moves by up to {length(worst)} in this
        photo. Read the face, and it is measured point by point.
      </p>
    );
  }
  return (
    <>
      <p class="small">
        {used > 0
          ? 'Measured point by point with the readings of the face.'
          : 'The face has been read, but was measured before.'}
      </p>
      {!sameReadings(readings, calibration) && (
        <button
          type="button"
          class="button"
          disabled={view.reading.value !== null}
          onClick={() => void measureAgain(view, photo, photo.scale, 'Measure with the readings')}
        >
          Measure again with the readings
        </button>
      )}
    </>
  );
}

/** Whether a measure was made with these very readings. */
function sameReadings(readings: readonly Reading[], calibration: Calibration): boolean {
  const relief = calibration.relief ?? [];
  const heights = heightsFrom(readings, measure(calibration));
  return (
    heights.length === relief.length && heights.every(({ z }, i) => Math.abs(z - (relief[i]?.z ?? Infinity)) < 0.01)
  );
}
