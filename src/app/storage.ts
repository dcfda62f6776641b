import { del, delMany, get, getMany, keys, promisifyRequest, set, setMany, type UseStore, update } from 'idb-keyval';
import { type History, readJob, SCHEMA_VERSION } from '../job';
import { InputProblem } from '../units';
import {
  type About,
  type KeptLens,
  type LensShelf,
  Overtaken,
  type Shelf,
  type Stored,
  type Unreadable,
} from './shelf';

/**
 * The job shelf of this browser: the only file that touches IndexedDB. A job is one record, written in one transaction with
 * the line that lists it; photos are records of their own, written before the job that names them, so a job never names a
 * photo that is not there. What cannot be read is left as it is.
 */

/** The version of the records below. The job inside carries its own. */
const RECORD_VERSION = 1;

interface JobRecord {
  version: number;
  history: History;
  savedAt: number;
}
interface AboutRecord extends About {
  version: number;
  /** Version of the job document that is stored. */
  schema?: number;
}
interface FileRecord {
  version: number;
  blob: Blob;
  savedAt: number;
}

interface LensRecord extends KeptLens {
  version: number;
}

const LENS = 'lens/';
const jobKey = (id: string) => `job/${id}`;
const aboutKey = (id: string) => `about/${id}`;
const fileKey = (id: string, file: string) => `file/${id}/${file}`;
/** A job as an older version of the app left it, kept when this one writes it for the first time. */
const beforeKey = (id: string, schema: number) => `before/${id}/${schema}`;

/** A photo that no job names is kept this long, in ms: another tab may be about to name it. */
const ORPHAN_AGE = 24 * 3600 * 1000;

/**
 * The one store of the one database, so that a transaction spans photos and jobs alike. idb-keyval's own does not say how sure a write is
 * to be: this one is told done when it is on the disk, and a power loss takes nothing that the screen called saved.
 */
function shelfStore(): UseStore {
  let opened: Promise<IDBDatabase> | null = null;
  const open = async (): Promise<IDBDatabase> => {
    const request = indexedDB.open('waneline');
    request.onupgradeneeded = () => request.result.createObjectStore('shelf');
    const database = await promisifyRequest(request);
    // The browser may close it by itself, for lack of memory or to clear it; the next call opens it again.
    database.onclose = () => {
      opened = null;
    };
    return database;
  };
  return async (mode, work) => {
    opened ??= open();
    const database = await opened.catch((error) => {
      opened = null;
      throw error;
    });
    return work(database.transaction('shelf', mode, { durability: 'strict' }).objectStore('shelf'));
  };
}

