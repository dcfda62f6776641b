import { TapedSizes } from '../../../parts/taped-sizes';
import type { StockView } from '../view';
import { nextTap, TAPS, tapsOf } from './slab-taps';
import { placeAmid, SpotNumbers } from './spot-numbers';
import { tapId } from './spots';

/** A photo with nothing laid on the slab: its own length and widths as taped, and eight taps where they were. */
export function SlabFields({ view }: { view: StockView }) {
  const slab = view.place.value?.slab;
  if (!slab) return null;
  return (
    <>
      <p class="small soft">
        One photo of the whole slab, at a slant too, from as high as you can hold the camera. Surer is a photo with
        cards.
      </p>
      <div class="tape-fields stack">
        <TapedSizes store={view.store} slab={slab} />
      </div>
      {view.photo.value ? (
        <SlabTaps view={view} />
      ) : (
        <p class="small soft">Add the photo: what you taped is tapped on it.</p>
      )}
    </>
  );
}

/** The eight taps on the photo: which is next, each to be chosen and moved, by keys and numbers too. */
export function SlabTaps({ view }: { view: StockView }) {
  const draft = view.reference.value;
  const next = nextTap(draft);
  const taps = tapsOf(draft);
  return (
    <div class="stack">
      <p role="status" class="tap-next">
        {next === null ? (
          'All eight are there. To set one right, zoom in, tap it and then where it goes, or drag it.'
        ) : (
          <>
            <strong>{next + 1} of 8</strong> {TAPS[next]?.asks}
          </>
        )}
      </p>
      <div class="row taps">
        {TAPS.map(({ text, says }, i) => (
          <button
            key={text}
            type="button"
            class="button quiet"
            aria-label={`Choose the tap at the ${says}`}
            aria-pressed={view.handle.value === tapId(i)}
            disabled={taps[i] === null}
            onClick={() => {
              view.lookAt.value = 'photo';
              view.handle.value = tapId(i);
            }}
          >
            {text}
          </button>
        ))}
      </div>
      <SpotNumbers view={view} />
      {next !== null && (
        <button type="button" class="button" onClick={() => placeAmid(view)}>
          Place it by keys or numbers
        </button>
      )}
    </div>
  );
}
