import type { Door } from '../../../job';
import { ChoiceField, LengthField, NumberField, TextField, TickField } from '../../parts/fields';
import type { JobStore } from '../../store';

const MATCHES = [
  ['book', 'book'],
  ['slip', 'slip'],
  ['reverse slip', 'reverse slip'],
  ['random', 'random'],
] as const;

/** Doors or drawer fronts of one size, veneered with leaves. */
export function DoorCard({ store, door }: { store: JobStore; door: Door }) {
  const set =
    <K extends keyof Door>(key: K, name: string) =>
    (value: Door[K]) =>
      store.edit(`${name} of ${door.name}`, (draft) => {
        const own = draft.doors[door.id];
        if (own) own[key] = value;
      });
  return (
    <section class="card stack" aria-label={door.name}>
      <div class="fields">
        <TextField label="Name" value={door.name} onChange={set('name', 'Name')} />
        <NumberField whole label="How many" most={200} value={door.count} onChange={set('count', 'Number')} />
        <LengthField label="Width" value={door.width} onChange={set('width', 'Width')} />
        <LengthField label="Height" value={door.height} onChange={set('height', 'Height')} />
        <ChoiceField label="Match" value={door.match} options={MATCHES} onChange={set('match', 'Match')} />
        <LengthField label="Trim on each side" sign="zero" value={door.trim} onChange={set('trim', 'Trim')} />
      </div>
      <TickField
        label="Veneer the back alike, so that it stays flat"
        value={door.backed}
        onChange={set('backed', 'Back')}
      />
      <button
        type="button"
        class="button cut"
        onClick={() =>
          store.edit(`Take out ${door.name}`, (draft) => {
            delete draft.doors[door.id];
          })
        }
      >
        Take it out
      </button>
    </section>
  );
}
