import { InputProblem } from '../../units';

/** A problem as screens carry it: what is wrong, and what mends it. */
export interface Trouble {
  message: string;
  mend: string;
}

/** What was thrown, as a sentence. A fault of ours says so, and that nothing was lost. */
export function troubleOf(error: unknown): Trouble {
  if (error instanceof InputProblem) return { message: error.message, mend: error.mend };
  const detail = error instanceof Error ? error.message : String(error);
  return {
    message: `Something went wrong in the app (${detail}).`,
    mend: 'The job is as it was before. Try again; if it happens again, save the job as a file and reload the page.',
  };
}

/** A problem, said aloud where it happened. */
export function TroubleNote({ trouble }: { trouble: Trouble | null }) {
  return (
    <div role="alert">
      {trouble && (
        <p class="note miss">
          <strong>{trouble.message}</strong> {trouble.mend}
        </p>
      )}
    </div>
  );
}
