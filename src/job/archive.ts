import type { Zippable } from 'fflate';
import { InputProblem, quoted } from '../units';
import type { Job } from './job';
import { readJob } from './migrate';
import { namedFiles } from './named-files';
import { leadsOut } from './paths';
import { crc32, type ZipEntry, zipDirectory } from './zip-directory';

/**
 * The job file: a ZIP with `job.json` and the photos that it names, so that a job can travel without a server. A file that
 * a stranger made is only data: what does not fit is refused whole, with a sentence. The ZIP code is read at first need.
 */

/** Bounds of what is read: far above any job (thirty photos of 8 MB), far below what would choke a phone. */
export const MOST_BYTES = 1024 * 2 ** 20;
const MOST_JOB_BYTES = 64 * 2 ** 20;
const MOST_ENTRIES = 2000;
/** No file unpacks to more times its packed size (zlib's technical details: 1032 : 1): what claims to is never made room for. */
const MOST_RATIO = 1040;

const JOB = 'job.json';

/** Any fixed time, the same on every clock of the world: the same job then gives the same bytes. ZIP knows no year before 1980. */
const MTIME = '1980-01-02T00:00:00';

/** Photos are packed already. */
const STORED = /\.(jpe?g|png|webp)$/i;

const SAVE_AGAIN = 'Save the job as a file again where it came from, and open that.';

/** A job and its photos, by the names that the job gives them. */
export interface JobFile {
  job: Job;
  files: Map<string, Uint8Array<ArrayBuffer>>;
}

/** The job file's bytes. @throws InputProblem when a photo that the job names is not among `files` */
export async function writeJobFile({ job, files }: JobFile): Promise<Uint8Array<ArrayBuffer>> {
  const { strToU8, zipSync } = await import('fflate');
  const zip: Zippable = { [JOB]: [strToU8(JSON.stringify(job)), { level: 6, mtime: MTIME }] };
  for (const name of namedFiles(job)) {
    const bytes = files.get(name);
    if (!bytes) throw missing(name);
    zip[name] = [bytes, { level: STORED.test(name) ? 0 : 6, mtime: MTIME }];
  }
  return zipSync(zip);
}

/**
 * Reads a job file (ZIP), or a bare `job.json` whose photos are given `beside` it. Of a ZIP only job.json and the photos that it names are unpacked.
 * @throws InputProblem for anything else: truncated, damaged, too large, a path that leads out of the file, a newer job, a missing photo
 */
export async function readJobFile(
  bytes: Uint8Array<ArrayBuffer>,
  beside: ReadonlyMap<string, Uint8Array<ArrayBuffer>> = new Map(),
): Promise<JobFile> {
  if (bytes.length === 0) throw new InputProblem('This file is empty.', '', SAVE_AGAIN);
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b;
  const unpack = isZip ? await openZip(bytes) : (name: string) => (name === JOB ? bytes : beside.get(name));
  const json = unpack(JOB);
  if (!json) throw new InputProblem(`This ZIP holds no ${JOB}, so it is no job file.`, '', SAVE_AGAIN);
  const job = readJob(parse(json));
  const files = new Map<string, Uint8Array<ArrayBuffer>>();
  for (const name of namedFiles(job)) {
    const file = unpack(name);
    if (!file) throw missing(name);
    files.set(name, file);
  }
  return { job, files };
}

function missing(name: string): InputProblem {
  return new InputProblem(
    `The photo ${quoted(name, 80)} that the job names is not with it.`,
    name,
    'Open the job file (ZIP) that carries its photos, or choose job.json and its photos together.',
  );
}

function parse(json: Uint8Array): unknown {
  if (json.length > MOST_JOB_BYTES) throw tooLarge(`its ${JOB}`);
  try {
    return JSON.parse(new TextDecoder().decode(json));
  } catch {
    throw new InputProblem(
      'This is not a job file: it is neither a ZIP nor a job.json that can be read.',
      '',
      SAVE_AGAIN,
    );
  }
}

/**
 * What gives a ZIP's files by their names, each unpacked when it is asked for.
 * @throws InputProblem when the directory is damaged, claims too much, names a file twice or leads out of the file
 */
async function openZip(bytes: Uint8Array<ArrayBuffer>): Promise<(name: string) => Uint8Array<ArrayBuffer> | undefined> {
  const { unzipSync } = await import('fflate');
  const entries = new Map<string, ZipEntry>();
  for (const entry of orDamaged(() => zipDirectory(bytes))) {
    const { name } = entry;
    if (leadsOut(name))
      throw new InputProblem(`The file holds a path that leads out of it: ${quoted(name, 80)}.`, name, SAVE_AGAIN);
    if (entries.has(name)) throw new InputProblem(`The file holds ${quoted(name, 80)} twice.`, name, SAVE_AGAIN);
    entries.set(name, entry);
  }
  const total = [...entries.values()].reduce((sum, { packed, unpacked }) => sum + Math.max(packed, unpacked), 0);
  if (entries.size > MOST_ENTRIES || total > MOST_BYTES) throw tooLarge('what it unpacks to');
  return (name) => {
    const entry = entries.get(name);
    if (!entry) return undefined;
    if (name === JOB && entry.unpacked > MOST_JOB_BYTES) throw tooLarge(`its ${JOB}`);
    if (entry.unpacked > MOST_RATIO * (entry.packed + 1)) throw damaged(name);
    const file = orDamaged(() => unzipSync(bytes, { filter: (own) => own.name === name })[name]);
    // A digit that changed on the way would change a cut.
    if (!file || file.length !== entry.unpacked || crc32(file) !== entry.crc) throw damaged(name);
    return file as Uint8Array<ArrayBuffer>;
  };
}

function orDamaged<T>(read: () => T): T {
  try {
    return read();
  } catch {
    throw damaged('');
  }
}

const damaged = (name: string): InputProblem =>
  new InputProblem(
    `This job file is cut short or damaged${name === '' ? '' : ` at ${quoted(name, 80)}`}.`,
    name,
    SAVE_AGAIN,
  );

function tooLarge(what: string): InputProblem {
  return new InputProblem(
    `This job file is too large: ${what} would not fit.`,
    '',
    'Open a job file that this app saved.',
  );
}
