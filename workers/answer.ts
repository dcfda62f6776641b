import { Cancelled, type Control, unwatched } from '../src/search';
import { InputProblem } from '../src/units';

/**
 * How a worker answers. Errors lose their fields on the way between threads, so a problem travels as plain data.
 * `fault` is a fault of ours: the worker may be broken and is replaced.
 */
export type Answer<T> = Outcome<T> & {
  /** Whether the worker holds so much that it should end when its calls have. */
  spent?: boolean;
};
type Outcome<T> =
  | { kind: 'done'; value: T }
  | { kind: 'stopped' }
  | { kind: 'problem'; message: string; where: string; mend: string }
  | { kind: 'fault'; message: string };

/** Hears how far the work is: 0..1, and what is being done. */
export type Report = (fraction: number, note?: string) => void;

/** Progress is told this often at most, in ms: more would only keep the page busy. */
const REPORT_EVERY = 50;

/** The calls that one worker carries, each by its number, so that each can be stopped. */
export class Calls {
  private readonly stopped = new Set<number>();
  private readonly channel = new MessageChannel();
  private readonly waiting: (() => void)[] = [];

  /** @param isSpent whether the worker has come to hold more than it may */
  constructor(private readonly isSpent: () => boolean = () => false) {
    this.channel.port1.onmessage = () => this.waiting.shift()?.();
  }

  /** Asks call `id` to stop at its next breath. */
  stop(id: number): void {
    this.stopped.add(id);
  }

  /** Carries one call: whatever `work` throws becomes an answer. */
  async answer<T>(id: number, report: Report, work: (control: Control) => Promise<T>): Promise<Answer<T>> {
    const outcome = await this.outcome(id, report, work);
    return { ...outcome, spent: this.isSpent() };
  }

  private async outcome<T>(id: number, report: Report, work: (control: Control) => Promise<T>): Promise<Outcome<T>> {
    let told = 0;
    const control: Control = {
      ...unwatched(),
      progress: (fraction, note) => {
        const now = performance.now();
        if (now - told < REPORT_EVERY && fraction < 1) return;
        told = now;
        report(fraction, note);
      },
      cancelled: () => this.stopped.has(id),
      // A message to oneself takes 0.02 ms; a timer would cost 4.
      breathe: () =>
        new Promise((resolve) => {
          this.waiting.push(resolve);
          this.channel.port2.postMessage(0);
        }),
    };
    try {
      return { kind: 'done', value: await work(control) };
    } catch (error) {
      if (error instanceof Cancelled) return { kind: 'stopped' };
      if (error instanceof InputProblem)
        return { kind: 'problem', message: error.message, where: error.where, mend: error.mend };
      return { kind: 'fault', message: error instanceof Error ? error.message : String(error) };
    } finally {
      this.stopped.delete(id);
    }
  }
}
