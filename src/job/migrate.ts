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
  return checked(
    jobSchema,
    MIGRATIONS.slice(version - 1).reduce((job, migrate) => migrate(job), input),
  );
}

/** What brings a document of version i + 1 to the next. Each takes anything: what is no job is for the check to refuse. */
const MIGRATIONS: readonly ((job: unknown) => unknown)[] = [
  // 2: faces say what no photo shows, keep sapwood, pith and grain, and what was drawn by hand on them. The first of version 1 knew nothing
  // of hidden wood, nor on what size of picture a calibration was found: it was the photo's.
  (job) => ({
    ...eachFace(job, (face) => ({
      hidden: [],
      unseen: [],
      sapwood: [],
      pith: null,
      grainLines: [],
      strokes: [],
      outlineByHand: false,
      ...(changed(face, ['photos', '*'], withWholeCalibration) as Loose),
    })),
    schema: 2,
  }),
];

/**
 * A job with what it lacks filled in: steps that an older version of the app stored bring back parts as that one knew them. The same job where nothing
 * lacks, so that what follows from it need not be computed anew.
 * @throws InputProblem when it is no job
 */
export function completed(job: Job): Job {
  const whole = readJob(job);
  return holdsAll(job, whole) ? job : whole;
}

/** Whether a value has every part that another one has. */
const holdsAll = (value: unknown, whole: unknown): boolean =>
  typeof whole !== 'object' ||
  whole === null ||
  Object.entries(whole).every(
    ([key, part]) =>
      typeof value === 'object' && value !== null && Object.hasOwn(value, key) && holdsAll((value as Loose)[key], part),
  );

type Loose = Record<string, unknown>;
const isObject = (x: unknown): x is Loose => typeof x === 'object' && x !== null && !Array.isArray(x);

/** The value with `change` made to every entry of the objects that `path` leads to; `*` stands for every key. What does not fit is left. */
function changed(value: unknown, path: readonly string[], change: (own: Loose) => unknown): unknown {
  if (!isObject(value)) return value;
  const [key, ...rest] = path;
  if (key === undefined) return change(value);
  const keys = key === '*' ? Object.keys(value) : key in value ? [key] : [];
  return { ...value, ...Object.fromEntries(keys.map((k) => [k, changed(value[k], rest, change)])) };
}

function withWholeCalibration({ width, height, ...photo }: Loose): Loose {
  const { calibration } = photo;
  if (!isObject(calibration)) return { ...photo, width, height };
  return { ...photo, width, height, calibration: { width, height, relief: null, refused: [], ...calibration } };
}

function eachFace(job: unknown, change: (face: Loose) => unknown): Loose {
  const paths = ['flitches.*.slabs.*.faces.*', 'boards.*.leaves.*.faces.*'].map((path) => path.split('.'));
  return paths.reduce((whole, path) => changed(whole, path, change), job) as Loose;
}
