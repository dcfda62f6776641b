import { InputProblem } from '../units';
import type { Job } from './job';
import type { FaceName, Flitch, Slab } from './stock';

/** The slabs of a flitch in sawing order. */
export function slabsInOrder(flitch: Flitch): Slab[] {
  return Object.values(flitch.slabs).sort((a, b) => a.place - b.place || a.id.localeCompare(b.id));
}

/** A slab with its flitch. @throws InputProblem when the job holds no such slab */
export function findSlab(job: Job, flitchId: string, slabId: string): { flitch: Flitch; slab: Slab } {
  const flitch = job.flitches[flitchId];
  const slab = flitch?.slabs[slabId];
  if (!flitch || !slab) {
    throw new InputProblem(
      `The job has no slab "${slabId}" in flitch "${flitchId}".`,
      `/flitches/${flitchId}`,
      'Name a slab of the job.',
    );
  }
  return { flitch, slab };
}

/** Moisture of a slab: its own reading, else its flitch's; null when neither was taken. */
export function moistureOf(flitch: Flitch, slab: Slab): number | null {
  return slab.moisture ?? flitch.moisture;
}

export const otherFace = (face: FaceName): FaceName => (face === 'top' ? 'bottom' : 'top');

/** What a face is called to those who look at it. */
export const calledFace = (face: FaceName): string => (face === 'top' ? 'the top face' : 'the underside');

/** Key of a slab among those of a job: 'flitch/slab'. */
export const slabKey = (flitch: string, slab: string): string => `${flitch}/${slab}`;

/** Key of a slab's face, for pictures and the like: 'flitch/slab/face'. */
export const faceKey = (flitch: string, slab: string, face: 'top' | 'bottom'): string =>
  `${slabKey(flitch, slab)}/${face}`;
