import type { Slab, Taped } from '../../job';
import type { JobStore } from '../store';
import { LengthField } from './fields';

/** What is known of a slab before anything is taped. */
const NOTHING: Taped = { length: null, widths: [null, null, null], thicknesses: [null, null, null, null] };

const WIDTHS = ['Width, left end', 'Width, middle', 'Width, right end'];

/** Changes what was taped of a slab, as one step that can be undone. */
export function editTaped(store: JobStore, slab: Slab, what: string, put: (own: Taped) => void): void {
  store.edit(`${what} of ${slab.name}`, (draft) => {
    const own = Object.values(draft.flitches).find(({ slabs }) => slabs[slab.id])?.slabs[slab.id];
    if (!own) return;
    own.taped ??= structuredClone(NOTHING);
    put(own.taped);
  });
}

/** A slab's length and its width at three places, as they are taped. */
export function TapedSizes({ store, slab }: { store: JobStore; slab: Slab }) {
  const taped = slab.taped ?? NOTHING;
  return (
    <>
      <LengthField<true>
        optional
        soon
        label="Length"
        value={taped.length}
        onChange={(length) =>
          editTaped(store, slab, 'Length', (own) => {
            own.length = length;
          })
        }
      />
      <div class="three">
        {WIDTHS.map((label, i) => (
          <LengthField<true>
            key={label}
            optional
            soon
            label={label}
            value={taped.widths[i] ?? null}
            onChange={(width) =>
              editTaped(store, slab, label, (own) => {
                own.widths[i] = width;
              })
            }
          />
        ))}
      </div>
      <p class="small soft">
        Widths of sound wood, bark left out, at the narrower face, square across: a good hand in from each end, and
        amid. A chalk tick at both edges where you tape lets a photo be measured by them.
      </p>
    </>
  );
}
