import { useState } from 'preact/hooks';
import type { Photo, Scale } from '../../../../job';
import { measure } from '../../../../photo';
import { formatLength, formatPlusMinus } from '../../../../units';
import { LengthField, NumberField } from '../../../parts/fields';
import { useUnits } from '../../../parts/job-context';
import type { StockView } from '../view';
import { measureAgain, measuredPhotos } from './remeasure';
import { addTapeEnd, moveTapeEnd, tapeEnds } from './tape-hand';

/** Ends of a check that lie nearer to each other than this in the photo, px, tell nothing. */
const LEAST_APART = 20;

type Check = NonNullable<Scale['distances']>[number];

/** Tape checks of a measured photo: what the tape says and what the photo says, side by side; each new one measures the photo again. */
export function TapeChecks({ view, photo }: { view: StockView; photo: Photo }) {
  const checks = photo.scale.distances ?? [];
  const inHand = view.tape.value?.photoId === photo.id;
  const face = view.face.value;
  const several = face !== null && measuredPhotos(face) > 1;
  const set = (next: readonly Check[], step: string) => {
    const { distances: _, ...scale } = photo.scale;
    return measureAgain(view, photo, next.length > 0 ? { ...scale, distances: [...next] } : scale, step);
  };
  return (
    <section class="card stack" aria-labelledby="tape-checks">
      <h2 id="tape-checks">Tape checks</h2>
      {checks.length === 0 && !inHand && (
        <p class="small soft">
          One length taped on the wood, as long as you can, makes the photo surer; or tells that something is wrong with
          it.
        </p>
      )}
      {checks.length > 0 && (
        <ol class="list plain">
          {checks.map((check, i) => (
            <CheckRow
              key={check.px.join()}
              view={view}
              photo={photo}
              check={check}
              place={i}
              onLength={(length) =>
                void set(
                  checks.map((other, k) => (k === i ? { ...other, length } : other)),
                  'Change a tape check',
                )
              }
              onRemove={() =>
                void set(
                  checks.filter((_, k) => k !== i),
                  'Take out a tape check',
                )
              }
            />
          ))}
        </ol>
      )}
      {inHand ? (
        <NewCheck
          view={view}
          photo={photo}
          place={checks.length + 1}
          onDone={async (check) => {
            if (await set([...checks, check], 'Add a tape check')) view.tape.value = null;
          }}
        />
      ) : (
        <button
          type="button"
          class="button"
          disabled={view.reading.value !== null}
          onClick={() => {
            view.aim.value = null;
            view.tape.value = { photoId: photo.id, ends: [] };
          }}
        >
          Add a tape check
        </button>
      )}
      {several && (
        <p class="small soft">This face is put together of several photos: after a change they are read again.</p>
      )}
    </section>
  );
}

function CheckRow(props: {
  view: StockView;
  photo: Photo;
  check: Check;
  place: number;
  onLength(mm: number): void;
  onRemove(): void;
}) {
  const { photo, check, place, onLength, onRemove } = props;
  const units = useUnits();
  const says = `tape check ${place + 1}`;
  const refused = photo.calibration?.refused.find(({ distance }) => distance === place + 1);
  const seen = photo.calibration && measure(photo.calibration).distance(check.px[0], check.px[1]);
  const length = (mm: number) => formatLength(mm, units, { denominator: 32, decimals: 1, unit: true });
  return (
    <li class="stack check">
      <div class="row between">
        <span class="letter box">T{place + 1}</span>
        <LengthField
          label={`The tape says, T${place + 1}`}
          finest={32}
          decimals={1}
          value={check.length}
          onChange={onLength}
        />
        <button type="button" class="button quiet" aria-label={`Take out ${says}`} onClick={onRemove}>
          ✕
        </button>
      </div>
      {refused ? (
        <p class="note miss small">
          <strong>Not taken in.</strong> The photo says {length(check.length + refused.mm)},{' '}
          {length(Math.abs(refused.mm))} {refused.mm > 0 ? 'more' : 'less'} than the tape. Read the tape again, see that
          both ends are clicked on the very spots, and that the tape lay straight on the wood. If it is right, something
          else is wrong: the side that was typed, or a card that does not lie flat on the wood.
        </p>
      ) : (
        seen && (
          <p class="small">
            Taken in. The photo says {length(seen.mm)} {formatPlusMinus(2 * seen.sigma, units, { unit: true })}.
          </p>
        )
      )}
    </li>
  );
}

/** A check whose ends are being clicked and whose length is being typed. */
function NewCheck(props: { view: StockView; photo: Photo; place: number; onDone(check: Check): Promise<void> }) {
  const { view, photo, place, onDone } = props;
  const units = useUnits();
  const [length, setLength] = useState<number | null>(null);
  const ends = tapeEnds(view, photo);
  const [a, b] = ends.map(({ px }) => px);
  const apart = a && b ? Math.hypot(a[0] - b[0], a[1] - b[1]) : 0;
  const seen = a && b && photo.calibration ? measure(photo.calibration).distance(a, b) : null;
  const wrong =
    a && b && apart < LEAST_APART
      ? 'Both ends lie on the same spot: tap where the other end of the tape was.'
      : a && b && !seen
        ? 'One end does not lie on the slab.'
        : null;
  const chosen = ends.find(({ id }) => id === view.handle.value);
  return (
    <fieldset class="group stack">
      <legend>T{place}</legend>
      <p class="small" role="status">
        {!a
          ? 'Tap where the tape began, on the drawing.'
          : !b
            ? 'Tap where it ended.'
            : (wrong ??
              (seen &&
                `The photo says ${formatLength(seen.mm, units, { decimals: 0, unit: true })} ${formatPlusMinus(2 * seen.sigma, units, { unit: true })}. What does the tape say?`))}
      </p>
      {chosen && (
        <div class="fields">
          {(['right', 'down'] as const).map((way, k) => (
            <NumberField
              key={way}
              sign="any"
              label={`End ${chosen.text}, photo ${way} (pixels)`}
              value={chosen.px[k] as number}
              onChange={(value) =>
                moveTapeEnd(view, photo, chosen.id, k === 0 ? [value, chosen.px[1]] : [chosen.px[0], value])
              }
            />
          ))}
        </div>
      )}
      {!b && (
        <button
          type="button"
          class="button"
          onClick={() =>
            addTapeEnd(view, photo, [Math.round(photo.width * (a ? 0.7 : 0.3)), Math.round(photo.height / 2)])
          }
        >
          Place an end by keys or numbers
        </button>
      )}
      <LengthField<true> optional label="The tape says" finest={32} decimals={1} value={length} onChange={setLength} />
      <div class="row">
        <button
          type="button"
          class="button main"
          disabled={!a || !b || wrong !== null || length === null || view.reading.value !== null}
          onClick={() => a && b && length !== null && void onDone({ px: [a, b], length })}
        >
          Take it in
        </button>
        <button
          type="button"
          class="button"
          onClick={() => {
            view.tape.value = null;
            view.handle.value = null;
          }}
        >
          Leave
        </button>
      </div>
    </fieldset>
  );
}
