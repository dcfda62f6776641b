import type { UnzipFileInfo, Zippable } from 'fflate';
import { InputProblem } from '../units';
import type { Job } from './job';
import { readJob } from './migrate';
import { namedFiles } from './named-files';
import { leadsOut } from './paths';

/**
 * The job file: a ZIP with `job.json` and the photos that it names, so that a job can travel without a server. A file that
 * a stranger made is only data: what does not fit is refused whole, with a sentence. The ZIP code is read at first need.
 */

/** Bounds of what is read: far above any job (thirty photos of 8 MB), far below what would choke a phone. */
export const MOST_BYTES = 1024 * 2 ** 20;
const MOST_JOB_BYTES = 64 * 2 ** 20;
const MOST_ENTRIES = 2000;

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
  const zip: Zippable = { 'job.json': [strToU8(JSON.stringify(job)), { level: 6, mtime: MTIME }] };
  for (const name of namedFiles(job)) {
    const bytes = files.get(name);
    if (!bytes) throw missing(name);
    zip[name] = [bytes, { level: STORED.test(name) ? 0 : 6, mtime: MTIME }];
  }
  return zipSync(zip);
}

/**
 * Reads a job file (ZIP), or a bare `job.json` whose photos are given `beside` it.
 * @throws InputProblem for anything else: truncated, too large, a path that leads out of the file, a newer job, a missing photo
 */
export async function readJobFile(
  bytes: Uint8Array<ArrayBuffer>,
  beside: ReadonlyMap<string, Uint8Array<ArrayBuffer>> = new Map(),
): Promise<JobFile> {
  if (bytes.length === 0) throw new InputProblem('This file is empty.', '', SAVE_AGAIN);
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b;
  const entries = isZip ? await unzip(bytes) : new Map([...beside, ['job.json', bytes]]);
  const json = entries.get('job.json');
  if (!json) throw new InputProblem('This ZIP holds no job.json, so it is no job file.', '', SAVE_AGAIN);
  const job = readJob(parse(json));
  const files = new Map<string, Uint8Array<ArrayBuffer>>();
  for (const name of namedFiles(job)) {
    const file = entries.get(name);
    if (!file) throw missing(name);
    files.set(name, file);
  }
  return { job, files };
}

function missing(name: string): InputProblem {
  return new InputProblem(
    `The photo "${name}" that the job names is not with it.`,
    name,
    'Open the job file (ZIP) that carries its photos, or choose job.json and its photos together.',
  );
}

function parse(json: Uint8Array): unknown {
  if (json.length > MOST_JOB_BYTES) throw tooLarge('its job.json');
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

async function unzip(bytes: Uint8Array<ArrayBuffer>): Promise<Map<string, Uint8Array<ArrayBuffer>>> {
  const { unzipSync } = await import('fflate');
  let total = 0;
  let count = 0;
  try {
    const entries = unzipSync(bytes, {
      filter({ name, size, originalSize }: UnzipFileInfo) {
        if (leadsOut(name))
          throw new InputProblem(
            `The file holds a path that leads out of it: "${name.slice(0, 80)}".`,
            name,
            SAVE_AGAIN,
          );
        count += 1;
        // Both are what the file claims; the packed size is held against the bytes that are there, too.
        total += Math.max(originalSize, size);
        if (count > MOST_ENTRIES || total > MOST_BYTES) throw tooLarge('what it unpacks to');
        return !name.endsWith('/');
      },
    });
    return new Map(Object.entries(entries) as [string, Uint8Array<ArrayBuffer>][]);
  } catch (error) {
    if (error instanceof InputProblem) throw error;
    throw new InputProblem('This job file is cut short or damaged.', '', SAVE_AGAIN);
  }
}

function tooLarge(what: string): InputProblem {
  return new InputProblem(
    `This job file is too large: ${what} would not fit.`,
    '',
    'Open a job file that this app saved.',
  );
}
