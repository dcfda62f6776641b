import { batch, computed, type Signal, signal } from '@preact/signals';
import { proxy } from 'comlink';
import type { SetAsked } from '../../../../workers/leaves.worker';
import type { StoredFace } from '../../../../workers/stored-face';
import type { Job, PanelSet } from '../../../job';
import type { CellName, Exchanged } from '../../../leaves';
import { announce, sayQuietly, tellProgress } from '../../announce';
import { type Trouble, troubleOf } from '../../parts/problem';
import type { JobStore } from '../../store';
import { storedLeaves } from '../../stored-leaves';
import { leavesWork } from '../../work';
import { inWords } from './leaf-words';

/** A job has one set: its doors. */
const SET = 'doors';
const QUIET = () => {};
/** A hand that did nothing for so long rests, ms. */
const RESTS = 400;

/** Long work on the set. */
interface Running {
  label: string;
  fraction: number;
  note: string;
  stop(): void;
}

/** The set as it would be without some leaves. */
interface WhatIf {
  readonly without: readonly string[];
  readonly set: PanelSet;
  readonly faults: readonly string[];
}

/** The doors on their leaves as they are looked at and worked on. Not saved, not undone. */
export class SetView {
  readonly running: Signal<Running | null> = signal(null);
  readonly trouble = signal<Trouble | null>(null);
  /** What work under way has found so far. */
  readonly found = signal<PanelSet | null>(null);
  readonly whatIf = signal<WhatIf | null>(null);
  /** What the independent check says of the kept set; null while that is not known. */
  readonly faults = signal<{ readonly of: PanelSet; readonly faults: readonly string[] } | null>(null);
  /** What speaks against the last exchange. */
  readonly against = signal<readonly string[]>([]);
  readonly front = signal<string | null>(null);
  /** Which side of the chosen front is worked on, and which piece of it. */
  readonly side = signal<CellName['side']>('face');
  readonly cell = signal(0);
  /** A front that waits for another to change places with. */
  readonly marked = signal<string | null>(null);

  /** The set that the job keeps. */
  readonly kept = computed((): PanelSet | null => {
    const { sets, keptSet } = this.store.job.value;
    return sets[keptSet ?? ''] ?? null;
  });
  /** The one in view. */
  readonly set = computed((): PanelSet | null => this.found.value ?? this.whatIf.value?.set ?? this.kept.value);

  private soon: ReturnType<typeof setTimeout> | undefined;
  /** The faces of which all is read that an exchange asks for. */
  private readied: readonly StoredFace[] | null = null;
  private faces: Promise<StoredFace[]> | null = null;
  private facesOf: Job['boards'] | null = null;

  constructor(readonly store: JobStore) {
    tellProgress(this.running);
  }

  choose(front: string | null, cell = 0, side: CellName['side'] = 'face'): void {
    batch(() => {
      this.front.value = front;
      this.side.value = side;
      this.cell.value = cell;
      this.against.value = [];
    });
  }

  /** Lays the doors out; locked fronts keep their leaves. What there was before is replaced, as one step that can be undone. */
  async layOut(): Promise<void> {
    const before = this.kept.peek();
    this.whatIf.value = null;
    const found = await this.search('Laying out the doors', before?.without ?? []);
    if (!found) return;
    this.put('Lay out the doors', found.set);
    sayQuietly('The doors are laid out.');
  }

  /** Tries the set without some leaves more. */
  async tryWithout(leaves: readonly string[]): Promise<void> {
    const without = [...new Set([...(this.kept.peek()?.without ?? []), ...leaves])];
    const found = await this.search('Trying it without', without);
    if (found) this.whatIf.value = { without: leaves, ...found };
  }

  /** Makes what was tried the set of the job. */
  takeOver({ set }: WhatIf): void {
    this.whatIf.value = null;
    this.put('Lay out the doors without a leaf', set);
  }

  /** Lays another leaf in a piece. */
  async exchange(at: CellName, leaf: string): Promise<void> {
    await this.change('Exchange a leaf', (job, faces, set, signal) =>
      leavesWork.call(signal, QUIET, (api, id, tell) => api.exchange(id, job, faces, set, at, leaf, tell)),
    );
  }

  /** Has two fronts change their leaves, or their backs alone. */
  async swap(one: string, other: string, what: 'leaves' | 'backs' = 'leaves'): Promise<void> {
    this.marked.value = null;
    const name = what === 'leaves' ? 'Change two fronts' : 'Change two backs';
    await this.change(name, (job, faces, set, signal) =>
      leavesWork.call(signal, QUIET, (api, id, tell) => api.swap(id, job, faces, set, [one, other], what, tell)),
    );
  }

