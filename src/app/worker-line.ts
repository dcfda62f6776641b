import * as Comlink from 'comlink';
import type { Answer, Report } from '../../workers/answer';
import { InputProblem } from '../units';

/** What every worker offers besides its own calls. */
interface Stoppable {
  stop(id: number): void;
}

interface Line<Api> {
  worker: Worker;
  api: Comlink.Remote<Api>;
  /** Ends the calls under way with an error: one for each of them. */
  fail: Set<(error: Error) => void>;
  /** Whether it takes no more calls and ends with its last one. */
  spent: boolean;
}

type Send<Api, T> = (api: Comlink.Remote<Api>, id: number, report: Report) => Promise<Answer<T>>;

/** What a call ends with whose worker was ended for the sake of another call: it is no fault of its own, so it is sent again. */
class Displaced extends Error {}

/** A worker that was asked to stop and does not, within this many ms, is replaced. */
const PATIENCE = 1500;

let lastCall = 0;

/**
 * The line to one long-lived worker. It is opened at the first call and opened anew after it has crashed or been replaced;
 * the job is never touched by that, since a worker holds no state of it. One that says that it is spent is let go as soon as its
 * calls have ended.
 */
export class WorkerLine<Api extends Stoppable> {
  private open: Line<Api> | null = null;

  constructor(private readonly start: () => Worker) {}

  /**
   * One call. `send` passes its number and a report on to the worker.
   * @throws InputProblem as the worker found it; the signal's reason when stopped; Error when the worker broke
   */
  async call<T>(signal: AbortSignal, report: Report, send: Send<Api, T>): Promise<T> {
    for (;;) {
      try {
        return await this.once(signal, report, send);
      } catch (error) {
        if (!(error instanceof Displaced)) throw error;
      }
    }
  }

  private async once<T>(signal: AbortSignal, report: Report, send: Send<Api, T>): Promise<T> {
    signal.throwIfAborted();
    const id = ++lastCall;
    const line = this.connect();
    let patience: ReturnType<typeof setTimeout> | undefined;
    let fail: (error: Error) => void = () => {};
    let ended = false;
    // Reports come by a way of their own: one may be late, and would begin a progress that nothing ends.
    const heard: Report = (...told) => {
      if (!ended) report(...told);
    };
    const stop = () => {
      void line.api.stop(id);
      patience = setTimeout(() => this.displace(line, fail, signal.reason), PATIENCE);
    };
    signal.addEventListener('abort', stop, { once: true });
    try {
      const broken = new Promise<never>((_, reject) => {
        fail = reject;
        line.fail.add(reject);
      });
      const answer = await Promise.race([send(line.api, id, Comlink.proxy(heard)), broken]);
      if (answer.spent) this.retire(line);
      if (answer.kind === 'done') return answer.value;
      if (answer.kind === 'stopped') throw signal.reason;
      if (answer.kind === 'problem') throw new InputProblem(answer.message, answer.where, answer.mend);
      const fault = new Error(answer.message);
      this.replace(line, fault);
      throw fault;
    } finally {
      ended = true;
      clearTimeout(patience);
      line.fail.delete(fail);
      if (line.spent && line.fail.size === 0) line.worker.terminate();
      signal.removeEventListener('abort', stop);
    }
  }

  private connect(): Line<Api> {
    if (this.open) return this.open;
    const worker = this.start();
    const line: Line<Api> = { worker, api: Comlink.wrap<Api>(worker), fail: new Set(), spent: false };
    worker.addEventListener('error', (event) =>
      this.replace(line, new Error(event.message || 'The worker did not start.')),
    );
    worker.addEventListener('messageerror', () =>
      this.replace(line, new Error('The worker sent what cannot be read.')),
    );
    this.open = line;
    return line;
  }

  /** Lets a worker finish what it does; the next call opens a new one, and nobody notices. */
  private retire(line: Line<Api>): void {
    if (this.open === line) this.open = null;
    line.spent = true;
  }

  /** Ends a worker whose call does not stop: that call fails with `reason`, and all others are sent anew. */
  private displace(line: Line<Api>, own: (error: Error) => void, reason: Error): void {
    own(reason);
    this.replace(line, new Displaced());
  }

  /** Ends a worker; its calls fail with `error`, and the next call opens a new one. */
  private replace(line: Line<Api>, error: Error): void {
    if (this.open === line) this.open = null;
    line.worker.terminate();
    for (const fail of line.fail) fail(error);
  }
}
