import { useRef } from 'preact/hooks';
import type { Flitch, Slab } from '../../../job';
import { ChoiceField, LengthField, TextField } from '../../parts/fields';
import { MoistureField, PriceField } from '../../parts/stock-fields';
import { editTaped, TapedSizes } from '../../parts/taped-sizes';
import type { JobStore } from '../../store';
import { SPECIES_CHOICES } from '../stock/slab-panel';

const THICKNESSES = ['Edge, left front', 'Edge, left back', 'Edge, right front', 'Edge, right back'];
/** Read by a string at a yard, one standard deviation, mm (practice, no source). */
const STRING_SIGMA = 1;

interface TapeFieldsProps {
  store: JobStore;
  flitch: Flitch;
  slab: Slab;
  /** Enter in the last field. */
  onEnd(): void;
}

/** What is taped of a slab in three minutes; with a photo of it the outline of the photo counts. Enter goes to the next field. */
export function TapeFields({ store, flitch, slab, onEnd }: TapeFieldsProps) {
  const fields = useRef<HTMLDivElement>(null);
  const traced = slab.faces.top.outline ?? slab.faces.bottom.outline;
  const change = (what: string, put: (own: Slab) => void) =>
    store.edit(`${what} of ${slab.name}`, (draft) => {
      const own = draft.flitches[flitch.id]?.slabs[slab.id];
      if (own) put(own);
    });
  const bySlab = Object.values(slab.faces.top.photos).some(
    ({ calibration, scale }) => calibration && scale.kind === 'slab',
  );

  function onKeyDown(event: KeyboardEvent) {
    if (event.key !== 'Enter' || !(event.target instanceof HTMLInputElement)) return;
    const inputs = [...(fields.current?.querySelectorAll('input') ?? [])];
    const next = inputs[inputs.indexOf(event.target) + 1];
    // What cannot be read stays in view until it is mended.
    if (event.target.getAttribute('aria-invalid') === 'true') return;
    if (next) next.focus();
    else onEnd();
  }

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Enter in a field goes on to the next one
    <div class="tape-fields stack" ref={fields} onKeyDown={onKeyDown}>
      {traced && !bySlab ? (
        <p class="small soft">Its outline is from a photo: length and widths need not be taped.</p>
      ) : (
        <>
          <TapedSizes store={store} slab={slab} />
          <LengthField<true>
            optional
            soon
            label="Clear of holes and rot"
            value={slab.taped?.clear ?? null}
            onChange={(clear) =>
              editTaped(store, slab, 'Clear width', (own) => {
                own.clear = clear;
              })
            }
          />
          <p class="small soft">
            Holes or rot in it? The widest strip beside them, all along. Empty where you see none.
          </p>
        </>
      )}
      <div class="two">
        {THICKNESSES.map((label, i) => (
          <LengthField<true>
            key={label}
            optional
            soon
            label={label}
            value={slab.taped?.thicknesses[i] ?? null}
            onChange={(thickness) =>
              editTaped(store, slab, label, (own) => {
                own.thicknesses[i] = thickness;
              })
            }
          />
        ))}
        <LengthField<true>
          optional
          soon
          sign="any"
          label="Bow by string"
          value={slab.warp?.bow ?? null}
          onChange={(bow) =>
            change('Bow', (own) => {
              own.warp = { ...(own.warp ?? { cup: null, twist: null, sigma: STRING_SIGMA }), bow };
            })
          }
        />
        <MoistureField
          value={slab.moisture}
          onChange={(moisture) =>
            change('Moisture', (own) => {
              own.moisture = moisture;
            })
          }
        />
        <PriceField
          value={slab.price}
          onChange={(price) =>
            change('Price', (own) => {
              own.price = price;
            })
          }
        />
        <TextField
          label="Name"
          value={slab.name}
          onChange={(name) =>
            change('Name', (own) => {
              own.name = name;
            })
          }
        />
      </div>
      <p class="small soft">
        Thickness where the edge is full. Bow: the gap at the middle, ends high; minus where the middle is high.
      </p>
      <ChoiceField
        label={`Species of ${flitch.name}`}
        value={flitch.species}
        options={SPECIES_CHOICES}
        onChange={(species) =>
          store.edit('Species of a log', (draft) => {
            const own = draft.flitches[flitch.id];
            if (own) own.species = species;
          })
        }
      />
    </div>
  );
}
