import { computed, type Signal, signal } from '@preact/signals';
import type { StoredFace } from '../../../../workers/solver.worker';
import { type Job, offerOf } from '../../../job';
import { rackOf, rankYard, type YardAim, type YardBound, type YardRanking } from '../../../layout';
import { type YardLook, type YardReport, yardReport } from '../../../plan';
import { stage, unwatched, WorkBudget } from '../../../search';
import { tellProgress } from '../../announce';
import { type Trouble, troubleOf } from '../../parts/problem';
import { storedFaces } from '../../plan-view';
import type { JobStore } from '../../store';
import { yardWork } from '../../work';

/** So long sets are laid out before it is asked whether to look further, ms: with the bounding before it about a minute. */
const LOOKING = 50_000;
/** Share of the progress that bounding takes. */
const BOUNDING = 0.1;

interface Running {
  readonly label: string;
  readonly fraction: number;
  readonly note: string;
  stop(): void;
}

export type Offer = ReturnType<typeof offerOf>;

/** The rack of a job as its buyer looks at it. Marks on slabs are the job's; the ranking is neither saved nor undone. */
export class YardView {
  /** Whether the rack is looked at instead of the plans. */
  readonly open = signal(false);
  readonly aim: Signal<YardAim> = signal('best');
  readonly running: Signal<Running | null> = signal(null);
  readonly trouble = signal<Trouble | null>(null);
  /** The set that is told in full, by its slabs' keys; null for the first. */
  readonly chosen = signal<string | null>(null);
  private readonly ranked = signal<{
    readonly job: Job;
    readonly aim: YardAim;
    readonly ranking: YardRanking<YardLook>;
  } | null>(null);
  /** Sets that were laid out, by what they follow from: a mark or another aim does not cost them. */
  private looks = new Map<string, YardLook>();

  readonly report = computed((): YardReport | null => {
    const ranked = this.ranked.value;
    return ranked && yardReport(this.store.job.value, ranked.ranking, ranked.aim);
  });
  /** Whether the ranking is of a job that has changed since, but for slabs that were sold. */
  readonly stale = computed((): boolean => {
    const ranked = this.ranked.value;
    return ranked !== null && basisOf(ranked.job) !== basisOf(this.store.job.value);
  });

  constructor(readonly store: JobStore) {
    tellProgress(this.running);
  }

  /** The plan of a set that was laid out. */
  planOf(slabs: readonly string[]): YardLook['plan'] | null {
    const entry = this.ranked.value?.ranking.entries.find(({ bound }) => bound.slabs.join() === slabs.join());
    return entry?.look?.plan ?? null;
  }

  /** Marks a slab as on offer, bought or sold. */
  mark(key: string, offer: Offer): void {
    const [flitch, slab] = key.split('/') as [string, string];
    const says = { offered: 'is on offer', bought: 'is bought', sold: 'is sold' }[offer];
    const name = this.store.job.peek().flitches[flitch]?.slabs[slab]?.name ?? 'A slab';
    this.store.edit(`${name} ${says}`, (draft) => {
      const own = draft.flitches[flitch]?.slabs[slab];
      if (own) own.offer = offer;
    });
  }

  /** Marks slabs as bought in one step. */
  buy(keys: readonly string[]): void {
    this.store.edit('Buy slabs', (draft) => {
      for (const key of keys) {
        const [flitch, slab] = key.split('/') as [string, string];
        const own = draft.flitches[flitch]?.slabs[slab];
        if (own) own.offer = 'bought';
      }
    });
  }

  /** Puts every slab of the job on offer. */
  offerAll(): void {
    this.store.edit('All slabs are on offer', (draft) => {
      for (const { slabs } of Object.values(draft.flitches))
        for (const slab of Object.values(slabs)) slab.offer = 'offered';
    });
  }

