import { type Signal, signal } from '@preact/signals';
import type { MapFiles } from '../../../../workers/solver.worker';
import type { PaperName } from '../../../cutmap';
import type { Job, Plan } from '../../../job';
import { sayQuietly, tellProgress } from '../../announce';
import { type Trouble, troubleOf } from '../../parts/problem';
import { storedFaces } from '../../plan-view';
import type { JobStore } from '../../store';
import { storedLeaves } from '../../stored-leaves';
import { solverWork } from '../../work';

/** Draws the cutting map of a job: the last one asked for, kept until another is. */
export class MapMaker {
  readonly made: Signal<MapFiles | null> = signal(null);
  readonly running: Signal<{ label: string; fraction: number; note: string; stop(): void } | null> = signal(null);
  readonly trouble = signal<Trouble | null>(null);
  readonly paper: Signal<PaperName>;
  private drawn: { job: Job; plan: Plan; paper: PaperName } | null = null;
  private stopper: AbortController | null = null;

  constructor(private readonly store: JobStore) {
    // A maker who reads inches most likely prints on Letter.
    tellProgress(this.running);
    this.paper = signal(store.job.peek().units === 'in' ? 'Letter' : 'A4');
  }

  choose(paper: PaperName): void {
    this.paper.value = paper;
  }

  async draw(job: Job, plan: Plan, paper: PaperName): Promise<void> {
    const same = this.drawn?.job === job && this.drawn.plan === plan && this.drawn.paper === paper;
    if (same) return;
    this.drawn = { job, plan, paper };
    this.stopper?.abort();
    const stopper = new AbortController();
    this.stopper = stopper;
    const stop = () => {
      stopper.abort();
      this.drawn = null;
    };
    const tell = (fraction: number, note = '') => {
      if (this.stopper === stopper) this.running.value = { label: 'Drawing the cutting map', fraction, note, stop };
    };
    this.trouble.value = null;
    tell(0);
    try {
      const [faces, leaves] = await Promise.all([storedFaces(this.store), storedLeaves(this.store)]);
      this.made.value = await solverWork.call(stopper.signal, tell, (api, id, report) =>
        api.map(id, job, plan, faces, leaves, paper, report),
      );
      sayQuietly(`${this.made.value.pages.length} sheets are drawn.`);
    } catch (error) {
      if (!stopper.signal.aborted) {
        this.made.value = null;
        this.trouble.value = troubleOf(error);
      }
    } finally {
      if (this.stopper === stopper) this.running.value = null;
    }
  }
}

const makers = new WeakMap<JobStore, MapMaker>();

/** The map maker of a job: the same one when the person comes back from another stage. */
export function mapMaker(store: JobStore): MapMaker {
  const known = makers.get(store) ?? new MapMaker(store);
  makers.set(store, known);
  return known;
}
