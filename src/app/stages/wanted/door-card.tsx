import { type Door, GRADES, MATCHES } from '../../../job';
import { ChoiceField, LengthField, NumberField, TextField, TickField } from '../../parts/fields';
import type { JobStore } from '../../store';
import { CoveredFields } from './door-covered';
import type { DoorEditing } from './door-editing';
import { FrameFields } from './door-frame';
import { MatchFields } from './door-match';
import { DoorPlace } from './door-place';

const MATCH_NAMES: Readonly<Partial<Record<Door['match'], string>>> = {
  'slip centre book': 'slip, book in the centre',
  'four-piece': 'four-piece book and butt',
  radial: 'radial (sunburst)',
};

/** Doors or drawer fronts of one size, veneered with leaves. */
export function DoorCard({ store, door }: { store: JobStore; door: Door }) {
  const edit: DoorEditing['edit'] = (name, change) =>
    store.edit(`${name} of ${door.name}`, (draft) => {
      const own = draft.doors[door.id];
      if (own) change(own);
    });
  const set =
    <K extends keyof Door>(key: K, name: string) =>
    (value: Door[K]) =>
      edit(name, (own) => {
        own[key] = value;
      });
  const editing: DoorEditing = { store, door, edit };
  return (
    <section class="card stack" aria-label={door.name}>
      <div class="fields">
        <TextField label="Name" value={door.name} onChange={set('name', 'Name')} />
        <NumberField whole label="How many" most={200} value={door.count} onChange={set('count', 'Number')} />
        <LengthField label="Width" value={door.width} onChange={set('width', 'Width')} />
        <LengthField label="Height, along the grain" value={door.height} onChange={set('height', 'Height')} />
        <ChoiceField
          label="Match"
          value={door.match}
          options={MATCHES.map((match) => [match, MATCH_NAMES[match] ?? match] as const)}
          onChange={set('match', 'Match')}
        />
        <LengthField label="Trim on each side" sign="zero" value={door.trim} onChange={set('trim', 'Trim')} />
      </div>
      <TickField
        label="Veneer the back alike, so that it stays flat"
        value={door.backed}
        onChange={set('backed', 'Back')}
      />
      <DoorPlace {...editing} />
      <details>
        <summary>How its leaves lie</summary>
        <MatchFields {...editing} />
      </details>
      <details open={door.frame !== null}>
        <summary>Rails and stiles</summary>
        <FrameFields {...editing} />
      </details>
      <details open={door.covered.length > 0}>
        <summary>Covered places, grade</summary>
        <div class="stack">
          <CoveredFields {...editing} />
          <ChoiceField
            label="Grade that the set is held against"
            value={door.grade ?? ''}
            options={[['', 'none'], ...GRADES.map((grade) => [grade, grade] as const)]}
            onChange={(grade) => set('grade', 'Grade')(grade === '' ? null : grade)}
          />
        </div>
      </details>
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
