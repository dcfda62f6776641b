import { batch, computed, effect, type Signal, signal } from '@preact/signals';
import { proxy } from 'comlink';
import type { CheckedMove, StoredFace } from '../../workers/solver.worker';
import { begin, edit, faceKey, type Job, type Placement, type Plan } from '../job';
import { type PlanReport, plansWithKeys } from '../plan';
import { announce, sayQuietly, tellProgress } from './announce';
import { type Trouble, troubleOf } from './parts/problem';
import type { JobStore } from './store';
import { solverWork } from './work';

/** Long work on the plans. */
interface Running {
  label: string;
  fraction: number;
  note: string;
  stop(): void;
}

/** A computed plan. */
export interface Computed {
  plan: Plan;
  report: PlanReport;
}

/** The job as it might be. */
export interface Trial {
  readonly name: string;
  change(draft: Job): void;
  /** Whether making it so changes the job itself, or only puts the plans in the place of the old ones. */
  readonly changesJob: boolean;
}

/** What came of a trial. */
interface WhatIf {
  readonly trial: Trial;
  readonly job: Job;
  /** The best first. */
  readonly plans: readonly [Plan, ...Plan[]];
}

/** The job rests this long, ms, before its plan is computed again. */
const REST = 150;
const QUIET = () => {};

/** The faces of the job that have a stored picture. */
export async function storedFaces(store: JobStore): Promise<StoredFace[]> {
  const faces: StoredFace[] = [];
  for (const flitch of Object.values(store.job.peek().flitches)) {
    for (const slab of Object.values(flitch.slabs)) {
      for (const side of ['top', 'bottom'] as const) {
        const { picture } = slab.faces[side];
        const blob = picture && (await store.file(picture.file));
        if (!picture || !blob) continue;
        const { file, mmPerPx, x0, y0 } = picture;
        faces.push({ key: faceKey(flitch.id, slab.id, side), file, blob, mmPerPx, x0, y0 });
      }
    }
  }
  return faces;
}

/** The plans of a job as the stages from Layout on look at them: which one is in view, computed, and with its pictures. Not saved, not undone. */
export class PlanView {
  readonly chosenId = signal<string | null>(null);
  readonly running: Signal<Running | null> = signal(null);
  readonly trouble = signal<Trouble | null>(null);
  readonly computed: Signal<Computed | null> = signal(null);
  /** The chosen handle of the drawing. */
  readonly handle = signal<string | null>(null);
  /** Plans that work under way has found so far, the best last heard. */
  readonly found = signal<readonly Plan[]>([]);
  /** What was tried out last. */
  readonly whatIf = signal<WhatIf | null>(null);
  /** The plan that was kept when the plans were laid out again, and the job that it was made for. */
  private readonly replaced: Signal<{ readonly plan: Plan; readonly job: Job } | null> = signal(null);
  /** The same, as long as Undo has not brought it back. */
  readonly keptBefore = computed(() => {
    const before = this.replaced.value;
    const now = before && this.store.job.value.plans[before.plan.id];
    return before && JSON.stringify(now) !== JSON.stringify(before.plan) ? before : null;
  });
  /** A placement while its joint is dragged. */
  readonly dragged = signal<CheckedMove | null>(null);

  readonly plans = computed(() => Object.values(this.store.job.value.plans));
  /** The plan in view: the chosen one, else the kept one, else the best. */
  readonly plan = computed((): Plan | null => {
    const { plans, keptPlan } = this.store.job.value;
    return plans[this.chosenId.value ?? ''] ?? plans[keptPlan ?? ''] ?? this.plans.value[0] ?? null;
  });

  private computing: AbortController | null = null;
  private resting: ReturnType<typeof setTimeout> | undefined;

  constructor(readonly store: JobStore) {
    tellProgress(this.running);
    effect(() => {
      const job = store.job.value;
      const plan = this.plan.value;
      clearTimeout(this.resting);
      this.resting = setTimeout(() => void this.compute(job, plan), REST);
    });
  }

  choose(planId: string): void {
    batch(() => {
      this.chosenId.value = planId;
      this.dragged.value = null;
      this.whatIf.value = null;
      this.trouble.value = null;
    });
  }

  /** Has plans proposed; what was there before is replaced, as one step that can be undone. Locked tops stay where they are, and locked. */
  async propose(): Promise<void> {
    const plans = await this.search(this.store.job.peek(), 'Laying out the tops');
    if (plans) this.putPlans('Lay out the tops', plans);
  }

  /** Has plans proposed for the job as it might be; the job itself stays as it is. */
  async tryOut(trial: Trial): Promise<void> {
    this.whatIf.value = await this.tried(trial);
  }

  /** Changes the job and has plans proposed for it, all as one step; where nothing comes of it the job stays as it is. */
  async layOutAs(trial: Trial): Promise<void> {
    const found = await this.tried(trial);
    if (found) this.takeOver(found);
  }

