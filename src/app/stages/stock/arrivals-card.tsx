import { theyShow } from './read-photos';
import type { Arrivals, StockView } from './view';

/** More than this side by side are too small to be told apart. */
const MOST_COMPARED = 3;

/** Asks whether photos show parts of one face, that in view where it was measured, or a slab each. */
export function ArrivalsCard({ view }: { view: StockView }) {
  const asked = view.arrivals.value;
  if (!asked) return null;
  const { files, measured, guess } = asked;
  const several = files.length > 1;
  const answer = (what: Parameters<typeof theyShow>[1], words: string, likely: boolean) => (
    <button type="button" class={likely ? 'button main' : 'button'} onClick={() => theyShow(view, what)}>
      {words}
    </button>
  );
  return (
    <section class="note stack" aria-label="What the photos show">
      <p>{several ? `What do these ${files.length} photos show?` : 'What does this photo show?'}</p>
      <p class="small soft" aria-live="polite">
        {says(asked)}
      </p>
      <div class="row">
        {measured
          ? answer('this face', several ? 'Other parts of this face' : 'Another part of this face', guess === true)
          : answer('this face', 'Parts of one face', guess === true)}
        {measured
          ? answer('next slabs', several ? 'Other slabs' : 'Another slab', guess === false)
          : answer('one slab each', 'One slab each', guess === false)}
        {several && files.length <= MOST_COMPARED && (
          <button type="button" class="button" onClick={() => compare(view, files)}>
            The same thing: take the best
          </button>
        )}
        <button type="button" class="button" onClick={() => theyShow(view, 'nothing')}>
          {measured ? 'Neither' : 'Add none'}
        </button>
      </div>
    </section>
  );
}

function compare(view: StockView, files: readonly File[]): void {
  view.arrivals.value = null;
  view.comparing.value = files;
}

function says({ measured, guess }: Arrivals): string {
  if (guess === null) return measured ? 'Its marks are being looked at.' : 'Their marks are being looked at.';
  if (!guess) return measured ? 'Its marks do not tie it to this face.' : 'Their marks do not tie them to each other.';
  return measured
    ? 'It shows marks that this face shows, too, and lies beside what is seen of it.'
    : 'The first two show the same marks, and lie beside each other.';
}
