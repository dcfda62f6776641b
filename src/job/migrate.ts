import { InputProblem } from '../units';
import { type Job, jobSchema, SCHEMA_VERSION } from './job';
import { checked } from './read';

/**
 * A job document as it was stored or sent, brought to this version and checked.
 * @throws InputProblem for anything that is no job, or that a newer Waneline wrote (it is left as it is)
 */
export function readJob(input: unknown): Job {
  const version = (input as { schema?: unknown } | null)?.schema;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    throw new InputProblem(
      'This is not a Waneline job: it names no schema version.',
      '/schema',
      'Choose a job file that this app saved.',
    );
  }
  if (version > SCHEMA_VERSION) {
    throw new InputProblem(
      `This job was saved by a newer version (${version}; this one reads up to ${SCHEMA_VERSION}).`,
      '/schema',
      'Update the app, then open it again. The file is left as it is.',
    );
  }
  return checked(jobSchema, input);
}
