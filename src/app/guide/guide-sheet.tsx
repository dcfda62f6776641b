import { useEffect, useRef } from 'preact/hooks';
import '../styles/guide.css';
import { Choices } from '../parts/choices';
import { CHAPTERS } from './chapters';
import { type Chapter, guide } from './guide';

/** The guide, over the stage: it is closed by its button, by Escape, or by a tap beside it, and nothing was left for it. */
export function GuideSheet({ chapter }: { chapter: Chapter }) {
  const sheet = useRef<HTMLElement>(null);
  const { steps, cautions } = CHAPTERS[chapter];

  useEffect(() => sheet.current?.showPopover(), []);
  // Another chapter begins at its top.
  useEffect(() => sheet.current?.scrollTo(0, 0), [chapter]);

  return (
    <section
      ref={sheet}
      class="guide card"
      popover="auto"
      aria-label="Guide"
      onToggle={(event) => {
        if (event.newState === 'closed') guide.value = null;
      }}
    >
      <header class="row">
        <h2>Guide</h2>
        <button type="button" class="button" onClick={() => sheet.current?.hidePopover()}>
          Close
        </button>
      </header>
      <Choices
        label="Chapter"
        value={chapter}
        options={(Object.keys(CHAPTERS) as Chapter[]).map((id) => [id, CHAPTERS[id].title])}
        onChange={(next) => {
          guide.value = next;
        }}
      />
      <ol class="guide-steps">
        {steps.map(({ says, Figure }) => (
          <li key={says}>
            <p>{says}</p>
            {Figure && <Figure />}
          </li>
        ))}
      </ol>
      <ul class="small soft">
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </section>
  );
}
