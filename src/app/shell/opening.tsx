import { useEffect, useState } from 'preact/hooks';
import { ReadSheet } from '../codes/late';
import { disk, nearlyFull } from '../disk';
import { GuideButton } from '../guide/guide-button';
import {
  duplicateJob,
  handOver,
  jobs,
  lookAtDisk,
  newJob,
  openDemo,
  placeArrived,
  rawRecord,
  refreshJobs,
  removeJob,
} from '../jobs';
import { LicencesButton } from '../licences/licences-button';
import { readyOffline } from '../offline';
import { openFiles } from '../open-files';
import { DropArea, FileButton } from '../parts/file-button';
import { type Trouble, TroubleNote, troubleOf } from '../parts/problem';
import { go, jobAddress } from '../route';
import type { About } from '../shelf';
import { Emblem } from './emblem';

/** The first screen: what this is, three ways in, and the jobs that are here. */
export function Opening({ refused }: { refused: { id: string; trouble: Trouble } | null }) {
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const [busy, setBusy] = useState<string | null>(null);
  const [reading, setReading] = useState(false);

  useEffect(() => {
    refreshJobs().catch((error) => setTrouble(troubleOf(error)));
    // Asked of itself, a browser may put a question: not before there is something to keep.
    if (disk.peek()) void lookAtDisk();
  }, []);

  async function enter(doing: string, open: () => Promise<string>) {
    setTrouble(null);
    setBusy(doing);
    try {
      go(jobAddress(await open()));
    } catch (error) {
      setTrouble(troubleOf(error));
    } finally {
      setBusy(null);
    }
  }

  async function open(files: readonly File[]) {
    setBusy('Opening the job file');
    setTrouble(await openFiles(files));
    setBusy(null);
  }

  return (
    <DropArea class="opening" onFiles={open}>
      <main class="opening-page">
        <header>
          <Emblem />
          <h1>Waneline</h1>
          <p class="lead">
            Photograph your slabs, and see what tops they will yield, how thick, and where to cut, before you cut.
          </p>
          <p class="soft">Everything stays on this device. Nothing is sent anywhere.</p>
        </header>
        <div class="ways-in">
          <button
            type="button"
            class="button main"
            disabled={busy !== null}
            onClick={() => enter('Opening the demo job', openDemo)}
          >
            Open the demo job
          </button>
          <button
            type="button"
            class="button"
            disabled={busy !== null}
            onClick={() => enter('Beginning a job', newJob)}
          >
            New job
          </button>
          <FileButton accept=".zip,.json,application/zip,application/json,image/jpeg" multiple onFiles={open}>
            Open a job file
          </FileButton>
          <button type="button" class="button" onClick={() => setReading(true)}>
            Read a code
          </button>
        </div>
        <p class="small soft">
          Job files can also be dropped anywhere on this page: the .zip, or job.json with its photos. A job on another
          screen is read by its code.
        </p>
        <div class="row guide-ways">
          <span>Guide:</span>
          <GuideButton chapter="cards">Cards and photo</GuideButton>
          <GuideButton chapter="readings">Readings of the warp</GuideButton>
          <GuideButton chapter="map">Reading the map</GuideButton>
        </div>
        <p role="status">{busy && `${busy} …`}</p>
        <TroubleNote trouble={trouble ?? refused?.trouble ?? null} />
        {refused && jobs.value?.some(({ id }) => id === refused.id) && (
          <button type="button" class="button" onClick={async () => handOver(await rawRecord(refused.id))}>
            Save what is stored of it as a file
          </button>
        )}
        <Recent list={jobs.value} onTrouble={(error) => setTrouble(troubleOf(error))} />
        {reading && (
          <ReadSheet
            onJob={(job) => enter('Opening the job', () => placeArrived(job, new Map()))}
            onClose={() => setReading(false)}
          />
        )}
        <footer class="small soft row wrap">
          <span>
            {readyOffline.value ? 'Ready offline: works with the network gone.' : 'Getting ready to work offline …'}
          </span>
          <LicencesButton />
        </footer>
      </main>
    </DropArea>
  );
}

function Recent({ list, onTrouble }: { list: About[] | null; onTrouble(error: unknown): void }) {
  const [doomed, setDoomed] = useState<string | null>(null);
  if (!list || list.length === 0) return null;
  const full = disk.value && nearlyFull(disk.value);
  return (
    <section aria-labelledby="recent" class="stack">
      <h2 id="recent">Jobs on this device</h2>
      {full && <p class="note">{full}</p>}
      <ul class="recent">
        {list.map(({ id, name, slabs, savedAt }) => (
          <li key={id} class="card row">
            <a href={jobAddress(id)}>
              <strong>{name}</strong>
              <span class="small soft">
                {slabs === 1 ? '1 slab' : `${slabs} slabs`}
                {savedAt > 0 &&
                  ` · ${new Date(savedAt).toLocaleString([], { dateStyle: 'medium', timeStyle: 'short' })}`}
              </span>
            </a>
            {doomed === id ? (
              <>
                <button type="button" class="button cut" onClick={() => removeJob(id).catch(onTrouble)}>
                  Remove it and its photos
                </button>
                <button type="button" class="button" onClick={() => setDoomed(null)}>
                  Keep it
                </button>
              </>
            ) : (
              <>
                <button
                  type="button"
                  class="button quiet"
                  aria-label={`Duplicate ${name}`}
                  onClick={() => duplicateJob(id).then(refreshJobs).catch(onTrouble)}
                >
                  Duplicate
                </button>
                <button type="button" class="button quiet" aria-label={`Remove ${name}`} onClick={() => setDoomed(id)}>
                  Remove
                </button>
              </>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
