import type { ReferenceDraft } from '../../../../job';
import { Choices } from '../../../parts/choices';
import { late } from '../../late';
import type { StockView } from '../view';
import { CardsFields } from './cards-fields';
import { lacking } from './draft';
import { LensLine } from './lens-line';
import { LowerFields } from './lower-fields';
import { measureByDraft, tracesAnew } from './remeasure';
import { SheetFields } from './sheet-fields';
import { tapedAnew } from './slab-taps';

const KINDS: readonly (readonly [ReferenceDraft['kind'], string])[] = [
  ['markers', 'Printed cards'],
  ['paper', 'A sheet of paper'],
  ['rods', 'Rods or tapes'],
  ['points', 'Points I measured'],
  ['slab', 'Nothing: by its own length and widths'],
];

const FIELDS = {
  markers: CardsFields,
  paper: SheetFields,
  // What is rarer is fetched when it is chosen: it would weigh on the first load.
  rods: late(async () => (await import('./rods-fields')).RodsFields),
  points: late(async () => (await import('./points-fields')).PointsFields),
  slab: late(async () => (await import('./slab-fields')).SlabFields),
};

/** What lies on the slab, by which its photo is measured: the kind, its sizes, what was clicked of it, and measuring by it. */
export function ReferenceCard({ view }: { view: StockView }) {
  const photo = view.photo.value;
  const reference = view.reference.value;
  const busy = view.reading.value !== null;
  const slab = view.place.value?.slab;
  const Fields = FIELDS[reference.kind];
  const lacks = photo ? lacking(reference, slab?.taped) : [];
  const changed = photo?.draft !== undefined || (photo !== null && tapedAnew(photo, slab?.taped));
  const measured = photo?.calibration != null;

  return (
    <section class="card stack" aria-labelledby="what-lies">
      <h2 id="what-lies">What lies on the slab?</h2>
      <Choices
        label="What lies on the slab"
        options={view.stock.value === 'boards' ? KINDS.filter(([kind]) => kind !== 'slab') : KINDS}
        value={reference.kind}
        onChange={(kind) => choose(view, kind)}
      />
      <Fields view={view} />
      <LowerFields view={view} />
      {photo && <LensLine view={view} photo={photo} />}
      {photo && slab && (changed || !measured) && (
        <>
          {lacks.length > 0 && (
            <ul class="small lacks" role="status">
              {lacks.map((sentence) => (
                <li key={sentence}>{sentence}</li>
              ))}
            </ul>
          )}
          <div class="row">
            <button
              type="button"
              class="button main"
              disabled={lacks.length > 0 || busy}
              onClick={() => void measureByDraft(view, photo)}
            >
              {measured ? 'Measure again by this' : 'Measure the photo by this'}
            </button>
            {measured && photo.draft && (
              <button
                type="button"
                class="button"
                disabled={busy}
                onClick={() =>
                  view.editPhoto('Leave the photo as it was measured', photo.id, (own) => {
                    delete own.draft;
                  })
                }
              >
                Leave it as it was
              </button>
            )}
          </div>
          {measured && (
            <p class="small soft">
              {tracesAnew(view, photo)
                ? 'The slab is then traced anew, and what you drew on its outline is replaced.'
                : 'The outline and all that is drawn keep to their spots on the photo.'}
            </p>
          )}
        </>
      )}
    </section>
  );
}

/** Chooses a kind. What must be clicked is clicked on the photo, so that is shown. */
export function choose(view: StockView, kind: ReferenceDraft['kind']): void {
  view.letGo();
  view.tape.value = null;
  view.editReference('What lies on the slab', (draft) => {
    draft.kind = kind;
  });
  view.lookAt.value = kind === 'markers' || kind === 'paper' ? 'face' : 'photo';
}
