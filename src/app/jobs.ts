import { signal } from '@preact/signals';
import { emptyJob, filesInHistory, type Job, MOST_BYTES, namedFiles, readJob, readJobFile, writeJobFile } from '../job';
import { InputProblem } from '../units';
import { disk } from './disk';
import { withoutGps } from './gps/without-gps';
import type { Shelf } from './shelf';
import { browserShelf } from './storage';
import { JobStore, placeOnShelf } from './store';

/** The jobs of this device: list, open, begin, bring in, send out. */

const shelf: Shelf = browserShelf();

/** The list of stored jobs; null until it was read. */
export const jobs = signal<Awaited<ReturnType<Shelf['list']>> | null>(null);

/** Reads the list anew. */
export async function refreshJobs(): Promise<void> {
  jobs.value = await shelf.list();
}

/** Asks anew what the browser grants, once there is something to keep. */
export async function lookAtDisk(): Promise<void> {
  disk.value = await shelf.disk();
}

/**
 * Opens a stored job. @throws InputProblem when it is not here, or this version cannot read it (it stays stored)
 */
export async function openJob(id: string): Promise<JobStore> {
  const found = await shelf.load(id);
  if ('unreadable' in found) throw found.unreadable;
  void shelf.sweep(id, filesInHistory(found.history), Date.now());
  void lookAtDisk();
  return new JobStore(shelf, found);
}

/** Every other stored job that this version can read and that wants a top or a door, the one saved last first. */
export async function otherJobs(than: string): Promise<Job[]> {
  const others = (await shelf.list()).filter(({ id }) => id !== than);
  const found = await Promise.all(others.map(({ id }) => shelf.load(id)));
  return found
    .flatMap((each) => ('unreadable' in each ? [] : [each.history.job]))
    .filter(({ tops, doors }) => Object.keys(tops).length + Object.keys(doors).length > 0);
}

/** Begins a job with nothing in it. @returns its id */
export async function newJob(): Promise<string> {
  const now = new Date();
  const today = [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, '0')).join('-');
  const usesInches = /^en-(US|LR)$/.test(navigator.language);
  const job = emptyJob(newId(), 'New job', today);
  const local: Job = usesInches ? { ...job, units: 'in', currency: 'USD' } : job;
  await placeOnShelf(shelf, local, new Map(), Date.now());
  return local.id;
}

/** Opens the demo job, as it was left or else fresh. @returns its id */
export async function openDemo(): Promise<string> {
  const job = readJob(await (await fetchDemo('job.json')).json());
  const stored = await shelf.list();
  if (stored.some(({ id }) => id === job.id)) return job.id;
  const photos = await Promise.all(
    namedFiles(job).map(async (name): Promise<[string, Blob]> => [name, await (await fetchDemo(name)).blob()]),
  );
  await placeOnShelf(shelf, job, new Map(photos), Date.now());
  return job.id;
}

async function fetchDemo(name: string): Promise<Response> {
  const response = await fetch(`demo/${name}`).catch(() => null);
  if (response?.ok) return response;
  throw new InputProblem(
    'The demo job could not be fetched.',
    name,
    'Connect to the network once, then open it again.',
  );
}

/**
 * Brings in a job file, or a job.json with its photos beside it. A job that is here already is kept: the file becomes a copy.
 * @returns the id of the job
 * @throws InputProblem when it cannot be read or there is no room; nothing is changed then
 */
export async function bringIn(files: readonly File[]): Promise<string> {
  const main = files.find(isJobFile);
  if (!main) throw noJobFile(files);
  if (files.reduce((sum, { size }) => sum + size, 0) > MOST_BYTES)
    throw new InputProblem('This job file is too large to read.', main.name, 'Open a job file that this app saved.');
  const bytesOf = async (file: File) => new Uint8Array(await file.arrayBuffer());
  const beside = new Map<string, Uint8Array<ArrayBuffer>>();
  for (const file of files) if (file !== main) beside.set(file.name, await bytesOf(file));
  const { job, files: photos } = await readJobFile(await bytesOf(main), beside);
  return placeArrived(job, photos);
}

/** Whether a file is a job's, by its name; what it holds is told when it is read. */
export const isJobFile = ({ name }: File): boolean => /\.(zip|json)$/i.test(name);

/**
 * Brings in every job file among these, each as a job of its own; with a job.json go all the files that are none.
 * @returns their ids, and what is wrong with those that could not be read
 * @throws InputProblem when there is no job file among them
 */
