import { WorkBudget } from './budget';

/** Thrown by long work that its caller has called off. It is not a fault: the job stays as it was. */
export class Cancelled extends Error {
  override readonly name = 'Cancelled';

  constructor() {
    super('The work was stopped.');
  }
}

/** What a solver knows of its caller: how much it may do, whom to tell how far it is, and whether to stop. */
export interface Control {
  readonly budget: WorkBudget;
  /** @param fraction done so far, 0..1, never falling; @param note what is being done, in words for the screen */
  progress(fraction: number, note?: string): void;
  /** Whether the caller has called the work off. */
  cancelled(): boolean;
  /** Lets the worker hear its messages (a `cancel` among them). Cheap enough to be called every 30 ms. */
  breathe(): Promise<void>;
}

/** A control that nobody listens to: for tests, scripts and work too short to be stopped. */
export function unwatched(budget: WorkBudget = new WorkBudget()): Control {
  return { budget, progress: () => {}, cancelled: () => false, breathe: async () => {} };
}

/**
 * Reports progress, lets messages in, and gives up if one of them was to stop.
 * @throws Cancelled
 */
export async function pause(control: Control, fraction: number, note?: string): Promise<void> {
  control.progress(fraction, note);
  await control.breathe();
  if (control.cancelled()) throw new Cancelled();
}

/** The same control for one stage of the work, whose 0..1 is `from`..`to` of the whole. */
export function stage(control: Control, from: number, to: number): Control {
  return {
    budget: control.budget,
    progress: (fraction, note) => control.progress(from + (to - from) * fraction, note),
    cancelled: () => control.cancelled(),
    breathe: () => control.breathe(),
  };
}
