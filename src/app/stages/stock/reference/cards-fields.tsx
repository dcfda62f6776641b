import { GuideButton } from '../../../guide/guide-button';
import { LengthField, NumberField } from '../../../parts/fields';
import type { StockView } from '../view';
import { CardPrint } from './card-print';
import { ReferenceLength } from './reference-length';

/** Printed cards: their side, their measured places where somebody has taped them, and the sheet to print them from. */
export function CardsFields({ view }: { view: StockView }) {
  const { side } = view.reference.value;
  return (
    <>
      <ReferenceLength
        view={view}
        label="Side of the black square, measured on the print"
        value={side}
        set={(draft, mm) => {
          draft.side = mm;
        }}
      />
      <p class="small soft">Any number of cards from one up, flat on the wood; four near the corners measure best.</p>
      <CardPrint view={view} />
      <GuideButton chapter="cards">How to lay them</GuideButton>
      <Centres view={view} />
    </>
  );
}

function Centres({ view }: { view: StockView }) {
  const { centres } = view.reference.value;
  const set = (i: number, name: string, change: (centre: (typeof centres)[number]) => void) =>
    view.editReference(name, (draft) => {
      const centre = draft.centres[i];
      if (centre) change(centre);
    });
  return (
    <details open={centres.length > 0}>
      <summary>I taped where the cards lie</summary>
      <div class="stack">
        <p class="small soft">
          Not needed. Where the middle of a card lies along the slab and across it, from any one corner, ties the photo
          to your own measures.
        </p>
        {centres.length > 0 && (
          <div class="scroll-x">
            <table class="points">
              <caption class="hidden-text">Measured places of the cards</caption>
              <thead>
                <tr>
                  <th scope="col">Card</th>
                  <th scope="col">Along</th>
                  <th scope="col">Across</th>
                  <th>
                    <span class="hidden-text">Take out</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {centres.map(({ card, at }, i) => (
                  <tr key={`centre${i + 1}`}>
                    <td>
                      <NumberField<true>
                        inCell
                        optional
                        whole
                        sign="zero"
                        most={49}
                        label={`Number of the card in row ${i + 1}`}
                        value={card}
                        onChange={(next) =>
                          set(i, 'Number of a card', (centre) => {
                            centre.card = next;
                          })
                        }
                      />
                    </td>
                    {(['along', 'across'] as const).map((way, k) => (
                      <td key={way}>
                        <LengthField<true>
                          inCell
                          optional
                          sign="any"
                          label={`Row ${i + 1}, ${way}`}
                          value={at[k] ?? null}
                          onChange={(mm) =>
                            set(i, 'Place of a card', (centre) => {
                              centre.at[k] = mm;
                            })
                          }
                        />
                      </td>
                    ))}
                    <td>
                      <button
                        type="button"
                        class="button quiet"
                        aria-label={`Take out row ${i + 1}`}
                        onClick={() =>
                          view.editReference('Take out the place of a card', (draft) => {
                            draft.centres.splice(i, 1);
                          })
                        }
                      >
                        ✕
                      </button>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        )}
        <button
          type="button"
          class="button"
          onClick={() =>
            view.editReference('Add the place of a card', (draft) => {
              const used = draft.centres.map(({ card }) => card ?? -1);
              draft.centres.push({ card: used.length === 0 ? 0 : Math.max(...used) + 1, at: [null, null] });
            })
          }
        >
          Add a card's place
        </button>
      </div>
    </details>
  );
}
