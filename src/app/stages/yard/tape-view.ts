import { computed, effect, signal } from '@preact/signals';
import { type Job, offerOf, type Slab, slabKey } from '../../../job';
import type { Carries } from '../../../layout';
import { newId } from '../../jobs';
import { type Trouble, troubleOf } from '../../parts/problem';
import type { JobStore } from '../../store';
import { yardWork } from '../../work';
import { slabIn } from '../stock/read-photos';

/** Verdicts are asked for so long after the last change, ms. */
const PAUSE = 150;

/** Slabs of a job as they are typed in at the yard, one after the other, with what each carries. Only slabs are saved; verdicts are looked up anew. */
export class TapeView {
  /** slabKey of the slab that is typed; null while nobody types one. */
  readonly slab = signal<string | null>(null);
  /** Whether what was taped is tapped on the slab's photo. */
  readonly onPhoto = signal(false);
  readonly trouble = signal<Trouble | null>(null);
  private asking: AbortController | null = null;
  /** What was told of a set, by all that it follows from. */
  private readonly told = signal<ReadonlyMap<string, readonly Carries[]>>(new Map());

  readonly place = computed(() => {
    const [flitchId, slabId] = this.slab.value?.split('/') ?? [];
    const flitch = this.store.job.value.flitches[flitchId ?? ''];
    const slab = flitch?.slabs[slabId ?? ''];
    return flitch && slab ? { flitch, slab } : null;
  });
  /** Verdicts on the slab that is typed, alone and with each of the others; null until all of them are there. */
  readonly verdicts = computed((): readonly Carries[] | null => {
    const job = this.store.job.value;
    const known = setsOf(job, this.slab.value).map((set) => this.told.value.get(nameOf(job, set)));
    return known.every((told) => told !== undefined) ? known.flat() : null;
  });

  constructor(readonly store: JobStore) {
    let later: ReturnType<typeof setTimeout> | undefined;
    effect(() => {
      const [job, slab] = [store.job.value, this.slab.value];
      clearTimeout(later);
      if (slab) later = setTimeout(() => void this.ask(job, slab), PAUSE);
    });
  }

  /** Begins with another slab on offer, of the same log as the one before. */
  next(): void {
    const id = newId();
    this.onPhoto.value = false;
    this.store.edit('Add a slab on offer', (draft) => {
      slabIn(draft, id).offer = 'offered';
    });
    const flitch = Object.values(this.store.job.peek().flitches).find(({ slabs }) => slabs[id]);
    if (flitch) this.slab.value = slabKey(flitch.id, id);
  }

  private async ask(job: Job, slab: string): Promise<void> {
    const known = this.told.peek();
    const sets = setsOf(job, slab).filter((set) => !known.has(nameOf(job, set)));
    if (sets.length === 0) return;
    this.asking?.abort();
    const stopper = new AbortController();
    this.asking = stopper;
    try {
      const found = await yardWork()[0]!.call(
        stopper.signal,
        () => {},
        (api, id, report) => api.carries(id, { ...job, plans: {} }, sets, report),
      );
      this.trouble.value = null;
      const told = new Map(this.told.peek());
      sets.forEach((set, i) => {
        told.set(nameOf(job, set), found[i] ?? []);
      });
      this.told.value = told;
    } catch (error) {
      // What is typed on asks anew.
      if (!stopper.signal.aborted) this.trouble.value = troubleOf(error);
    }
  }
}

/** The slab alone, and with each other that may be had; larger racks are for the ranking. */
function setsOf(job: Job, slab: string | null): string[][] {
  if (slab === null) return [];
  const others = Object.values(job.flitches).flatMap(({ id, slabs }) =>
    Object.values(slabs).flatMap((own) => (offerOf(own) === 'sold' ? [] : slabKey(id, own.id))),
  );
  return [[slab], ...others.filter((key) => key !== slab).map((key) => [key, slab])];
}

/** All that a verdict on a set follows from. */
function nameOf(job: Job, set: readonly string[]): string {
  const slabs = set.map((key) => {
    const [flitch, slab] = key.split('/') as [string, string];
    const own: Slab | undefined = job.flitches[flitch]?.slabs[slab];
    return [key, job.flitches[flitch]?.species, { ...own, name: '', price: null, offer: null, marks: null }];
  });
  return JSON.stringify([slabs, job.tops, job.runs, job.shop]);
}

const views = new WeakMap<JobStore, TapeView>();

/** The slabs of a job as they are typed: the same view whenever its screen is opened. */
export function tapeView(store: JobStore): TapeView {
  const known = views.get(store);
  if (known) return known;
  const view = new TapeView(store);
  views.set(store, view);
  return view;
}
