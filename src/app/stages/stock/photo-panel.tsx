import { regionContains } from '../../../geometry';
import { formatPlusMinus } from '../../../units';
import { LengthField } from '../../parts/fields';
import { FileButton } from '../../parts/file-button';
import { useUnits } from '../../parts/job-context';
import { Progress } from '../../parts/progress';
import { HandPoints } from './hand-points';
import { addPhotos, readPhoto, readWaiting, waiting } from './read-photos';
import type { StockView } from './view';

const PHOTOS = 'image/jpeg,image/png,image/webp,image/heic,.heic';

/** Photos of the face in view: add, read, and what reading them told. */
export function PhotoPanel({ view }: { view: StockView }) {
  const reading = view.reading.value;
  const photo = view.photo.value;
  const face = view.face.value;
  const slab = view.place.value?.slab;
  const unread = waiting(view.store.job.value);
  const trouble = view.trouble.value;
  if (view.byHand.value && photo) return <HandPoints view={view} photo={photo} points={view.byHand.value} />;

  const read =
    photo &&
    slab &&
    (() =>
      readPhoto(view, { slabId: slab.id, face: view.faceName.value, photoId: photo.id }, undefined, rescaled(view)));

  return (
    <div class="stack">
      {reading && (
        <Progress label={reading.label} fraction={reading.fraction} note={reading.note} onStop={reading.stop} />
      )}
      {!reading && unread.length > 0 && (
        <button type="button" class="button main" onClick={() => readWaiting(view)}>
          {unread.length === 1 ? 'Read the photo' : `Read the ${unread.length} photos`}
        </button>
      )}
      {trouble?.byHand && photo && (
        <button type="button" class="button" onClick={() => placeByHand(view)}>
          Place points by hand
        </button>
      )}
      {!reading && (
        <div class="row">
          <FileButton accept={PHOTOS} multiple main={!photo} onFiles={(files) => addPhotos(view, files)}>
            {photo ? 'Add photos' : 'Add a photo'}
          </FileButton>
          <FileButton accept="image/*" camera onFiles={(files) => addPhotos(view, files)}>
            Take a photo
          </FileButton>
        </div>
      )}
      {!photo && (
        <p class="soft small">
          Lay four printed square markers on the slab, near its corners, and take the whole slab in, from as high as you
          can. Several photos at once: one slab each, from this one on. Photos can also be dropped here.
        </p>
      )}
      <LengthField
        label="Side of a marker, measured on the print"
        value={view.markerSide.value}
        onChange={(side) => {
          view.markerSide.value = side;
        }}
      />
      {face?.outline && photo?.calibration && <Measured view={view} />}
      {photo && !reading && (
        <details>
          <summary>This photo</summary>
          <div class="stack">
            <p class="small soft">
              {photo.width} × {photo.height} pixels, {photo.calibration ? 'measured' : 'not measured yet'}
            </p>
            <div class="row">
              {read && photo.calibration && (
                <button type="button" class="button" onClick={read}>
                  Read it again
                </button>
              )}
              <button type="button" class="button" onClick={() => placeByHand(view)}>
                Place points by hand
              </button>
              <button
                type="button"
                class="button cut"
                onClick={() =>
                  view.editFace('Take out a photo', (draft) => {
                    delete draft.photos[photo.id];
                  })
                }
              >
                Take it out
              </button>
            </div>
          </div>
        </details>
      )}
    </div>
  );
}

function Measured({ view }: { view: StockView }) {
  const units = useUnits();
  const face = view.face.value;
  const photo = view.photo.value;
  if (!face || !photo?.calibration) return null;
  const { sigma, outliers } = photo.calibration;
  // Two standard deviations, at the best and the worst place of the wood: what the floor would measure is no one's concern.
  const { outline } = face;
  const onWood = outline ? sigma.filter(({ at }) => regionContains(outline, at)) : [];
  const all = onWood.map(({ mm }) => 2 * mm);
  const proposed = Object.values(face.defects).filter(({ confidence }) => confidence !== undefined).length;
  return (
    <div class="note measured stack">
      <p>
        Measured
        {all.length > 0 && (
          <>
            {' '}
            to {formatPlusMinus(Math.min(...all), units)} near the marks, {formatPlusMinus(Math.max(...all), units)} at
            worst
          </>
        )}
        .
        {face.outlineSigma !== null && (
          <> The traced edge is {formatPlusMinus(2 * face.outlineSigma, units, { unit: true })}.</>
        )}
      </p>
      {outliers.length > 0 && <p>Left out, because they disagree with the others: {outliers.join(', ')}.</p>}
      {proposed > 0 && (
        <button type="button" class="button" onClick={() => view.open('defects')}>
          Look at {proposed === 1 ? 'one defect' : `${proposed} defects`} that it saw
        </button>
      )}
    </div>
  );
}

/** Begins to place points on the photo in view, with those that it has. */
function placeByHand(view: StockView): void {
  const scale = view.photo.peek()?.scale;
  view.trouble.value = null;
  view.handle.value = null;
  view.byHand.value = scale?.kind === 'points' ? scale.points.map(({ px, mm }) => ({ px, mm })) : [];
}

/** The photo's reference, with the side of the markers as it now stands in the field. */
function rescaled(view: StockView) {
  const scale = view.photo.peek()?.scale;
  return scale?.kind === 'markers' ? { ...scale, side: view.markerSide.peek() } : scale;
}