  lock(front: string, lock: boolean): void {
    this.edit(lock ? 'Lock a front' : 'Unlock a front', (set) => {
      set.locked = lock ? [...new Set([...set.locked, front])] : set.locked.filter((id) => id !== front);
    });
  }

  /** Keeps a leaf out of the set from the next layout on, or lets it in again. */
  leaveOut(leaf: string, out: boolean): void {
    this.edit(out ? 'Leave a leaf out' : 'Take a leaf back', (set) => {
      set.without = out ? [...new Set([...set.without, leaf])] : set.without.filter((name) => name !== leaf);
    });
  }

  /** Asks for the check of the kept set, where it is not known. */
  private async check(): Promise<void> {
    const set = this.kept.peek();
    if (!set || this.faults.peek()?.of === set || this.running.peek()) return;
    const job = this.store.job.peek();
    const faces = await this.storedFaces();
    const checked = await leavesWork
      .call(new AbortController().signal, QUIET, (api, id, tell) => api.check(id, job, faces, set, tell))
      .catch(() => null);
    if (!checked || this.kept.peek() !== set) return;
    this.faults.value = { of: set, faults: checked.faults };
    if (this.readied === faces) return;
    this.readied = faces;
    await leavesWork
      .call(new AbortController().signal, QUIET, (api, id, tell) => api.ready(id, job, faces, tell))
      .catch(() => null);
  }

  /** Checks the kept set once the hand rests: what follows an exchange at once is often the next one. */
  checkSoon(): void {
    clearTimeout(this.soon);
    this.soon = setTimeout(() => void this.check(), RESTS);
  }

  private edit(name: string, change: (set: PanelSet) => void): void {
    this.store.edit(name, (draft) => {
      const set = draft.sets[draft.keptSet ?? ''];
      if (set) change(set);
    });
  }

  private put(name: string, set: PanelSet): void {
    this.store.edit(name, (draft) => {
      draft.sets = { [set.id]: set };
      draft.keptSet = set.id;
    });
  }

  private storedFaces(): Promise<StoredFace[]> {
    const { boards } = this.store.job.peek();
    if (!this.faces || this.facesOf !== boards) this.faces = storedLeaves(this.store);
    this.facesOf = boards;
    return this.faces;
  }

  private async change(
    name: string,
    ask: (job: Job, faces: StoredFace[], set: PanelSet, signal: AbortSignal) => Promise<Exchanged | null>,
  ): Promise<void> {
    const set = this.kept.peek();
    if (!set || this.running.peek()) return;
    this.trouble.value = null;
    try {
      const faces = await this.storedFaces();
      const made = await ask(this.store.job.peek(), faces, set, new AbortController().signal);
      if (!made) {
        announce('That cannot be exchanged.');
        return;
      }
      this.put(name, made.set);
      this.against.value = made.faults;
      announce(
        made.faults.length > 0
          ? made.faults.map((words) => inWords(this.store.job.peek(), words)).join(' ')
          : `${name}: done.`,
      );
    } catch (error) {
      this.trouble.value = troubleOf(error);
    }
  }

  /** A set for the job; when it is stopped, what was found until then. Null when nothing was, or it could not be. */
  private async search(label: string, without: readonly string[]) {
    const stopper = new AbortController();
    const tell = (fraction: number, note = '') => {
      this.running.value = { label, fraction, note, stop: () => stopper.abort() };
    };
    // What is heard late, after its call has ended, is not in view any more.
    let live = true;
    const heard = proxy((set: PanelSet) => {
      if (live && !stopper.signal.aborted) this.found.value = set;
    });
    this.trouble.value = null;
    tell(0);
    const job = this.store.job.peek();
    const asked: SetAsked = { id: SET, name: 'Doors', without, before: this.kept.peek() };
    try {
      const faces = await this.storedFaces();
      return await leavesWork.call(stopper.signal, tell, (api, id, report) =>
        api.layOut(id, job, faces, asked, heard, report),
      );
    } catch (error) {
      if (!stopper.signal.aborted) this.trouble.value = troubleOf(error);
      const set = this.found.peek();
      return stopper.signal.aborted && set ? { set, faults: [] } : null;
    } finally {
      live = false;
      batch(() => {
        this.running.value = null;
        this.found.value = null;
      });
    }
  }
}

const views = new WeakMap<JobStore, SetView>();

/** The view of a job's set: the same one when the person comes back from another stage. */
export function setView(store: JobStore): SetView {
  const known = views.get(store);
  if (known) return known;
  const view = new SetView(store);
  views.set(store, view);
  return view;
}
