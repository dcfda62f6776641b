import { CameraButton } from '../../camera/camera-button';
import { BestSheet } from '../../camera/late';
import type { ShotWish } from '../../camera/wish';
import { Choices } from '../../parts/choices';
import { TickField } from '../../parts/fields';
import { FileButton } from '../../parts/file-button';
import { Progress } from '../../parts/progress';
import { ArrivalsCard } from './arrivals-card';
import { askWhichSlab } from './ask-which-slab';
import { FacePhotos } from './face-photos';
import { otherMeasured } from './join-photos';
import { addPhotos, readPhoto, readWaiting, takeOutPhoto } from './read-photos';
import { Findings } from './reference/findings';
import { choose, ReferenceCard } from './reference/reference-card';
import { TapeChecks } from './reference/tape-checks';
import type { StockView } from './view';
import { waiting } from './waiting';
import { WhichSlab } from './which-slab';

const PHOTOS = 'image/jpeg,image/png,image/webp,image/heic,.heic';

/** Photos of the face in view: add, say what lies on the slab, read, and what reading them told. */
export function PhotoPanel({ view }: { view: StockView }) {
  const reading = view.reading.value;
  const photo = view.photo.value;
  const face = view.face.value;
  const unread = waiting(view.store.job.value);
  const trouble = view.trouble.value;
  const measured = otherMeasured(face, '').length > 0;

  return (
    <div class="stack">
      {reading && (
        <Progress label={reading.label} fraction={reading.fraction} note={reading.note} onStop={reading.stop} />
      )}
      {!reading && !view.choosing.value && unread.length > 0 && (
        <button type="button" class="button" onClick={() => readWaiting(view)}>
          {unread.length === 1 ? 'Read the photo' : `Read the ${unread.length} photos`}
        </button>
      )}
      {trouble?.byHand && photo && (
        <button type="button" class="button" onClick={() => placeByHand(view)}>
          Place points by hand
        </button>
      )}
      {!reading && <WhichSlab view={view} />}
      {!reading && <ArrivalsCard view={view} />}
      {!reading && !view.arrivals.value && (
        <div class="row">
          <FileButton accept={PHOTOS} multiple onFiles={(files) => addPhotos(view, files)}>
            {photo ? 'Add photos' : 'Add a photo'}
          </FileButton>
          <CameraButton wish={wishOf(view)} onFiles={(files) => addPhotos(view, files)}>
            Take a photo
          </CameraButton>
        </div>
      )}
      {view.comparing.value && (
        <BestSheet
          files={view.comparing.value}
          wish={wishOf(view)}
          onTake={(file) => addPhotos(view, [file])}
          onClose={() => {
            view.comparing.value = null;
          }}
        />
      )}
      {!photo && (
        <p class="soft small">
          Lay something of known size on the slab, near its corners best, and take the whole slab in, from as high as
          you can; a slab too long for one photo in two or three that overlap by a third, with cards where they do.
          Photos can also be dropped or pasted here.
        </p>
      )}
      {face?.outline && measured && (
        <Choices
          label="Look at"
          options={[
            ['face', 'From above'],
            ['photo', 'The photo'],
          ]}
          value={view.lookAt.value}
          onChange={(next) => {
            view.lookAt.value = next;
          }}
        />
      )}
      {face?.outline && measured && photo && <Findings view={view} photo={photo} face={face} />}
      {face?.outline && photo?.calibration && <TapeChecks view={view} photo={photo} />}
      {face?.picture && (
        <TickField
          label="The picture shows this face flattened"
          value={face.flat ?? false}
          onChange={(flat) => setFlat(view, flat)}
        />
      )}
      <ReferenceCard view={view} />
      {!reading && face && Object.keys(face.photos).length > 1 ? (
        <FacePhotos view={view} face={face} />
      ) : (
        photo && !reading && <ThisPhoto view={view} />
      )}
    </div>
  );
}

/** What the next photo shall show, by what is said to lie on the slab. */
function wishOf(view: StockView): ShotWish {
  const { kind, side, drop } = view.next.value;
  return { cards: kind === 'markers', side, beside: drop > 0 };
}

/** Says whether the face in view was flat when it was photographed: joints on flat faces are no more provisional. */
function setFlat(view: StockView, flat: boolean): void {
  const place = view.place.value;
  if (!place) return;
  const { flitch, slab } = place;
  view.store.edit(flat ? 'Say that a face is flat' : 'Say that a face is as sawn', (draft) => {
    const face = draft.flitches[flitch.id]?.slabs[slab.id]?.faces[view.faceName.value];
    if (!face) return;
    if (flat) face.flat = true;
    else delete face.flat;
  });
}

function ThisPhoto({ view }: { view: StockView }) {
  const photo = view.photo.value;
  const slab = view.place.value?.slab;
  if (!photo || !slab) return null;
  return (
    <details>
      <summary>This photo</summary>
      <div class="stack">
        <p class="small soft">
          {photo.width} × {photo.height} pixels, {photo.calibration ? 'measured' : 'not measured yet'}
        </p>
        <div class="row">
          {photo.calibration && !photo.draft && (
            <button
              type="button"
              class="button"
              onClick={() => readPhoto(view, { slabId: slab.id, face: view.faceName.value, photoId: photo.id })}
            >
              Read it again
            </button>
          )}
          {photo.slabAt && (
            <button type="button" class="button" onClick={() => askWhichSlab(view, photo)}>
              I meant another slab
            </button>
          )}
          <button type="button" class="button" onClick={() => placeByHand(view)}>
            Place points by hand
          </button>
          <button
            type="button"
            class="button cut"
            onClick={() => takeOutPhoto(view, { slabId: slab.id, face: view.faceName.value, photoId: photo.id })}
          >
            Take it out
          </button>
        </div>
      </div>
    </details>
  );
}

/** Begins to place points on the photo in view, with those that it has. */
function placeByHand(view: StockView): void {
  view.trouble.value = null;
  choose(view, 'points');
  view.lookAt.value = 'photo';
}
