import { useState } from 'preact/hooks';
import { emptyFlitch } from '../../../job';
import { SPECIES } from '../../../wood';
import { newId } from '../../jobs';
import { ChoiceField, LengthField, NumberField, TextField } from '../../parts/fields';
import { MoistureField, PriceField } from '../../parts/stock-fields';
import { slabIn } from './read-photos';
import type { StockView } from './view';

export const SPECIES_CHOICES = [...SPECIES]
  .sort((a, b) => a.name.localeCompare(b.name))
  .map(({ id, name }) => [id, name] as const);

/** What is known of the slab and its flitch without a photo. */
export function SlabPanel({ view }: { view: StockView }) {
  const place = view.place.value;
  const [doomed, setDoomed] = useState(false);
  if (!place) return null;
  const { slab, flitch } = place;
  const editFlitch = (name: string, change: (own: typeof flitch) => void) =>
    view.store.edit(name, (draft) => {
      const own = draft.flitches[flitch.id];
      if (own) change(own);
    });
  const editSlab = (name: string, change: (own: typeof slab) => void) => view.editSlab(slab.id, name, change);

  function addLog() {
    const id = newId();
    view.store.edit('Add a log', (draft) => {
      const log = emptyFlitch(newId(), `Log ${Object.keys(draft.flitches).length + 1}`, flitch.species);
      draft.flitches[log.id] = log;
      slabIn(draft, id);
    });
    view.look(id);
  }

  return (
    <div class="stack">
      <h2>{slab.name}</h2>
      <div class="fields">
        <TextField
          label="Name"
          value={slab.name}
          onChange={(name) =>
            editSlab('Name a slab', (own) => {
              own.name = name;
            })
          }
        />
        <LengthField<true>
          optional
          label="Rough thickness"
          value={slab.thickness}
          onChange={(thickness) =>
            editSlab('Thickness of a slab', (own) => {
              own.thickness = thickness;
            })
          }
        />
        <MoistureField
          value={slab.moisture}
          onChange={(moisture) =>
            editSlab('Moisture of a slab', (own) => {
              own.moisture = moisture;
            })
          }
        />
        <PriceField
          value={slab.price}
          onChange={(price) =>
            editSlab('Price of a slab', (own) => {
              own.price = price;
            })
          }
        />
        <NumberField
          whole
          label="Place in the log"
          value={slab.place}
          onChange={(next) =>
            editSlab('Place of a slab in the log', (own) => {
              own.place = next;
            })
          }
        />
      </div>
      <h2>{flitch.name}</h2>
      <div class="fields">
        <TextField
          label="Name of the log"
          value={flitch.name}
          onChange={(name) =>
            editFlitch('Name a log', (own) => {
              own.name = name;
            })
          }
        />
        <ChoiceField
          label="Species"
          value={flitch.species}
          options={SPECIES_CHOICES}
          onChange={(species) =>
            editFlitch('Species of a log', (own) => {
              own.species = species;
            })
          }
        />
        <MoistureField
          label="Moisture of the log"
          value={flitch.moisture}
          onChange={(moisture) =>
            editFlitch('Moisture of a log', (own) => {
              own.moisture = moisture;
            })
          }
        />
      </div>
      <button type="button" class="button" onClick={addLog}>
        Add a slab of another log
      </button>
      {doomed ? (
        <div class="row">
          <button
            type="button"
            class="button cut"
            onClick={() => {
              setDoomed(false);
              editFlitch(`Take out ${slab.name}`, (own) => {
                delete own.slabs[slab.id];
              });
            }}
          >
            Take {slab.name} out of the job
          </button>
          <button type="button" class="button" onClick={() => setDoomed(false)}>
            Keep it
          </button>
        </div>
      ) : (
        <button type="button" class="button cut" onClick={() => setDoomed(true)}>
          Take this slab out
        </button>
      )}
    </div>
  );
}
