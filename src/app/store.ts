import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals';
import { amend, begin, completed, type Edit, edit, type History, type Job, namedFiles, redo, undo } from '../job';
import { InputProblem } from '../units';
import { announce } from './announce';
import { Overtaken, type Shelf, type Stored } from './shelf';

/** Whether what is on screen is also on disk; a text says why not. */
export type SaveState = 'saved' | 'saving' | { problem: string };

const OVERTAKEN =
  'Another tab went on with this job or removed it. What was changed here since stands on this screen only: save it as a file, then open the job again.';

/**
 * One open job: the document, its history, its photos and its saving. Every change is an `edit` with a name, is undoable,
 * and is on disk as soon as the write before it has ended; several edits meanwhile become one write of the latest state.
 */
export class JobStore {
  readonly history: Signal<History>;
  readonly job: ReadonlySignal<Job>;
  readonly saveState = signal<SaveState>('saved');
  readonly undoName: ReadonlySignal<string | null>;
  readonly redoName: ReadonlySignal<string | null>;
  /** Whether this tab changes the job, or another one does and this one shows what it saved. */
  readonly role = signal<'edits' | 'follows'>('edits');
  /** The writing on disk that what is on screen came from, or went to. */
  private writing: number;
  private readonly copied: Signal<number>;
  /** What the disk has, as far as this tab knows. */
  private onDisk: History;
  private saving: Promise<void> | null = null;
  private readonly urls = new Map<string, Promise<string | null>>();

  constructor(
    private readonly shelf: Shelf,
    { history, writing, copied }: Stored,
    private readonly now: () => number = Date.now,
  ) {
    this.history = signal(history);
    this.onDisk = history;
    this.writing = writing;
    this.copied = signal(copied);
    this.job = computed(() => this.history.value.job);
    this.undoName = computed(() => this.history.value.done.at(-1)?.name ?? null);
    this.redoName = computed(() => this.history.value.undone.at(-1)?.name ?? null);
  }

  get id(): string {
    return this.job.peek().id;
  }

  /** Changes the job by mutating a draft; `name` is what Undo will say. */
  edit(name: string, change: (draft: Job) => void): void {
    this.become(edit(this.history.peek(), name, change));
  }

  /** The step that was taken last. */
  get lastEdit(): Edit | null {
    return this.history.peek().done.at(-1) ?? null;
  }

  /** Takes back, or does again, as many steps as lead to where so many are done. */
  goTo(steps: number): void {
    let next = this.history.peek();
    while (next.done.length > steps && next.done.length > 0) next = undo(next);
    while (next.done.length < steps && next.undone.length > 0) next = redo(next);
    this.step(next);
  }

  /** Puts what came late into the step that it belongs to; nothing where that was undone meanwhile. */
  amend(step: Edit, change: (draft: Job) => void): void {
    this.become(amend(this.history.peek(), step, change));
  }

  undo(): void {
    this.step(undo(this.history.peek()));
  }

  redo(): void {
    this.step(redo(this.history.peek()));
  }

  /**
   * Stores photos, then changes the job so that it names them: a crash between the two leaves a photo too many, never a job
   * that names a missing one. @throws InputProblem when there is no room; the job is then as it was
   */
  async editWithFiles(files: ReadonlyMap<string, Blob>, name: string, change: (draft: Job) => void): Promise<void> {
    if (this.mayNot()) return;
    await this.shelf.putFiles(this.id, files, this.now());
    for (const file of files.keys()) this.urls.delete(file);
    this.edit(name, change);
  }

  /** A photo of this job, or null when it is not stored. */
  file(file: string): Promise<Blob | null> {
    return this.shelf.file(this.id, file);
  }

  /** An object URL for a photo, made once; null when it is not stored. */
  url(file: string): Promise<string | null> {
    const known = this.urls.get(file);
    if (known) return known;
    const made = this.file(file).then((blob) => (blob ? URL.createObjectURL(blob) : null));
    this.urls.set(file, made);
    return made;
  }

  /** Lets go of the photos that were shown. The job stays on disk. */
  close(): void {
    for (const made of this.urls.values()) void made.then((url) => url && URL.revokeObjectURL(url));
    this.urls.clear();
  }

  /** Writes the job if it is not on disk yet; resolves when it is, or when saving has failed and said so. */
  save(): Promise<void> {
    if (!this.saving && this.onDisk === this.history.peek()) return Promise.resolve();
    this.saving ??= this.write();
    return this.saving;
  }

  /** Whether it was changed since it was last saved as a file; what was never changed here is as it came. */
  hasNoCopy(): boolean {
    return this.history.value.done.length > 0 && this.copied.value < this.writing;
  }

  /** Notes that what is on the disk was saved as a file. */
  async noteCopy(): Promise<void> {
    await this.save();
    this.copied.value = this.writing;
    await this.shelf.noteCopy(this.id, this.writing);
  }

  /** All photos that the job names, for its job file. */
  async files(): Promise<Map<string, Blob>> {
    const found = new Map<string, Blob>();
    for (const name of namedFiles(this.job.peek())) {
      const blob = await this.file(name);
      if (blob) found.set(name, blob);
    }
    return found;
  }

  /** Shows what another tab has saved. */
  async readAgain(): Promise<void> {
    const found = await this.shelf.load(this.id).catch(() => null);
    if (!found || 'unreadable' in found || found.writing <= this.writing) return;
    if (this.onDisk !== this.history.peek()) {
      this.saveState.value = { problem: OVERTAKEN };
      return;
    }
    this.writing = found.writing;
    this.onDisk = found.history;
    this.history.value = found.history;
    this.saveState.value = 'saved';
  }

  /** Whether another tab edits; that is then said. */
  private mayNot(): boolean {
    if (this.role.peek() === 'edits') return false;
    announce('This job is edited in another tab, so nothing was changed here.');
    return true;
  }

  /** Goes to where steps lead that may have been taken in an older version of the app: what that one did not know is filled in. */
  private step(next: History): void {
    if (next === this.history.peek()) return;
    try {
      this.become({ ...next, job: completed(next.job) });
    } catch (error) {
      if (!(error instanceof InputProblem)) throw error;
      announce(
        `That step was taken in an older version of the app and leads to no job that can be read: ${error.message}`,
      );
    }
  }

  private become(next: History): void {
    if (next === this.history.peek() || this.mayNot()) return;
    this.history.value = next;
    void this.save();
  }

  private async write(): Promise<void> {
    try {
      while (this.onDisk !== this.history.peek()) {
        this.saveState.value = 'saving';
        const next = this.history.peek();
        this.writing = await this.shelf.save(next, this.now(), this.writing);
        this.onDisk = next;
      }
      this.saveState.value = 'saved';
    } catch (error) {
      const { message, mend } = error as { message: string; mend?: string };
      const problem = error instanceof Overtaken ? OVERTAKEN : [message, mend].filter(Boolean).join(' ');
      this.saveState.value = { problem };
    } finally {
      // In the same breath as the last comparison above, so that no edit falls between two writes.
      this.saving = null;
    }
  }
}

/** Puts a job on the shelf for the first time, its photos first. */
export async function placeOnShelf(
  shelf: Shelf,
  job: Job,
  files: ReadonlyMap<string, Blob>,
  now: number,
): Promise<void> {
  if (files.size > 0) await shelf.putFiles(job.id, files, now);
  await shelf.save(begin(job), now, 0);
}
