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
  /** Ticks since anything was heard of it. */
  silent: number;
}

type Send<Api, T> = (api: Comlink.Remote<Api>, id: number, report: Report) => Promise<Answer<T>>;

/** What a call ends with whose worker was ended for the sake of another call: it is no fault of its own, so it is sent again. */
class Displaced extends Error {}

/** So often a call is sent whose worker was replaced for another's sake: it may be the one that hangs it. */
const MOST_SENDS = 3;

/** Of a worker at work something is heard within so many ticks of so many ms, even on a slow phone; else it hangs and is replaced. A tick, since a clock runs on while the machine sleeps. */
const TICK = 1000;
const MOST_SILENT = 300;

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
   * @throws InputProblem as the worker found it, or when the worker hangs; the signal's reason when stopped; Error when the worker broke
   */
  async call<T>(signal: AbortSignal, report: Report, send: Send<Api, T>): Promise<T> {
    for (let sent = 1; ; sent++) {
      try {
        return await this.once(signal, report, send);
      } catch (error) {
        if (!(error instanceof Displaced)) throw error;
        if (sent === MOST_SENDS)
          throw new InputProblem('This was broken off again and again, and is given up.', '', 'Try it by itself.');
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
    line.silent = 0;
    const watch = setInterval(() => this.watch(line), TICK);
    // Reports come by a way of their own: one may be late, and would begin a progress that nothing ends.
    const heard: Report = (...told) => {
      line.silent = 0;
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
      clearInterval(watch);
      line.silent = 0;
      line.fail.delete(fail);
      if (line.spent && line.fail.size === 0) line.worker.terminate();
      signal.removeEventListener('abort', stop);
    }
  }

  private connect(): Line<Api> {
    if (this.open) return this.open;
    const worker = this.start();
    const line: Line<Api> = { worker, api: Comlink.wrap<Api>(worker), fail: new Set(), spent: false, silent: 0 };
    worker.addEventListener('error', (event) =>
      this.replace(line, new Error(event.message || 'The worker did not start.')),
    );
    worker.addEventListener('messageerror', () =>
      this.replace(line, new Error('The worker sent what cannot be read.')),
    );
    this.open = line;
    return line;
  }

  /** Counts how long a worker with calls under way has said nothing; each of them counts, so that several calls have it wait as long together. */
  private watch(line: Line<Api>): void {
    line.silent += 1 / line.fail.size;
    if (line.silent < MOST_SILENT) return;
    const minutes = (MOST_SILENT * TICK) / 60_000;
    this.replace(
      line,
      new InputProblem(
        `Nothing was heard of this work for ${minutes} minutes, so it was ended.`,
        '',
        'The job is as it was before. Save it as a file if it happens again, and try with less at once.',
      ),
    );
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
