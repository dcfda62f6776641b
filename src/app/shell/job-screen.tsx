import { useEffect, useState } from 'preact/hooks';
import { announce } from '../announce';
import { ShowSheet } from '../codes/late';
import { disk, nearlyFull } from '../disk';
import type { JobHold } from '../job-hold';
import { handOver, isJobFile, jobFileOf } from '../jobs';
import { openFiles } from '../open-files';
import { DropArea } from '../parts/file-button';
import { JobContext } from '../parts/job-context';
import { type Trouble, TroubleNote, troubleOf } from '../parts/problem';
import { OPENING } from '../route';
import { STAGES } from '../stages';
import type { JobStore } from '../store';
import { JobName } from './job-name';
import { ShareButton } from './share-button';
import { StageBoundary } from './stage-boundary';
import { StageTabs } from './stage-tabs';
import { StepsButton } from './steps';

/** An open job: its name, the stages in the order of the work, and the stage that is worked on. */
export function JobScreen({ store, hold, stageId }: { store: JobStore; hold: JobHold; stageId: string }) {
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const [coded, setCoded] = useState(false);
  const stage = STAGES.find(({ id }) => id === stageId) ?? STAGES[0];
  const saveState = store.saveState.value;
  const full = disk.value && nearlyFull(disk.value);
  const follows = store.role.value === 'follows';

  // What was said of one stage stands in the way of the next one's drawing.
  useEffect(() => announce(''), [stage.id]);

  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent) => {
      const key = event.key.toLowerCase();
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      // In a field, the browser's own undo mends what is being typed.
      if (
        event.target instanceof HTMLInputElement &&
        event.target.type === 'text' &&
        !('atRest' in event.target.dataset)
      )
        return;
      const back = key === 'z' && !event.shiftKey;
      if (!back && key !== 'y' && key !== 'z') return;
      event.preventDefault();
      step(store, back);
    };
    const onLeave = (event: BeforeUnloadEvent) => {
      if (store.saveState.peek() !== 'saved') event.preventDefault();
    };
    addEventListener('keydown', onKeyDown);
    addEventListener('beforeunload', onLeave);
    return () => {
      removeEventListener('keydown', onKeyDown);
      removeEventListener('beforeunload', onLeave);
    };
  }, [store]);

  /** Job files open as jobs of their own; photos are for Stock, which takes what is dropped on it. */
  async function drop(files: File[]) {
    if (files.some(isJobFile)) setTrouble(await openFiles(files));
    else if (stage.id !== 'stock')
      setTrouble({ message: 'Photos are added under Stock.', mend: 'Open Stock and drop them there.' });
  }

  async function share() {
    setTrouble(null);
    try {
      announce('Packing the job file …');
      if (await handOver(await jobFileOf(store))) await store.noteCopy();
      announce('The job file is packed.');
    } catch (error) {
      setTrouble(troubleOf(error));
    }
  }

  return (
    <JobContext.Provider value={store}>
      <DropArea class="job" onFiles={drop}>
        <header class="job-head">
          <a class="button quiet home" href={OPENING} aria-label="All jobs">
            <span aria-hidden="true">‹</span>
            <span class="wide-only">Jobs</span>
          </a>
          <JobName store={store} />
          <div class="job-tools">
            <StepButton store={store} back />
            <StepButton store={store} />
            <StepsButton store={store} />
            <ShareButton onFile={share} onCode={() => setCoded(true)} />
          </div>
          <StageTabs job={store.job.value} chosen={stage.id} />
        </header>
        {(trouble || typeof saveState === 'object' || follows || full) && (
          <div class="job-trouble">
            {follows && (
              <div role="status" class="note row">
                <span>This job is open in another tab, which edits it. What you see here follows it.</span>
                <button type="button" class="button" onClick={() => hold.take()}>
                  Edit here instead
                </button>
              </div>
            )}
            <TroubleNote trouble={trouble} />
            {full && <p class="note">{full}</p>}
            {typeof saveState === 'object' && (
              <div role="alert" class="note miss row">
                <span>{saveState.problem}</span>
                <button type="button" class="button" onClick={share}>
                  Save the job as a file
                </button>
                <button type="button" class="button" onClick={() => store.save()}>
                  Try again
                </button>
              </div>
            )}
          </div>
        )}
        <main class="job-main" id="stage">
          <StageBoundary key={`${store.id}/${stage.id}`} store={store}>
            <stage.Screen store={store} />
          </StageBoundary>
        </main>
        {coded && <ShowSheet job={store.job.value} onClose={() => setCoded(false)} />}
      </DropArea>
    </JobContext.Provider>
  );
}

function step(store: JobStore, back: boolean): void {
  const name = back ? store.undoName.peek() : store.redoName.peek();
  if (!name) return;
  if (back) store.undo();
  else store.redo();
  announce(back ? `Undone: ${name}` : `Done again: ${name}`);
}

function StepButton({ store, back = false }: { store: JobStore; back?: boolean }) {
  const name = back ? store.undoName.value : store.redoName.value;
  const says = back ? 'Undo' : 'Redo';
  return (
    <button
      type="button"
      class="button quiet"
      disabled={!name}
      aria-label={name ? `${says}: ${name}` : says}
      onClick={() => step(store, back)}
    >
      <span aria-hidden="true">{back ? '↶' : '↷'}</span>
      <span class="wide-only">{says}</span>
    </button>
  );
}
