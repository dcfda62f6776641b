import { createStore, get, set } from 'idb-keyval';
import { expect, test, vi } from 'vitest';
import { Overtaken } from '../../src/app/shelf';
import { browserShelf } from '../../src/app/storage';
import { begin, edit, emptyJob } from '../../src/job';

/** What keeps one writing of a job from taking another's place. */

const fresh = () => begin(emptyJob(`job-${crypto.randomUUID().slice(0, 8)}`, 'Guarded', '2026-11-26'));
const named = (history: ReturnType<typeof fresh>, name: string) =>
  edit(history, 'Rename', (draft) => {
    draft.name = name;
  });

test('a write over a writing that its writer has not seen is refused, and changes nothing', async () => {
  const shelf = browserShelf();
  const history = fresh();
  const { id } = history.job;
  const first = await shelf.save(history, 1, 0);
  await shelf.save(named(history, 'Of the other tab'), 2, first);
  await expect(shelf.save(named(history, 'Stale'), 3, first)).rejects.toThrow(Overtaken);
  const stored = await browserShelf().load(id);
  expect('history' in stored && stored.history.job.name).toBe('Of the other tab');
  await shelf.remove(id);
  await expect(shelf.save(named(history, 'After it was removed'), 4, first + 1)).rejects.toThrow(Overtaken);
  await expect(shelf.load(id)).rejects.toThrow('not on this device');
});

test('what an older version of the app stored is kept as it was when this one writes the job', async () => {
  const shelf = browserShelf();
  const store = createStore('waneline', 'shelf');
  const history = fresh();
  const { id } = history.job;
  const older = { version: 1, savedAt: 1, history: { ...history, job: { ...history.job, schema: 1 } } };
  await set(`job/${id}`, older, store);
  await set(`about/${id}`, { version: 1, id, name: 'Guarded', slabs: 0, savedAt: 1 }, store);
  const opened = await shelf.load(id);
  if ('unreadable' in opened) throw opened.unreadable;
  await shelf.save(named(opened.history, 'Changed'), 2, opened.writing);
  expect(await get(`before/${id}/1`, store)).toEqual(older);
  const stored = await shelf.load(id);
  expect('history' in stored && stored.history.job.name).toBe('Changed');
  await shelf.remove(id);
  expect(await get(`before/${id}/1`, store)).toBeUndefined();
});

test('a first write over what an older version stored that breaks off anywhere leaves all of it as it was, and the next one is whole', async () => {
  const store = createStore('waneline', 'shelf');
  for (const breaksAt of [1, 2, 3]) {
    const shelf = browserShelf();
    const history = fresh();
    const { id } = history.job;
    const older = { version: 1, savedAt: 1, history: { ...history, job: { ...history.job, schema: 1 } } };
    const about = { version: 1, id, name: 'Guarded', slabs: 0, savedAt: 1 };
    await set(`job/${id}`, older, store);
    await set(`about/${id}`, about, store);
    const opened = await shelf.load(id);
    if ('unreadable' in opened) throw opened.unreadable;

    const put = IDBObjectStore.prototype.put;
    let puts = 0;
    const breaking = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (
      this: IDBObjectStore,
      ...args
    ) {
      if (++puts === breaksAt) throw new DOMException('pulled out', 'UnknownError');
      return put.apply(this, args);
    });
    await expect(shelf.save(named(opened.history, 'Broken off'), 2, opened.writing)).rejects.toThrow('would not save');
    breaking.mockRestore();
    expect(puts).toBe(breaksAt);
    expect(await get(`job/${id}`, store)).toEqual(older);
    expect(await get(`about/${id}`, store)).toEqual(about);
    expect(await get(`before/${id}/1`, store)).toBeUndefined();

    await shelf.save(named(opened.history, 'Whole'), 3, opened.writing);
    expect(await get(`before/${id}/1`, store)).toEqual(older);
    const stored = await shelf.load(id);
    expect('history' in stored && stored.history.job.name).toBe('Whole');
    await shelf.remove(id);
  }
});
