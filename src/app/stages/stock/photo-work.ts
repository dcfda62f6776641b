import { type Face, type FaceName, isProposed, type Job } from '../../../job';
import { type FaceReading, WHICH_PIECE } from '../../../photo';
import { slabReadings } from '../../../surface';
import { InputProblem } from '../../../units';
import { announce } from '../../announce';
import { troubleOf } from '../../parts/problem';
import type { StockView } from './view';

/** What all work on photos needs. */

/** Where a photo belongs. */
export interface Target {
  slabId: string;
  face: FaceName;
  photoId: string;
}

/** What was read of the face with a straightedge, to measure a warped face by: only the upper face's readings are kept in its own frame. */
export function readingsOf(job: Job, { slabId, face }: Target): FaceReading[] {
  const slab = Object.values(job.flitches).find(({ slabs }) => slabs[slabId])?.slabs[slabId];
  return slab && face === 'top' ? slabReadings(slab).top.map(({ at, z }) => ({ at, z })) : [];
}

/** Takes out proposals that nobody settled. */
export function dropProposals(face: Face): void {
  for (const defect of Object.values(face.defects)) if (isProposed(defect)) delete face.defects[defect.id];
}

/** Whether a photo could not be read because it shows more than one slab. */
const asksWhich = (error: unknown): boolean => error instanceof InputProblem && error.where === WHICH_PIECE;

export const AS_IT_WAS = 'Stopped. The job is as it was.';

/**
 * Runs long work in view: progress, a way to stop, and the problem in words.
 * @param stopped what is said when it was stopped
 * @returns null when it failed or was stopped
 */
export async function work<T>(
  view: StockView,
  label: string,
  stopped: string,
  run: (signal: AbortSignal, report: (fraction: number, note?: string) => void) => Promise<T>,
): Promise<T | null> {
  const abort = new AbortController();
  const stop = () => abort.abort(new DOMException('stopped', 'AbortError'));
  const show = (fraction: number, note = '') => {
    view.reading.value = { label, fraction, note, stop };
  };
  view.trouble.value = null;
  show(0);
  try {
    return await run(abort.signal, show);
  } catch (error) {
    if (abort.signal.aborted) announce(stopped);
    else view.trouble.value = { ...troubleOf(error), byHand: label === 'Reading the photo', which: asksWhich(error) };
    return null;
  } finally {
    view.reading.value = null;
  }
}

/** The name of the step that reading photos is, where a photo is taken out with it. */
export const stepOf = (reading: string, without?: string): string => (without ? 'Take out a photo' : reading);

/** What is said when reading was stopped: photos that were added before stay added, and what was read of the others stays. */
export const stoppedSays = (unread: string, without?: string): string =>
  `Stopped. ${without ? 'The photo is not taken out' : unread}: the face is as it was.`;
