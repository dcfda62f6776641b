import { apply, create, type Patches } from 'mutative';
import type { Job } from './job';

/** One step that can be undone: what a person did, said so that history reads well, and the way there and back. */
export interface Edit {
  readonly name: string;
  readonly forward: Patches<true>;
  readonly back: Patches<true>;
}

/** The job with all that was done and undone. Plain data: it is stored with the job, so undo outlives a reload. */
export interface History {
  readonly job: Job;
  readonly done: readonly Edit[];
  readonly undone: readonly Edit[];
}

/** As many steps as are kept: enough for a day's work, few enough to store at every change. */
const KEPT_STEPS = 200;

/** A history that begins at `job`. */
export const begin = (job: Job): History => ({ job, done: [], undone: [] });

/**
 * The history after one more edit; `change` mutates a draft. An edit that changes nothing leaves the history as it is.
 */
export function edit(history: History, name: string, change: (draft: Job) => void): History {
  const [job, forward, back] = create(history.job, change, { enablePatches: true });
  if (forward.length === 0) return history;
  return { job, done: [...history.done, { name, forward, back }].slice(-KEPT_STEPS), undone: [] };
}

/**
 * The history with more put into a step that was taken: what came late belongs to the step that asked for it, and one undo takes both
 * back. `change` must touch only what no later step touches. A step that is no longer done takes nothing.
 */
export function amend(history: History, step: Edit, change: (draft: Job) => void): History {
  const [job, forward, back] = create(history.job, change, { enablePatches: true });
  if (forward.length === 0 || !history.done.includes(step)) return history;
  const whole: Edit = { ...step, forward: [...step.forward, ...forward], back: [...back, ...step.back] };
  return { ...history, job, done: history.done.map((other) => (other === step ? whole : other)) };
}

/** One step back; the same history when there is none. */
export function undo(history: History): History {
  const last = history.done.at(-1);
  if (!last) return history;
  return {
    job: apply(history.job, last.back),
    done: history.done.slice(0, -1),
    undone: [...history.undone, last],
  };
}

/** One step forward again; the same history when there is none. */
export function redo(history: History): History {
  const next = history.undone.at(-1);
  if (!next) return history;
  return {
    job: apply(history.job, next.forward),
    done: [...history.done, next],
    undone: history.undone.slice(0, -1),
  };
}
