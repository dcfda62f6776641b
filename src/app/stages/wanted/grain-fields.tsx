import { DEFECT_KINDS, type Top } from '../../../job';
import { NumberField, TickField } from '../../parts/fields';
import type { TopEditor } from './edit-top';

/** Along the length, and as far off it as a part whose grain does not matter much may be (ours). */
const FREE = { degrees: 0, tolerance: 15 };

/** Which way the grain runs, whether its halves are opened like a book, and which defects are liked. */
export function GrainFields({ top, editor: { set, edit } }: { top: Top; editor: TopEditor }) {
  const { grain } = top;
  return (
    <div class="stack">
      <TickField
        label="Its grain need not run along it"
        value={grain !== null}
        onChange={(free) => set('grain', 'Grain')(free ? FREE : null)}
      />
      {grain && (
        <div class="fields">
          <NumberField
            label="Grain against the length"
            unit="°"
            sign="any"
            least={-90}
            most={90}
            value={grain.degrees}
            onChange={(degrees) => set('grain', 'Grain')({ ...grain, degrees })}
          />
          <NumberField
            label="Give or take"
            unit="°"
            sign="zero"
            most={90}
            value={grain.tolerance}
            onChange={(tolerance) => set('grain', 'Grain')({ ...grain, tolerance })}
          />
        </div>
      )}
      <TickField
        label="Two halves opened like a book"
        value={top.bookMatched ?? false}
        onChange={set('bookMatched', 'Book match')}
      />
      <fieldset class="group">
        <legend>Liked for their looks</legend>
        {DEFECT_KINDS.map((kind) => (
          <TickField
            key={kind}
            label={kind}
            value={top.liked.includes(kind)}
            onChange={(liked) =>
              edit('What is liked', (own) => {
                own.liked = DEFECT_KINDS.filter((one) => (one === kind ? liked : own.liked.includes(one)));
              })
            }
          />
        ))}
      </fieldset>
    </div>
  );
}