/** Opens the shelf. */
export function browserShelf(): Shelf {
  const store = shelfStore();

  return {
    async list() {
      const ids = (await keys<string>(store))
        .filter((key) => key.startsWith('job/'))
        .map((key) => key.slice('job/'.length));
      const abouts = await getMany<AboutRecord>(ids.map(aboutKey), store);
      // A job whose line is missing is listed all the same: it is never lost from sight.
      return ids
        .map((id, i) => abouts[i] ?? { id, name: id, slabs: 0, savedAt: 0 })
        .sort((a, b) => b.savedAt - a.savedAt);
    },

    async load(id) {
      const [record, about] = await getMany<unknown>([jobKey(id), aboutKey(id)], store);
      if (record === undefined)
        throw new InputProblem('That job is not on this device.', id, 'Open its job file, or choose another job.');
      const history = readRecord(record);
      if ('unreadable' in history) return history;
      const { writing = 0, copied = 0 } = (about ?? {}) as Partial<AboutRecord>;
      return { history, writing, copied } satisfies Stored;
    },

    async save(history, savedAt, after) {
      const { id, name, flitches, schema } = history.job;
      const slabs = Object.values(flitches).reduce((sum, flitch) => sum + Object.keys(flitch.slabs).length, 0);
      const writing = after + 1;
      const record: JobRecord = { version: RECORD_VERSION, history, savedAt };
      const about: AboutRecord = { version: RECORD_VERSION, id, name, slabs, savedAt, writing, schema };
      await guarded(() =>
        store('readwrite', (own) =>
          whole(own.transaction, async () => {
            const known: AboutRecord | undefined = await promisifyRequest(own.get(aboutKey(id)));
            if ((known?.writing ?? 0) !== after) throw new Overtaken();
            if (known && known.schema !== schema) {
              const older: JobRecord | undefined = await promisifyRequest(own.get(jobKey(id)));
              const was = older?.history.job.schema;
              if (was !== undefined && was < SCHEMA_VERSION) own.put(older, beforeKey(id, was));
            }
            own.put(record, jobKey(id));
            own.put({ ...about, copied: known?.copied ?? 0 }, aboutKey(id));
          }),
        ),
      );
      return writing;
    },

    async putFiles(id, files, savedAt) {
      const records = [...files].map(([file, blob]): [string, FileRecord] => [
        fileKey(id, file),
        { version: RECORD_VERSION, blob, savedAt },
      ]);
      await guarded(() => setMany(records, store));
    },

    async file(id, file) {
      const record = await get<FileRecord>(fileKey(id, file), store);
      return record?.blob instanceof Blob ? record.blob : null;
    },

    async remove(id) {
      const all = await keys<string>(store);
      const parts = [`file/${id}/`, `before/${id}/`];
      const own = all.filter(
        (key) => key === jobKey(id) || key === aboutKey(id) || parts.some((part) => key.startsWith(part)),
      );
      await delMany(own, store);
    },

    async sweep(id, named, now) {
      const all = (await keys<string>(store)).filter((key) => key.startsWith(`file/${id}/`));
      const loose = all.filter((key) => !named.has(key.slice(`file/${id}/`.length)));
      const records = await getMany<FileRecord>(loose, store);
      await delMany(
        loose.filter((_, i) => now - (records[i]?.savedAt ?? now) > ORPHAN_AGE),
        store,
      );
    },

    async raw(id) {
      const record: unknown = await get(jobKey(id), store);
      return new Blob([JSON.stringify(record ?? null, null, 1)], { type: 'application/json' });
    },

    noteCopy: (id, writing) =>
      update<AboutRecord>(aboutKey(id), (about) => ({ ...(about as AboutRecord), copied: writing }), store),

    async disk() {
      const lasting = (await navigator.storage?.persist?.().catch(() => false)) ?? false;
      const { quota, usage } = (await navigator.storage?.estimate?.().catch(() => null)) ?? {};
      return { free: quota === undefined || usage === undefined ? null : quota - usage, lasting };
    },
  };
}

/** Opens the shelf of lenses, in the same database. They belong to the person's cameras, not to a job. */
export function browserLenses(): LensShelf {
  const store = shelfStore();
  return {
    async list() {
      const own = (await keys<string>(store)).filter((key) => key.startsWith(LENS));
      const records = await getMany<LensRecord>(own, store);
      return records.filter((record) => record !== undefined && record.version === RECORD_VERSION) as LensRecord[];
    },
    async keep(id, lens) {
      const record: LensRecord = { ...lens, version: RECORD_VERSION };
      await guarded(() => set(LENS + id, record, store));
    },
    forget: (id) => del(LENS + id, store),
  };
}

/** Writes all that `work` puts, or nothing: what it put before it failed is taken back. Resolves when it is on the disk. */
async function whole(transaction: IDBTransaction, work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    transaction.abort();
    throw error;
  }
  await promisifyRequest(transaction);
}

/** A stored record as a history; older job documents lose their undo steps, which speak of the old shape. */
function readRecord(record: unknown): History | Unreadable {
  const { version, history } = record as Partial<JobRecord>;
  try {
    if (typeof version === 'number' && version > RECORD_VERSION)
      throw new InputProblem(
        'This job was saved by a newer version of the app.',
        '',
        'Update the app, then open it again.',
      );
    const stored = history as History | undefined;
    const job = readJob(stored?.job);
    const same = stored?.job.schema === job.schema;
    return { job, done: same ? (stored?.done ?? []) : [], undone: same ? (stored?.undone ?? []) : [] };
  } catch (problem) {
    return { unreadable: problem instanceof Error ? problem : new Error(String(problem)) };
  }
}

/** Runs a write, and says in words what went wrong with the disk. */
async function guarded(write: () => Promise<void>): Promise<void> {
  try {
    await write();
  } catch (error) {
    if (error instanceof Overtaken) throw error;
    const name = error instanceof DOMException ? error.name : '';
    if (name === 'QuotaExceededError')
      throw new InputProblem(
        'This device has no room left for the job.',
        '',
        'Save the job as a file now, then free some room: remove an old job here, or files elsewhere.',
      );
    throw new InputProblem(
      'The browser would not save the job.',
      '',
      'Save the job as a file now. A private window keeps nothing after it is closed.',
    );
  }
}
