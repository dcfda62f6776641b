import * as Comlink from 'comlink';
import type { Job } from '../src/job';
import { type FoundPlaces, type Ground, groundOf, type SeamTask, seamTask } from '../src/layout';
import { pause } from '../src/search';
import { type Answer, Calls, type Report } from './answer';
import { opened, type StoredFace } from './stored-face';

/** Searches pairs of faces for seams: one of several that share the work of a layout. Thin: what is computed is in the rooms. */

const calls = new Calls();
let ground: Ground | null = null;

const api = {
  stop(id: number): void {
    calls.stop(id);
  },

  /** Makes a job ready. */
  open(id: number, job: Job, faces: readonly StoredFace[], report: Report): Promise<Answer<null>> {
    return calls.answer(id, report, async (control) => {
      await pause(control, 0);
      const pictures = await Promise.all(faces.map(async (face) => [face.key, await opened(face)] as const));
      ground = groundOf(job, new Map(pictures));
      return null;
    });
  },

  /** One pair, for the job that was opened last. */
  search(id: number, task: SeamTask, report: Report): Promise<Answer<FoundPlaces>> {
    return calls.answer(id, report, async (control) => {
      if (!ground) throw new Error('no job was opened');
      return seamTask(task, ground, control);
    });
  },
};
export type SeamApi = typeof api;
Comlink.expose(api);
