import { useEffect, useState } from 'preact/hooks';
import { heard, said } from '../announce';
import { type Chapter, guide } from '../guide/guide';
import type { GuideSheet } from '../guide/guide-sheet';
import { JobHold } from '../job-hold';
import { openJob } from '../jobs';
import { hearOfFiles } from '../launch';
import { update } from '../offline';
import { openFiles } from '../open-files';
import { type Trouble, troubleOf } from '../parts/problem';
import { go, OPENING, route } from '../route';
import type { JobStore } from '../store';
import { JobScreen } from './job-screen';
import { Opening } from './opening';

/** The whole app: the opening screen, or the job that the address names. */
export function App() {
  const where = route.value;
  const id = where.at === 'job' ? where.id : null;
  const [open, setOpen] = useState<{ store: JobStore; hold: JobHold } | null>(null);
  const [refused, setRefused] = useState<{ id: string; trouble: Trouble } | null>(null);

  useEffect(
    () =>
      hearOfFiles(async (files) => {
        const trouble = await openFiles(files);
        if (!trouble) return;
        setRefused({ id: '', trouble });
        go(OPENING);
      }),
    [],
  );

  useEffect(() => {
    setOpen(null);
    if (!id) return;
    setRefused(null);
    let live = true;
    let close = () => {};
    const begin = async () => {
      const store = await openJob(id);
      const hold = new JobHold(store);
      close = () => {
        hold.close();
        store.close();
      };
      await hold.begin();
      if (live) setOpen({ store, hold });
      else close();
    };
    begin().catch((error) => {
      if (!live) return;
      setRefused({ id, trouble: troubleOf(error) });
      go(OPENING);
    });
    return () => {
      live = false;
      close();
    };
  }, [id]);

  return (
    <>
      <p class="said" role="status" aria-live="polite">
        {said.value}
      </p>
      {/* Placed before the screen: below one that fills the window it would make the page scroll. */}
      <p class="hidden-text" role="status">
        {heard.value}
      </p>
      {where.at === 'opening' && <Opening refused={refused} />}
      {where.at === 'job' && open?.store.id === id && open && <JobScreen {...open} stageId={where.stage} />}
      {where.at === 'job' && open?.store.id !== id && (
        <p class="opening" role="status">
          Opening the job …
        </p>
      )}
      {guide.value && <OpenGuide chapter={guide.value} />}
      {update.value && (
        <div class="update note row" role="status">
          <span>A newer version is here.</span>
          <button type="button" class="button" onClick={update.value}>
            Use it now
          </button>
        </div>
      )}
    </>
  );
}

/** The guide, whose script and pictures come when it is first opened. */
function OpenGuide({ chapter }: { chapter: Chapter }) {
  const [Sheet, setSheet] = useState<typeof GuideSheet | null>(null);
  useEffect(() => {
    void import('../guide/guide-sheet').then((fetched) => setSheet(() => fetched.GuideSheet));
  }, []);
  return Sheet && <Sheet chapter={chapter} />;
}
