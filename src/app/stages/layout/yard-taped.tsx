import type { Flitch, Slab, Taped } from '../../../job';
import { LengthField, TextField } from '../../parts/fields';
import { MoistureField, PriceField } from '../../parts/stock-fields';
import type { JobStore } from '../../store';

const NOTHING: Taped = { length: null, widths: [null, null, null], thicknesses: [null, null, null, null] };
const WIDTHS = ['Width near the left end', 'Width at the middle', 'Width near the right end'];
const THICKNESSES = [
  'Thickness, left end, front edge',
  'Thickness, left end, back edge',
  'Thickness, right end, front edge',
  'Thickness, right end, back edge',
];
/** Read by a string at a yard, one standard deviation, mm (practice, no source). */
const STRING_SIGMA = 1;

/** What is taped of a slab in three minutes; with a photo of it the outline of the photo counts. */
export function TapedFields({ store, flitch, slab }: { store: JobStore; flitch: Flitch; slab: Slab }) {
  const taped = slab.taped ?? NOTHING;
  const traced = slab.faces.top.outline ?? slab.faces.bottom.outline;
  const change = (what: string, put: (own: Slab) => void) =>
    store.edit(`${what} of ${slab.name}`, (draft) => {
      const own = draft.flitches[flitch.id]?.slabs[slab.id];
      if (own) put(own);
    });
  const tape = (what: string, put: (own: Taped) => void) =>
    change(what, (own) => {
      own.taped ??= structuredClone(NOTHING);
      put(own.taped);
    });

  return (
    <div class="fields">
      <TextField
        label="Name"
        value={slab.name}
        onChange={(name) =>
          change('Name', (own) => {
            own.name = name;
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
      {traced ? (
        <p class="small soft">Its outline is from a photo: length and widths need not be taped.</p>
      ) : (
        <>
          <LengthField<true>
            optional
            label="Length"
            value={taped.length}
            onChange={(length) =>
              tape('Length', (own) => {
                own.length = length;
              })
            }
          />
          {WIDTHS.map((label, i) => (
            <LengthField<true>
              key={label}
              optional
              label={`${label}, bark left out`}
              value={taped.widths[i] ?? null}
              onChange={(width) =>
                tape('Width', (own) => {
                  own.widths[i] = width;
                })
              }
            />
          ))}
        </>
      )}
      {THICKNESSES.map((label, i) => (
        <LengthField<true>
          key={label}
          optional
          label={label}
          value={taped.thicknesses[i] ?? null}
          onChange={(thickness) =>
            tape('Thickness', (own) => {
              own.thicknesses[i] = thickness;
            })
          }
        />
      ))}
      <LengthField<true>
        optional
        sign="any"
        label="Bow, ends high"
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
    </div>
  );
}
