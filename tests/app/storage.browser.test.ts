import { expect, test } from 'vitest';
import { browserLenses, browserShelf } from '../../src/app/storage';
import { begin, edit, emptyJob, undo } from '../../src/job';

/** The shelf in a real browser's IndexedDB: what was saved comes back whole, undo included. */

test('a job comes back with its history, and its photo byte by byte', async () => {
  const shelf = browserShelf();
  const id = `job-${crypto.randomUUID().slice(0, 8)}`;
  const history = edit(begin(emptyJob(id, 'Shelf test', '2026-11-25')), 'Rename', (draft) => {
    draft.name = 'Renamed';
  });
  await shelf.putFiles(id, new Map([['photos/a.jpg', new Blob([new Uint8Array([1, 2, 3])])]]), 1);
  await shelf.save(history, 1, 0);
  const loaded = await browserShelf().load(id);
  if ('unreadable' in loaded) throw loaded.unreadable;
  expect(loaded.history.job.name).toBe('Renamed');
  expect(undo(loaded.history).job.name).toBe('Shelf test');
  const photo = await shelf.file(id, 'photos/a.jpg');
  expect([...new Uint8Array((await photo?.arrayBuffer()) ?? new ArrayBuffer(0))]).toEqual([1, 2, 3]);
});

test('a job that was removed is gone with its photos', async () => {
  const shelf = browserShelf();
  const id = `job-${crypto.randomUUID().slice(0, 8)}`;
  await shelf.putFiles(id, new Map([['photos/a.jpg', new Blob(['x'])]]), 1);
  await shelf.save(begin(emptyJob(id, 'Short-lived', '2026-11-25')), 1, 0);
  await shelf.remove(id);
  expect(await shelf.file(id, 'photos/a.jpg')).toBeNull();
  await expect(shelf.load(id)).rejects.toThrow();
});

test('a lens is kept beside the jobs until it is forgotten, and is no job', async () => {
  const lenses = browserLenses();
  const camera = {
    make: 'Maker',
    model: `Phone ${crypto.randomUUID().slice(0, 8)}`,
    lens: '',
    focal: 5.4,
    focal35: 26,
    zoom: 1,
    longer: 4000,
    shorter: 3000,
    day: '2026-11-24',
  };
  const lens = { camera, focal: 0.73, k1: -0.05, focalSigma: 0.003, k1Sigma: 0.004, day: '2026-11-24' };
  const own = async () => (await browserLenses().list()).filter((kept) => kept.camera.model === camera.model);
  await lenses.keep(camera.model, lens);
  expect(await own()).toMatchObject([lens]);
  await lenses.keep(camera.model, { ...lens, focal: 0.74 });
  expect(await own()).toMatchObject([{ focal: 0.74 }]);
  expect((await browserShelf().list()).some(({ id }) => id.includes(camera.model))).toBe(false);
  await lenses.forget(camera.model);
  expect(await own()).toEqual([]);
});
