import { Choices } from '../parts/choices';
import { OverSheet } from '../parts/over-sheet';
import { CHAPTERS } from './chapters';
import { type Chapter, guide } from './guide';

/** The guide, over the stage. */
export function GuideSheet({ chapter }: { chapter: Chapter }) {
  const { steps, cautions } = CHAPTERS[chapter];
  return (
    <OverSheet
      title="Guide"
      page={chapter}
      onClose={() => {
        guide.value = null;
      }}
    >
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
    </OverSheet>
  );
}
