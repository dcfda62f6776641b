import type { ComponentChildren } from 'preact';
import { useEffect, useErrorBoundary } from 'preact/hooks';
import { InputProblem } from '../../units';
import { TroubleNote, troubleOf } from '../parts/problem';
import type { JobStore } from '../store';

/** A stage that cannot be shown says why in its own place: the others, undo and the job file stay within reach. It is tried anew with every change. */
export function StageBoundary({ store, children }: { store: JobStore; children: ComponentChildren }) {
  const [error, again] = useErrorBoundary((caught) => {
    // A fault of ours is for the browser's own list of errors too.
    if (!(caught instanceof InputProblem)) reportError(caught);
  });
  const job = store.job.value;
  useEffect(again, [job]);
  const name = store.undoName.value;
  if (!error) return <>{children}</>;
  return (
    <div class="empty-sheet">
      <TroubleNote trouble={troubleOf(error)} />
      {name && (
        <button type="button" class="button main" onClick={() => store.undo()}>
          Undo: {name}
        </button>
      )}
      <button type="button" class="button" onClick={again}>
        Show it again
      </button>
    </div>
  );
}
