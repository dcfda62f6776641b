import { useState } from 'preact/hooks';
import { markQuestion, offerMarks } from '../../../cutmap';
import { MARK_DRILL } from '../../../job';
import { announce } from '../../announce';
import { Choices } from '../../parts/choices';
import { LengthField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import { editMarked, type Marks, type MarksProps, marksView, setMarks } from './marked-slab';
import { lengthWords } from './tape-words';

const OFFERS = 4;
const DRILLED = [
  ['no', 'not yet'],
  ['after', 'yes'],
  ['seen', 'before the photo'],
] as const;

const PLACES = {
  set: 'Set by hand.',
  beside: 'Proposed: both lie in waste beside the strips and stay until the rip.',
  ends: 'Proposed: no waste lies beside the strips, so they go with the crosscuts. Mark every line first.',
  within: 'Proposed: no waste has room for them, so they lie in the blanks, where planing or trimming must take them.',
} as const;

/** Where the two marks are, what speaks against them, and others. */
export function MarksCard({ store, marked, measures, troubles }: MarksProps) {
  const units = useUnits();
  const view = marksView(store);
  const [turn, setTurn] = useState(0);
  const { measured, slab, planned } = marked;
  const drilled = slab.drilled ?? 'no';

  function offer() {
    const offers = offerMarks(markQuestion(measured), OFFERS);
    const here = measures?.datum;
    const others = offers.filter(({ marks }) => !here || String(marks) !== String(here));
    const next = others[turn % Math.max(1, others.length)];
    if (!next) {
      announce('There is no other place for two marks in sound wood.');
      return;
    }
    setTurn(turn + 1);
    setMarks(store, marked, 'Take other marks', next.marks);
    if (slab.drilled) editMarked(store, marked, 'The new marks are not drilled', (own) => void delete own.drilled);
  }

  return (
    <section class="card stack" aria-label="Marks">
      <h2>Marks A and B</h2>
      {measures ? (
        <>
          <table>
            <caption class="hidden-text">Where the marks are</caption>
            <thead>
              <tr>
                <th scope="col">Mark</th>
                <th scope="col">Along</th>
                <th scope="col">Across</th>
              </tr>
            </thead>
            <tbody>
              {(['A', 'B'] as const).map((name, i) => {
                const at = measures.datum[i] as Marks[0];
                const put = (x: number, y: number) =>
                  setMarks(
                    store,
                    marked,
                    `Set mark ${name}`,
                    i === 0 ? [[x, y], measures.datum[1]] : [measures.datum[0], [x, y]],
                  );
                return (
                  <tr key={name}>
                    <td>
                      <button
                        type="button"
                        class="button"
                        aria-pressed={view.chosen.value === name}
                        aria-label={`Choose mark ${name}`}
                        onClick={() => {
                          view.chosen.value = view.chosen.value === name ? null : name;
                        }}
                      >
                        {name}
                      </button>
                    </td>
                    <td>
                      <LengthField
                        inCell
                        sign="any"
                        label={`Along of mark ${name}`}
                        value={at[0]}
                        onChange={(x) => put(x, at[1])}
                      />
                    </td>
                    <td>
                      <LengthField
                        inCell
                        sign="any"
                        label={`Across of mark ${name}`}
                        value={at[1]}
                        onChange={(y) => put(at[0], y)}
                      />
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
          <p class="small soft">Drag a mark, or choose it and tap the slab, or move it by arrow keys.</p>
        </>
      ) : (
        <p class="note miss" role="alert">
          {slab.marks
            ? 'The two marks are one point: nothing can be measured from them. Set one of them elsewhere, or take others.'
            : 'This slab has no place for two marks in sound wood.'}
        </p>
      )}
      <div class="row wrap">
        <button type="button" class={troubles.some(({ bad }) => bad) ? 'button main' : 'button'} onClick={offer}>
          Offer others
        </button>
        {slab.marks && (
          <button
            type="button"
            class="button"
            onClick={() =>
              editMarked(store, marked, 'Take the proposed marks', (own) => {
                own.marks = null;
                delete own.drilled;
              })
            }
          >
            As proposed
          </button>
        )}
      </div>
      <div class="stack">
        <p id="drilled">Drilled through, {lengthWords(MARK_DRILL, units)}?</p>
        <Choices
          label="Drilled through"
          options={DRILLED}
          value={drilled}
          onChange={(next) => {
            if (!measures) return;
            if (!slab.marks) setMarks(store, marked, 'Keep the marks', measures.datum);
            editMarked(store, marked, 'Marks drilled', (own) => {
              if (next === 'no') delete own.drilled;
              else own.drilled = next;
            });
          }}
        />
        <p class="small soft">
          {drilled === 'seen'
            ? 'Set A and B on the two holes in the photo.'
            : drilled === 'after'
              ? 'Drilled marks stay where they are when the plan changes.'
              : planned
                ? 'Until they are drilled, proposed marks move with the plan.'
                : 'You may drill before there is a photo or a plan: two holes a hand from one live edge, each two hands from an end, as far apart as can be. Then set A and B on them here.'}
        </p>
      </div>
      {/* What comes and goes while a mark is dragged, below all that is pressed: nothing moves under a finger. */}
      {measures && (
        <p>
          {PLACES[measures.place]}{' '}
          <strong class="measured number">{lengthWords(measures.checks[0]?.mm ?? 0, units)}</strong> apart.
        </p>
      )}
      {troubles.map(({ kind, marks, bad, words }) => (
        <p key={`${kind}-${marks}`} class={bad ? 'note miss' : 'note'} role={bad ? 'alert' : undefined}>
          {words}
        </p>
      ))}
    </section>
  );
}
