import * as Comlink from 'comlink';
import type { Job } from '../src/job';
import { type FoundPlaces, pairOf, type SeamSearch, type SeamTask } from '../src/layout';
import { Cancelled } from '../src/search';
import { InputProblem } from '../src/units';
import type { Answer } from './answer';
import type { SeamApi } from './seam.worker';
import type { StoredFace } from './stored-face';

/** More than this many do not help: each holds the pictures of the job. */
const MOST = 8;
/** A look whether the work was called off, ms. */
const LOOK = 30;

let lastCall = 0;

interface Helper {
  readonly worker: Worker;
  readonly api: Comlink.Remote<SeamApi>;
  /** The job made ready, from the first task on. */
  ready: Promise<unknown> | null;
  /** Pairs of faces that it has read, which takes a second each. */
  readonly pairs: Set<string>;
}

/** The task that a helper had best do next: one on faces that it has read, else one that nobody has. */
function nextOf(open: ReadonlyMap<number, SeamTask>, helper: Helper, helpers: readonly Helper[]): number {
  const [first] = open.keys();
  const own = [...open].find(([, task]) => helper.pairs.has(pairOf(task)));
  const nobodys = [...open].find(([, task]) => !helpers.some(({ pairs }) => pairs.has(pairOf(task))));
  return (own ?? nobodys)?.[0] ?? (first as number);
}

function outcomeOf<T>(answer: Answer<T>): T {
  if (answer.kind === 'done') return answer.value;
  if (answer.kind === 'stopped') throw new Cancelled();
  if (answer.kind === 'problem') throw new InputProblem(answer.message, answer.where, answer.mend);
  throw new Error(answer.message);
}

/**
 * Workers that search pairs of faces side by side, one for each core. What they find stands in the order of the tasks, so that it does not matter
 * how many they are, nor who finishes first.
 */
export class SeamPool {
  readonly #helpers: Helper[];

  constructor(
    private readonly job: Job,
    private readonly faces: readonly StoredFace[],
    cores = navigator.hardwareConcurrency,
  ) {
    this.#helpers = Array.from({ length: Math.max(1, Math.min(MOST, cores)) }, () => {
      const worker = new Worker(new URL('./seam.worker.ts', import.meta.url), { type: 'module', name: 'seams' });
      return { worker, api: Comlink.wrap<SeamApi>(worker), ready: null, pairs: new Set() };
    });
  }

  /** @throws Cancelled @throws Error when a worker broke */
  readonly search: SeamSearch = async (tasks, control) => {
    const found: (FoundPlaces | undefined)[] = tasks.map(() => undefined);
    const shares = new Float64Array(tasks.length);
    const open = new Map(tasks.entries());
    let over = false;
    const work = async (helper: Helper): Promise<void> => {
      while (!over && open.size > 0) {
        const at = nextOf(open, helper, this.#helpers);
        const task = open.get(at) as SeamTask;
        open.delete(at);
        helper.pairs.add(pairOf(task));
        found[at] = await this.#carry(helper, task, (fraction, note) => {
          shares[at] = fraction;
          control.progress(shares.reduce((sum, share) => sum + share, 0) / tasks.length, note);
        });
        shares[at] = 1;
      }
    };
    const broken = this.#helpers.map(
      ({ worker }) =>
        new Promise<never>((_, reject) => {
          worker.onerror = ({ message }) => reject(new Error(message || 'A worker did not start.'));
        }),
    );
    const all = Promise.race([Promise.all(this.#helpers.map(work)), ...broken]);
    const calledOff = new Promise<never>((_, reject) => {
      const look = async (): Promise<void> => {
        while (!over) {
          await control.breathe();
          if (control.cancelled()) return reject(new Cancelled());
          await new Promise((resolve) => setTimeout(resolve, LOOK));
        }
      };
      void look();
    });
    try {
      await Promise.race([all, calledOff]);
    } finally {
      over = true;
    }
    return found as FoundPlaces[];
  };

  /** Ends the workers, whatever they do. */
  close(): void {
    for (const { worker } of this.#helpers) worker.terminate();
  }

  async #carry(helper: Helper, task: SeamTask, tell: (fraction: number, note?: string) => void): Promise<FoundPlaces> {
    helper.ready ??= helper.api
      .open(
        ++lastCall,
        this.job,
        this.faces,
        Comlink.proxy(() => {}),
      )
      .then((answer) => outcomeOf(answer as Answer<null>));
    await helper.ready;
    return outcomeOf((await helper.api.search(++lastCall, task, Comlink.proxy(tell))) as Answer<FoundPlaces>);
  }
}
