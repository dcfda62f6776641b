import { stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { type JobFile, namedFiles, readJob, readJobFile } from '../job';
import { type Io, pathOf } from './io';
import { fileProblem, parseJson, readBytes } from './json-file';

/** A job with its photos, and the folder that it was read from; null for a job file, whose photos lie inside it. */
export interface JobSource extends JobFile {
  readonly folder: string | null;
}

/**
 * Reads the job of a name: a folder with `job.json` and its photos, that `job.json` itself, or the app's job file.
 * @throws InputProblem when it is missing, damaged, no job, or a photo that it names is not with it
 */
export async function readJobSource(io: Io, name: string): Promise<JobSource> {
  const path = pathOf(io, name);
  const found = await stat(path).catch((error) => {
    throw fileProblem(error, name);
  });
  if (found.isDirectory()) return readJobFolder(path, join(name, 'job.json'));
  const bytes = await readBytes(path, name);
  if (/\.json$/i.test(name)) return readJobFolder(dirname(path), name);
  return { ...(await readJobFile(bytes)), folder: null };
}

async function readJobFolder(folder: string, name: string): Promise<JobSource> {
  const json = await readBytes(join(folder, name.slice(name.lastIndexOf('/') + 1)), name);
  const job = readJob(await parseJson(json, name));
  const files: JobFile['files'] = new Map();
  for (const file of namedFiles(job)) files.set(file, await readBytes(join(folder, file), file));
  return { job, files, folder };
}
