import { theyShow } from './read-photos';
import type { StockView } from './view';

/** Asks whether photos show another part of the face in view, or other slabs. */
export function ArrivalsCard({ view }: { view: StockView }) {
  const asked = view.arrivals.value;
  if (!asked) return null;
  const several = asked.files.length > 1;
  const answer = (what: 'this face' | 'next slabs', words: string, likely: boolean) => (
    <button type="button" class={likely ? 'button main' : 'button'} onClick={() => theyShow(view, what)}>
      {words}
    </button>
  );
  return (
    <section class="note stack" aria-label="What the photos show">
      <p>{several ? `What do these ${asked.files.length} photos show?` : 'What does this photo show?'}</p>
      <p class="small soft" aria-live="polite">
        {asked.guess === null
          ? 'Its marks are being looked at.'
          : asked.guess
            ? 'It shows marks that this face shows, too, and lies beside what is seen of it.'
            : 'Its marks do not tie it to this face.'}
      </p>
      <div class="row">
        {answer('this face', 'Another part of this face', asked.guess === true)}
        {answer('next slabs', several ? 'Other slabs' : 'Another slab', asked.guess === false)}
        <button type="button" class="button" onClick={() => theyShow(view, 'nothing')}>
          Neither
        </button>
      </div>
    </section>
  );
}
