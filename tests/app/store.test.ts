import { readFileSync } from 'node:fs';
import { create } from 'mutative';
import { beforeEach, describe, expect, it } from 'vitest';
import type { Shelf } from '../../src/app/shelf';
import { JobStore } from '../../src/app/store';
import { begin, emptyJob, type History, type Job, readJob } from '../../src/job';
import { InputProblem } from '../../src/units';

/** A shelf that notes what was asked of it, and can be made to fail. */
class NotedShelf implements Pick<Shelf, 'save' | 'putFiles' | 'file'> {
  readonly log: string[] = [];
  saved: History | null = null;
  full = false;
  /** Holds saves back until it is called. */
  release: (() => void) | null = null;
  private held: Promise<void> | null = null;

  hold(): void {
    this.held = new Promise((resolve) => {
      this.release = resolve;
    });
  }

  async save(history: History, _now: number, after: number): Promise<number> {
    this.log.push(`job ${history.job.name}`);
    await this.held;
    if (this.full) throw new InputProblem('No room left.', '', 'Free some.');
    this.saved = history;
    return after + 1;
  }

  async putFiles(_id: string, files: ReadonlyMap<string, Blob>): Promise<void> {
    if (this.full) throw new InputProblem('No room left.', '', 'Free some.');
    this.log.push(...[...files.keys()].map((name) => `photo ${name}`));
  }

  async file(): Promise<Blob | null> {
    return null;
  }
}

let shelf: NotedShelf;
let store: JobStore;

const rename = (name: string) =>
  store.edit(`Name it ${name}`, (draft) => {
    draft.name = name;
  });

beforeEach(() => {
  shelf = new NotedShelf();
  store = new JobStore(
    shelf as unknown as Shelf,
    { history: begin(emptyJob('j', 'Job', '2026-11-25')), writing: 1, copied: 0 },
    () => 0,
  );
});

describe('an open job', () => {
  it('is on disk after every edit, undo included', async () => {
    rename('A');
    await store.save();
    store.undo();
    await store.save();
    expect(shelf.saved?.job.name).toBe('Job');
    expect(shelf.saved?.undone.map(({ name }) => name)).toEqual(['Name it A']);
    expect(store.redoName.value).toBe('Name it A');
  });

  it('does not write an edit that changes nothing', async () => {
    rename('Job');
    expect(shelf.log).toEqual([]);
    expect(store.undoName.value).toBeNull();
  });

  it('makes one write of many edits that came while it was writing, and ends with the last', async () => {
    shelf.hold();
    for (const name of ['A', 'B', 'C', 'D']) rename(name);
    expect(store.saveState.value).toBe('saving');
    shelf.release?.();
    await store.save();
    expect(shelf.log).toEqual(['job A', 'job D']);
    expect(shelf.saved?.job.name).toBe('D');
    expect(store.saveState.value).toBe('saved');
  });

  it('writes a photo before the job that names it', async () => {
    await store.editWithFiles(new Map([['photos/a.jpg', new Blob(['x'])]]), 'Add a photo', (draft) => {
      draft.note = 'photos/a.jpg';
    });
    await store.save();
    expect(shelf.log).toEqual(['photo photos/a.jpg', 'job Job']);
  });

  it('stays as it was when there is no room for a photo', async () => {
    shelf.full = true;
    const files = new Map([['photos/a.jpg', new Blob(['x'])]]);
    await expect(
      store.editWithFiles(files, 'Add a photo', (draft) => {
        draft.note = 'photos/a.jpg';
      }),
    ).rejects.toThrow('No room left.');
    expect(store.job.value.note).toBe('');
  });

  it('keeps an edit in memory when the disk is full, says so, and saves it at the next chance', async () => {
    shelf.full = true;
    rename('A');
    await store.save();
    expect(store.job.value.name).toBe('A');
    expect(store.saveState.value).toEqual({ problem: 'No room left. Free some.' });
    shelf.full = false;
    await store.save();
    expect(shelf.saved?.job.name).toBe('A');
    expect(store.saveState.value).toBe('saved');
  });

  it('writes what comes after a save that had nothing to write', async () => {
    await store.save();
    rename('A');
    await store.save();
    expect(shelf.log).toEqual(['job A']);
  });

  it('changes nothing while it follows another tab', async () => {
    store.role.value = 'follows';
    rename('A');
    await store.editWithFiles(new Map([['photos/a.jpg', new Blob(['x'])]]), 'Add a photo', () => {});
    expect(store.job.value.name).toBe('Job');
    expect(shelf.log).toEqual([]);
  });

  it('goes to just after any of its steps, and back, step by step the same', () => {
    const names = ['A', 'B', 'C', 'D'];
    for (const name of names) rename(name);
    for (const steps of [2, 4, 0, 1, 3]) {
      store.goTo(steps);
      expect(store.job.value.name).toBe(['Job', ...names][steps]);
      expect(store.history.value.done).toHaveLength(steps);
      expect(store.history.value.undone).toHaveLength(names.length - steps);
    }
  });

  it('takes back a step that an older version of the app stored: what that one did not know is filled in', () => {
    const sample = (name: string) => JSON.parse(readFileSync(`tests/fixtures/jobs/${name}`, 'utf8'));
    // A top, a slab and a board were taken out while their shapes were the first of this schema.
    const old: Job = sample('version-2-01-first-bare.json');
    const parts = ['tops', 'flitches', 'boards'] as const;
    const [bare, forward, back] = create(
      old,
      (draft) => {
        for (const part of parts) draft[part] = {};
      },
      { enablePatches: true },
    );
    const own = new JobStore(
      shelf as unknown as Shelf,
      {
        history: { job: readJob(bare), done: [{ name: 'Take out', forward, back }], undone: [] },
        writing: 0,
        copied: 0,
      },
      () => 0,
    );
    own.undo();
    expect(own.job.value).toEqual(readJob(old));
    expect(parts.map((part) => Object.keys(own.job.value[part]).length)).toEqual(
      parts.map((part) => Object.keys(old[part]).length),
    );
    own.redo();
    expect(own.job.value.tops).toEqual({});
  });

  it('does not take back a step that leads to no job, and loses nothing by it', () => {
    const job = emptyJob('j', 'Job', '2026-11-25');
    const [, , back] = create(job, (draft) => void Object.assign(draft, { units: 7 }), { enablePatches: true });
    const broken = back.map((patch) => ({ ...patch, value: 7 }));
    const own = new JobStore(
      shelf as unknown as Shelf,
      { history: { job, done: [{ name: 'Odd', forward: back, back: broken }], undone: [] }, writing: 0, copied: 0 },
      () => 0,
    );
    own.undo();
    expect(own.job.value).toBe(job);
    expect(own.undoName.value).toBe('Odd');
  });
});
