import { readFile } from 'node:fs/promises';
import { type Job, namedFiles, readJob, readJobFile, writeJobFile } from '../../src/job';
import { keyedJobFile } from './keyed-job';

/** A job that has something at every stage: the demo job, with a slab whose top is laid out and keyed. */
export async function everyStageJobFile(): Promise<Buffer> {
  const keyed = await readJobFile(new Uint8Array(await keyedJobFile()));
  const demo = readJob(JSON.parse(await readFile('demo-images/job.json', 'utf8')));
  const job: Job = {
    ...demo,
    flitches: { ...demo.flitches, ...keyed.job.flitches },
    tops: { ...demo.tops, ...keyed.job.tops },
    plans: keyed.job.plans,
    keptPlan: keyed.job.keptPlan,
  };
  const files = new Map(keyed.files);
  for (const name of namedFiles(demo)) files.set(name, new Uint8Array(await readFile(`demo-images/${name}`)));
  return Buffer.from(await writeJobFile({ job, files }));
}
