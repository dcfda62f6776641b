import type { Job, KeySize } from '../../../job';
import { flareOf } from '../../../keys';
import { formatAngle, formatLength, InputProblem, parseLength, type UnitSystem } from '../../../units';
import { useUnits } from '../../parts/job-context';
import { TypedField } from '../../parts/typed-field';
import type { JobStore } from '../../store';

/** Names go into file names and layers. */
const NAME = /^[A-Za-z0-9_-]{1,64}$/;

type Measure = 'length' | 'end' | 'waist';
const MEASURES: readonly (readonly [key: Measure, label: string])[] = [
  ['length', 'Length'],
  ['end', 'Width at the ends'],
  ['waist', 'At the waist'],
];

/** A size as it would be. @throws InputProblem where a key of it would hold nothing */
function sound(size: KeySize, units: UnitSystem): KeySize {
  if (size.waist >= size.end)
    throw new InputProblem(
      'The waist must be narrower than the ends, or the key holds nothing.',
      '',
      `The ends are ${formatLength(size.end, units, { unit: true })} wide, the waist ${formatLength(size.waist, units, { unit: true })}.`,
    );
  return size;
}

/** The sizes of key that the shop keeps templates for. */
export function SizesCard({ store }: { store: JobStore }) {
  const sizes = store.job.value.shop.keySizes;
  const put = (name: string, change: (draft: Job) => void) => store.edit(name, change);
  const add = () =>
    put('Add a size of key', ({ shop }) => {
      const like = shop.keySizes.at(-1) ?? { length: 70, end: 39.1, waist: 21, depths: [12], id: 'size' };
      let number = shop.keySizes.length + 1;
      while (shop.keySizes.some(({ id }) => id === `size-${number}`)) number++;
      shop.keySizes.push({ ...like, depths: [...like.depths], id: `size-${number}` });
    });
  return (
    <details class="card">
      <summary>Sizes that the shop keeps templates for: {sizes.length}</summary>
      <div class="stack">
        {sizes.map((size, i) => (
          <SizeFields key={i} store={store} i={i} size={size} only={sizes.length === 1} />
        ))}
        <button type="button" class="button" onClick={add}>
          Add a size
        </button>
      </div>
    </details>
  );
}

function SizeFields({ store, i, size, only }: { store: JobStore; i: number; size: KeySize; only: boolean }) {
  const units = useUnits();
  const set = (next: KeySize) =>
    store.edit('Size of key', (draft) => {
      draft.shop.keySizes[i] = next;
      if (next.id !== size.id) renameIn(draft, size.id, next.id);
    });
  return (
    <fieldset class="group card stack">
      <legend>{size.id}</legend>
      <TypedField
        label="Name"
        value={size.id}
        print={(id) => id}
        inputMode="text"
        read={(text) => {
          const id = text.trim();
          if (!NAME.test(id))
            throw new InputProblem('This cannot be a name.', '', 'Use letters, digits and hyphens, without spaces.');
          if (id !== size.id && store.job.value.shop.keySizes.some((other) => other.id === id))
            throw new InputProblem('Another size has this name.', '', 'Give it a name of its own.');
          return id;
        }}
        onChange={(id) => set({ ...size, id })}
      />
      <div class="size-fields">
        {MEASURES.map(([key, label]) => (
          <TypedField<number>
            key={key}
            label={label}
            unit={units}
            value={size[key]}
            inputMode={units === 'mm' ? 'decimal' : 'text'}
            print={(mm) => formatLength(mm, units, { as: 'typed' })}
            read={(text) => {
              const mm = parseLength(text, units);
              if (mm <= 0) throw new InputProblem('This must be more than 0.', '', 'Type a larger number.');
              sound({ ...size, [key]: mm }, units);
              return mm;
            }}
            onChange={(mm) => set({ ...size, [key]: mm })}
          />
        ))}
      </div>
      <TypedField<readonly number[]>
        label="Depths that its pocket is cut to"
        unit={units}
        value={size.depths}
        inputMode="text"
        print={(depths) => depths.map((mm) => formatLength(mm, units, { as: 'typed' })).join(', ')}
        read={(text) => depthsOf(text, units)}
        onChange={(depths) => set({ ...size, depths: [...depths] })}
      />
      <p class="small soft">Its sides flare by {formatAngle((flareOf(size) * 180) / Math.PI)}.</p>
      <button
        type="button"
        class="button cut"
        disabled={only}
        onClick={() =>
          store.edit('Take out a size of key', ({ shop }) => {
            shop.keySizes.splice(i, 1);
          })
        }
      >
        Take {size.id} out
      </button>
      {only && <p class="small soft">One size at least stays: keys cannot be placed without.</p>}
    </fieldset>
  );
}

/** Depths parted by semicolons or by commas and spaces. @throws InputProblem where one of them is none */
function depthsOf(text: string, units: UnitSystem): number[] {
  const parts = text.split(/;|,\s/).map((part) => part.trim());
  const depths = parts.filter((part) => part !== '').map((part) => parseLength(part, units));
  if (depths.length === 0) throw new InputProblem('A pocket needs a depth.', '', 'Type one at least, such as 12.');
  if (depths.some((mm) => mm <= 0)) throw new InputProblem('A depth must be more than 0.', '', 'Leave it out.');
  return [...new Set(depths)].sort((a, b) => a - b);
}

/** Keys that were set by hand keep their size when it gets another name. */
function renameIn(draft: Job, from: string, to: string): void {
  for (const { placements } of Object.values(draft.plans))
    for (const { keys } of Object.values(placements))
      for (const key of keys ?? []) if (key.size === from) key.size = to;
}
