import type { Slab } from '../../../job';
import { TroubleNote } from '../../parts/problem';
import { Progress } from '../../parts/progress';
import { lacking } from '../stock/reference/draft';
import { PhotoSheet } from '../stock/reference/photo-sheet';
import { choose } from '../stock/reference/reference-card';
import { measureByDraft } from '../stock/reference/remeasure';
import { SlabTaps } from '../stock/reference/slab-fields';
import { slabLacks, tapedAnew } from '../stock/reference/slab-taps';
import type { StockView } from '../stock/view';
import { WhichSlab } from '../stock/which-slab';
import type { TapeView } from './tape-view';

/** A slab at the yard measured by one photo with nothing laid on it: what was taped is tapped on the photo. */

/** Offers it as soon as there is a photo and all of the tape; what lacks is said. */
export function PhotoOffer({ view, stock, slab }: { view: TapeView; stock: StockView; slab: Slab }) {
  const photos = Object.values(slab.faces.top.photos);
  const by = photos.find(({ calibration }) => calibration);
  // What was measured by cards or rods is surer than any tape.
  if (by && by.scale.kind !== 'slab') return null;
  const photo = photos.findLast(({ calibration }) => !calibration) ?? by;
  if (!photo) return null;
  const [lacks] = slabLacks({ slab: [] }, slab.taped).filter((says) => says.startsWith('Tape'));
  const anew = by !== undefined && by === photo;
  const stale = anew && tapedAnew(by, slab.taped);
  return (
    <div class="stack">
      {stale && <p class="note">The tape says something else now than the photo was measured by.</p>}
      <div class="row">
        <button
          type="button"
          class="button"
          disabled={lacks !== undefined || stock.reading.value !== null}
          onClick={() => {
            stock.look(slab.id);
            stock.open('photo');
            stock.photoId.value = photo.id;
            if (stock.reference.peek().kind !== 'slab') choose(stock, 'slab');
            stock.lookAt.value = 'photo';
            view.onPhoto.value = true;
          }}
        >
          {anew ? 'Measure again by the photo' : 'Measure it by the photo'}
        </button>
        {lacks !== undefined && <span class="small soft">For that: {lacks[0]?.toLowerCase() + lacks.slice(1)}</span>}
      </div>
    </div>
  );
}

/** The photo, to be tapped on. */
export function PhotoDrawing({ stock, slab }: { stock: StockView; slab: Slab }) {
  const photo = stock.photo.value;
  return photo && <PhotoSheet view={stock} photo={photo} title={slab.name} />;
}

/** What is to be tapped, and what stopped the reading. */
export function PhotoFacts({ stock, slab }: { stock: StockView; slab: Slab }) {
  const reading = stock.reading.value;
  return (
    <>
      <h2>{slab.name} on its photo</h2>
      {reading && (
        <Progress label={reading.label} fraction={reading.fraction} note={reading.note} onStop={reading.stop} />
      )}
      <TroubleNote trouble={stock.trouble.value} />
      {!reading && <WhichSlab view={stock} />}
      <SlabTaps view={stock} />
    </>
  );
}

/** Reads the photo, or goes back to the form. */
export function PhotoSteps({ view, stock, slab }: { view: TapeView; stock: StockView; slab: Slab }) {
  const photo = stock.photo.value;
  const reference = stock.reference.value;
  const ready = photo !== null && reference.kind === 'slab' && lacking(reference, slab.taped).length === 0;
  const busy = stock.reading.value !== null;
  return (
    <div class="row">
      <button
        type="button"
        class="button main"
        disabled={!ready || busy}
        onClick={async () => {
          if (photo && (await measureByDraft(stock, photo))) view.onPhoto.value = false;
        }}
      >
        Read the photo
      </button>
      <button
        type="button"
        class="button"
        disabled={busy}
        onClick={() => {
          stock.letGo();
          view.onPhoto.value = false;
        }}
      >
        Back to the form
      </button>
    </div>
  );
}
