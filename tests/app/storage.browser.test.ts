import { expect, test } from 'vitest';
import { browserShelf } from '../../src/app/storage';
import { begin, edit, emptyJob, undo } from '../../src/job';

/** The shelf in a real browser's IndexedDB: what was saved comes back whole, undo included. */

test('a job comes back with its history, and its photo byte by byte', async () => {
  const shelf = browserShelf();
  const id = `job-${crypto.randomUUID().slice(0, 8)}`;
  const history = edit(begin(emptyJob(id, 'Shelf test', '2026-11-25')), 'Rename', (draft) => {
    draft.name = 'Renamed';
  });
  await shelf.putFiles(id, new Map([['photos/a.jpg', new Blob([new Uint8Array([1, 2, 3])])]]), 1);
  await shelf.save(history, 1);
  const loaded = await browserShelf().load(id);
  if ('unreadable' in loaded) throw loaded.unreadable;
  expect(loaded.job.name).toBe('Renamed');
  expect(undo(loaded).job.name).toBe('Shelf test');
  const photo = await shelf.file(id, 'photos/a.jpg');
  expect([...new Uint8Array((await photo?.arrayBuffer()) ?? new ArrayBuffer(0))]).toEqual([1, 2, 3]);
});

test('a job that was removed is gone with its photos', async () => {
  const shelf = browserShelf();
  const id = `job-${crypto.randomUUID().slice(0, 8)}`;
  await shelf.putFiles(id, new Map([['photos/a.jpg', new Blob(['x'])]]), 1);
  await shelf.save(begin(emptyJob(id, 'Short-lived', '2026-11-25')), 1);
  await shelf.remove(id);
  expect(await shelf.file(id, 'photos/a.jpg')).toBeNull();
  await expect(shelf.load(id)).rejects.toThrow();
});