export async function bringInAll(files: readonly File[]): Promise<{ ids: string[]; refused: unknown[] }> {
  const mains = files.filter(isJobFile);
  if (mains.length === 0) throw noJobFile(files);
  const others = files.filter((file) => !isJobFile(file));
  const [ids, refused]: [string[], unknown[]] = [[], []];
  for (const main of mains) {
    const beside = /json$/i.test(main.name) ? others : [];
    await bringIn([main, ...beside]).then(
      (id) => ids.push(id),
      (error) => refused.push(error),
    );
  }
  return { ids, refused };
}

function noJobFile(files: readonly File[]): InputProblem {
  const photos = files.some(({ type, name }) => type.startsWith('image/') || /\.hei[cf]$/i.test(name));
  return new InputProblem(
    files.length === 1 ? 'This file is no job file.' : 'None of these files is a job file.',
    files[0]?.name ?? '',
    photos
      ? 'Photos of slabs are added in a job: open one or begin a new one, and drop them on Stock.'
      : 'Choose a job file (.zip), or a job.json with its photos.',
  );
}

/** Puts a job that came from elsewhere on the shelf. One that is here already is kept: what came becomes a copy. @returns its id */
export async function placeArrived(job: Job, photos: ReadonlyMap<string, Uint8Array<ArrayBuffer>>): Promise<string> {
  const taken = (await shelf.list()).some(({ id }) => id === job.id);
  const own: Job = taken ? { ...job, id: newId(), name: copyName(job.name) } : job;
  const blobs = [...photos].map(([name, bytes]): [string, Blob] => [name, new Blob([bytes], { type: typeOf(name) })]);
  await placeOnShelf(shelf, own, new Map(blobs), Date.now());
  return own.id;
}

/** The job file of an open job; its photos do not tell where they were taken, unless that is wanted. */
export async function jobFileOf(store: JobStore): Promise<File> {
  const job = store.job.peek();
  const photos = await store.files();
  const files = new Map<string, Uint8Array<ArrayBuffer>>();
  for (const [name, blob] of photos) {
    const bytes = new Uint8Array(await blob.arrayBuffer());
    files.set(name, job.shop.tellPlace ? bytes : withoutGps(bytes));
  }
  return new File([await writeJobFile({ job, files })], `${fileNameOf(job.name)}.zip`, { type: 'application/zip' });
}

/** A second job like one of this device, photos too; its steps stay with the first. @returns its id */
export async function duplicateJob(id: string): Promise<string> {
  const found = await shelf.load(id);
  if ('unreadable' in found) throw found.unreadable;
  const { job } = found.history;
  const own: Job = { ...job, id: newId(), name: copyName(job.name) };
  await placeOnShelf(shelf, own, await new JobStore(shelf, found).files(), Date.now());
  return own.id;
}

const copyName = (name: string) => `${name} (copy)`.slice(0, 500);

/** Hands a file on: through the system's share sheet where there is one, else as a download. @returns whether it was handed on */
export async function handOver(file: File): Promise<boolean> {
  if (navigator.maxTouchPoints > 0 && navigator.canShare?.({ files: [file] })) {
    const shared = await navigator.share({ files: [file] }).then(
      () => 'shared',
      (error) => (error instanceof DOMException && error.name === 'AbortError' ? 'left' : 'refused'),
    );
    if (shared !== 'refused') return shared === 'shared';
  }
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  // The download has its own hold on the bytes by then.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return true;
}

/** The stored record of a job that cannot be read, for download. */
export async function rawRecord(id: string): Promise<File> {
  return new File([await shelf.raw(id)], `${fileNameOf(id)}-as-stored.json`, { type: 'application/json' });
}

/** Removes a job and its photos from this device. */
export async function removeJob(id: string): Promise<void> {
  await shelf.remove(id);
  await refreshJobs();
}

/** A name for anything in a job that no other has. */
export const newId = (): string => crypto.randomUUID().replaceAll('-', '').slice(0, 12);

const typeOf = (name: string) =>
  name.endsWith('.png') ? 'image/png' : name.endsWith('.webp') ? 'image/webp' : 'image/jpeg';

const fileNameOf = (name: string) =>
  name
    .replace(/[^\p{L}\p{N} _-]+/gu, '')
    .trim()
    .slice(0, 80) || 'job';