  /** Ranks the rack, or looks further where that was done already; what was found stands when it is stopped. */
  async rank(): Promise<void> {
    const stopper = new AbortController();
    const tell = (fraction: number, note = '') => {
      this.running.value = { label: 'Ranking the rack', fraction, note, stop: () => stopper.abort() };
    };
    this.trouble.value = null;
    tell(0);
    try {
      const job = this.store.job.peek();
      const aim = this.aim.peek();
      const faces = await storedFaces(this.store);
      const bounds = await yardWork()[0]!.call(
        stopper.signal,
        (fraction, note) => tell(BOUNDING * fraction, note),
        (api, id, report) => api.bound(id, job, aim, report),
      );
      const ground = groundOf(job);
      const nameOf = (bound: YardBound, pictures: boolean) => `${ground} ${aim} ${pictures} ${bound.slabs.join()}`;
      const end = performance.now() + LOOKING;
      const desk = new Desk(yardWork().length);
      const control = {
        ...unwatched(),
        budget: new WorkBudget(Number.POSITIVE_INFINITY, () => performance.now() > end),
        progress: tell,
        cancelled: () => stopper.signal.aborted,
      };
      await rankYard<YardLook>({
        bounds,
        control: stage(control, BOUNDING, 1),
        heard: (ranking) => {
          this.ranked.value = { job, aim, ranking };
        },
        look: async (bound, pictures) => {
          const name = nameOf(bound, pictures);
          const have = this.looks.get(name);
          if (have) return have;
          const found = await desk.at((i) =>
            yardWork()[i]!.call(
              stopper.signal,
              () => {},
              (api, id, report) => api.look(id, job, aim, bound, pictures ? facesOf(job, bound, faces) : null, report),
            ),
          );
          this.looks.set(name, found);
          return found;
        },
      });
    } catch (error) {
      if (!stopper.signal.aborted) this.trouble.value = troubleOf(error);
    } finally {
      this.running.value = null;
    }
  }
}

/** Seats at which work is done, one piece at each; who finds none free waits in the line. */
class Desk {
  private readonly free: number[];
  private readonly line: ((seat: number) => void)[] = [];

  constructor(seats: number) {
    this.free = Array.from({ length: seats }, (_, i) => i);
  }

  async at<T>(work: (seat: number) => Promise<T>): Promise<T> {
    const seat = this.free.shift() ?? (await new Promise<number>((resolve) => this.line.push(resolve)));
    try {
      return await work(seat);
    } finally {
      const next = this.line.shift();
      if (next) next(seat);
      else this.free.push(seat);
    }
  }
}

/** Pictures of the slabs of a set, those that are owned too. */
function facesOf(job: Job, { slabs }: YardBound, faces: readonly StoredFace[]): StoredFace[] {
  const keys = [...rackOf(job).owned, ...slabs];
  return faces.filter(({ key }) => keys.some((slab) => key.startsWith(`${slab}/`)));
}

/** All that a look at a set follows from, apart from the set. */
function groundOf(job: Job): string {
  return JSON.stringify([job.tops, job.runs, job.shop, rackOf(job).owned, slabsOf(job, () => undefined)]);
}

/** All that a ranking follows from; a slab that was sold since only takes its sets away. */
function basisOf(job: Job): string {
  return JSON.stringify([
    job.tops,
    job.runs,
    job.shop,
    slabsOf(job, (slab) => (offerOf(slab) === 'bought' ? 'bought' : undefined)),
  ]);
}

const slabsOf = (job: Job, offer: (slab: Parameters<typeof offerOf>[0]) => string | undefined): unknown[] =>
  Object.values(job.flitches).map(({ slabs, ...flitch }) => [
    flitch,
    Object.values(slabs).map((slab) => ({ ...slab, offer: offer(slab), name: '', marks: null })),
  ]);

const views = new WeakMap<JobStore, YardView>();

/** The rack of a job: the same view whenever its screen is opened. */
export function yardView(store: JobStore): YardView {
  const known = views.get(store);
  if (known) return known;
  const view = new YardView(store);
  views.set(store, view);
  return view;
}
