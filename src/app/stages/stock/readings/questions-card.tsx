import type { Slab } from '../../../../job';
import type { Question } from '../../../../surface';
import { formatLength } from '../../../../units';
import { useUnits } from '../../../parts/job-context';
import type { StockView } from '../view';

/** Readings that look wrong, each settled by one tap. */
export function QuestionsCard({ view, slab, asked }: { view: StockView; slab: Slab; asked: readonly Question[] }) {
  const units = useUnits();
  if (asked.length === 0) return null;
  const numbers = Object.keys(slab.spots);
  const settle = (name: string, { spot, which, instead }: Question, take: boolean) =>
    view.editSlab(slab.id, name, (draft) => {
      const own = draft.spots[spot ?? ''];
      if (!own) return;
      if (!take) own.sure = true;
      else if (instead !== null && which !== null && which !== 'place') own[which] = instead;
    });
  return (
    <section class="card stack" aria-label="Asked about the readings">
      {asked.map((question) => {
        const { spot, which, message, mend, instead } = question;
        const typed = (mm: number) =>
          formatLength(which === 'thickness' ? mm : -mm, units, { decimals: 1, denominator: 32 });
        return (
          <div key={`${spot}/${which}/${message}`} class="note stack">
            <p>
              {spot !== null && <strong>Spot {numbers.indexOf(spot) + 1}: </strong>}
              {message} {mend}
            </p>
            {spot !== null && (
              <div class="row wrap">
                {instead !== null && (
                  <button type="button" class="button" onClick={() => settle('Mend a reading', question, true)}>
                    {which === 'thickness' ? `Take ${typed(instead)}` : `Take a drop of ${typed(instead)}`}
                  </button>
                )}
                <button type="button" class="button" onClick={() => settle('A reading is right', question, false)}>
                  It is right
                </button>
              </div>
            )}
          </div>
        );
      })}
    </section>
  );
}