  private async tried(trial: Trial): Promise<WhatIf | null> {
    this.whatIf.value = null;
    const job = edit(begin(this.store.job.peek()), trial.name, trial.change).job;
    const [best, ...others] = (await this.search(job, trial.name)) ?? [];
    return best ? { trial, job, plans: [best, ...others] } : null;
  }

  /** Makes what was tried out part of the job. */
  takeOver({ trial, plans }: WhatIf): void {
    this.whatIf.value = null;
    this.putPlans(trial.name, plans, trial.changesJob ? trial.change : undefined);
  }

  /** Puts new plans in the place of the old ones, as one step. Keys that were set by hand stay where their crack still is; what is lost is said. */
  private putPlans(name: string, found: readonly Plan[], change: (draft: Job) => void = QUIET): void {
    const before = this.store.job.peek();
    const { plans, words } = plansWithKeys(before, this.plan.peek()?.id ?? null, found);
    const kept = before.plans[before.keptPlan ?? ''];
    if (kept) this.replaced.value = { plan: kept, job: before };
    this.chosenId.value = null;
    this.store.edit(name, (draft) => {
      change(draft);
      replacePlans(draft, plans);
    });
    sayQuietly(plans.length === 1 ? 'One plan was found.' : `${plans.length} plans were found.`);
    if (words.length > 0) announce(`${words.join(' ')} Undo brings the plans of before back.`);
  }

  /** Has a top stay at its place in a plan when the rest is laid out again, or lets it go. */
  lock(plan: Plan, { top }: Placement, lock: boolean): void {
    this.store.edit(lock ? 'Lock a top' : 'Unlock a top', (draft) => {
      if (lock) draft.locks[top] = { id: top, plan: plan.id, top };
      else delete draft.locks[top];
    });
  }

  /** Plans for a job, the best first; when it is stopped, what was found until then. Null when nothing was, or it could not be. */
  private async search(job: Job, label: string): Promise<readonly Plan[] | null> {
    const stopper = new AbortController();
    const tell = (fraction: number, note = '') => {
      this.running.value = { label, fraction, note, stop: () => stopper.abort() };
    };
    const heard = proxy((plans: readonly Plan[]) => {
      const gives = plans.some(({ placements }) => Object.keys(placements).length > 0);
      if (gives && !stopper.signal.aborted) this.found.value = plans;
    });
    this.trouble.value = null;
    this.found.value = [];
    tell(0);
    try {
      const faces = await storedFaces(this.store);
      return await solverWork.call(stopper.signal, tell, (api, id, report) =>
        api.propose(id, job, faces, heard, report),
      );
    } catch (error) {
      if (!stopper.signal.aborted) {
        this.trouble.value = troubleOf(error);
        return null;
      }
      const found = this.found.peek();
      return found.length > 0 ? found : null;
    } finally {
      // Plans that are heard late are no longer looked at.
      stopper.abort();
      this.running.value = null;
      this.found.value = [];
    }
  }

  keep(planId: string): void {
    const name = this.store.job.peek().plans[planId]?.name ?? 'the plan';
    this.store.edit(`Keep ${name}`, (draft) => {
      draft.keptPlan = planId;
    });
  }

  /** Computes a plan; the last one asked for wins. */
  private async compute(job: Job, plan: Plan | null): Promise<void> {
    this.computing?.abort();
    if (!plan) {
      this.computed.value = null;
      return;
    }
    const stopper = new AbortController();
    this.computing = stopper;
    try {
      const report = await solverWork.call(stopper.signal, QUIET, (api, id, tell) => api.compute(id, job, plan, tell));
      if (!stopper.signal.aborted) this.computed.value = { plan, report };
    } catch (error) {
      if (!stopper.signal.aborted) this.trouble.value = troubleOf(error);
    }
  }
}

/** Puts new plans in the place of the old ones. A lock goes on to the first of them that has its top. */
function replacePlans(draft: Job, plans: readonly Plan[]): void {
  const locked = Object.values(draft.locks).filter(({ plan, top }) => draft.plans[plan]?.placements[top]);
  draft.plans = Object.fromEntries(plans.map((plan) => [plan.id, plan]));
  draft.keptPlan = null;
  draft.locks = Object.fromEntries(
    locked.flatMap(({ id, top }) => {
      const plan = plans.find(({ placements }) => placements[top]);
      return plan ? [[id, { id, plan: plan.id, top }]] : [];
    }),
  );
}

const views = new WeakMap<JobStore, PlanView>();

/** The view of a job's plans: the same one in every stage. */
export function planView(store: JobStore): PlanView {
  const known = views.get(store);
  if (known) return known;
  const view = new PlanView(store);
  views.set(store, view);
  return view;
}
