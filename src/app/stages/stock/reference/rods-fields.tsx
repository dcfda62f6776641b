import type { RodDraft } from '../../../../job';
import { LengthField } from '../../../parts/fields';
import type { StockView } from '../view';
import { placeAmid, SpotNumbers } from './spot-numbers';
import type { Aim } from './spots';

/** Rods or tapes: both ends tapped on the photo, the length typed; marks along a rod and its corners where they are seen. */
export function RodsFields({ view }: { view: StockView }) {
  const { rods } = view.reference.value;
  if (!view.photo.value) return <p class="small soft">Add the photo first: the ends of the rods are tapped on it.</p>;
  return (
    <>
      <p class="small soft">
        Two rods, rules or tapes that lie different ways, or more. Tap both ends of each on the photo and type its
        length. Tapping on begins the next one.
      </p>
      {rods.map((rod, i) => (
        <RodCard key={`rod${i + 1}`} view={view} rod={rod} place={i} />
      ))}
      <SpotNumbers view={view} />
      <button
        type="button"
        class="button"
        onClick={() => {
          view.aim.value = null;
          placeAmid(view);
          if (view.reference.peek().rods.at(-1)?.ends.length === 1) placeAmid(view);
        }}
      >
        Add a rod
      </button>
    </>
  );
}

function RodCard({ view, rod, place }: { view: StockView; rod: RodDraft; place: number }) {
  const says = `Rod ${place + 1}`;
  const set = (name: string, change: (rod: RodDraft) => void) =>
    view.editReference(name, (draft) => {
      const own = draft.rods[place];
      if (own) change(own);
    });
  return (
    <section class="stack rod" aria-label={says}>
      <div class="row between">
        <h3>{says}</h3>
        <button
          type="button"
          class="button quiet"
          aria-label={`Take out rod ${place + 1}`}
          onClick={() =>
            view.editReference('Take out a rod', (draft) => {
              draft.rods.splice(place, 1);
            })
          }
        >
          ✕
        </button>
      </div>
      {rod.ends.length < 2 && <p class="small">Tap {rod.ends.length === 0 ? 'both ends' : 'its other end'}.</p>}
      <div class="fields">
        <LengthField<true>
          optional
          finest={32}
          decimals={1}
          label="Length"
          value={rod.length}
          onChange={(mm) =>
            set('Length of a rod', (own) => {
              own.length = mm;
            })
          }
        />
        <LengthField
          sign="zero"
          finest={32}
          decimals={1}
          label="Its top stands over the wood"
          value={rod.above}
          onChange={(mm) =>
            set('Height of a rod', (own) => {
              own.above = mm;
            })
          }
        />
      </div>
      <details open={rod.marks.length + rod.corners.length > 0}>
        <summary>Marks along it, its corners</summary>
        <div class="stack">
          <p class="small soft">
            Each makes the measure surer: marks at known places along the rod, and the four corners of its top with its
            width. Zoom in to tap them on the spot.
          </p>
          <Marks view={view} rod={rod} place={place} set={set} />
          <LengthField<true>
            optional
            finest={32}
            decimals={1}
            label="Width of its top"
            value={rod.width}
            onChange={(mm) =>
              set('Width of a rod', (own) => {
                own.width = mm;
              })
            }
          />
          <div class="row">
            <AimButton
              view={view}
              aim={{ rod: place, part: 'corner' }}
              says={`Tap its corners (${rod.corners.length} of 4)`}
            />
            {rod.corners.length > 0 && (
              <button
                type="button"
                class="button"
                onClick={() =>
                  set('Take out the corners of a rod', (own) => {
                    own.corners = [];
                  })
                }
              >
                Take them out
              </button>
            )}
          </div>
        </div>
      </details>
    </section>
  );
}

function Marks(props: {
  view: StockView;
  rod: RodDraft;
  place: number;
  set(name: string, change: (rod: RodDraft) => void): void;
}) {
  const { view, rod, place, set } = props;
  return (
    <>
      {rod.marks.map(({ at }, k) => (
        <div class="row" key={`mark${k + 1}`}>
          <LengthField<true>
            optional
            sign="zero"
            finest={32}
            decimals={1}
            label={`Mark ${k + 1}, from end ${place + 1}a`}
            value={at}
            onChange={(mm) =>
              set('Place of a mark', (own) => {
                const mark = own.marks[k];
                if (mark) mark.at = mm;
              })
            }
          />
          <button
            type="button"
            class="button quiet"
            aria-label={`Take out mark ${k + 1} of rod ${place + 1}`}
            onClick={() =>
              set('Take out a mark', (own) => {
                own.marks.splice(k, 1);
              })
            }
          >
            ✕
          </button>
        </div>
      ))}
      <AimButton view={view} aim={{ rod: place, part: 'mark' }} says="Tap marks along it" />
    </>
  );
}

/** While it is pressed, taps on the photo set this part of the rod. */
function AimButton({ view, aim, says }: { view: StockView; aim: Aim; says: string }) {
  const now = view.aim.value;
  const on = now?.rod === aim.rod && now.part === aim.part;
  return (
    <button
      type="button"
      class="button"
      aria-pressed={on}
      onClick={() => {
        view.lookAt.value = 'photo';
        view.tape.value = null;
        view.aim.value = on ? null : aim;
      }}
    >
      {says}
    </button>
  );
}
