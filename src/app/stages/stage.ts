import type { ComponentType } from 'preact';
import type { Job } from '../../job';
import type { JobStore } from '../store';

/** What a stage's screen is given. It lays itself out with `StageLayout`: the drawing, and the facts beside or below it. */
export interface StageProps {
  store: JobStore;
}

/** What stands under a stage's name: whether it has what the next stages need, and in three words what there is or lacks. */
export interface StageMark {
  done: boolean;
  says: string;
}

/** One stage of the work. */
export interface Stage {
  id: string;
  name: string;
  mark(job: Job): StageMark;
  Screen: ComponentType<StageProps>;
}
