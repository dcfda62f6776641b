import { DEFAULT_SAWS, type Saws } from '../../../job';
import { TextField } from '../../parts/fields';
import type { JobStore } from '../../store';

const NAMES: readonly (readonly [saw: keyof Saws, label: string])[] = [
  ['crosscut', 'Crosscuts are made with'],
  ['rip', 'Rips are made with'],
  ['fine', 'Joints and trims are made with'],
];

/** What the shop calls the saw of each kind of cut: it stands under the cuts of every slab. */
export function SawNames({ store }: { store: JobStore }) {
  const saws = store.job.value.shop.saws ?? DEFAULT_SAWS;
  return (
    <div class="fields">
      {NAMES.map(([saw, label]) => (
        <TextField
          key={saw}
          label={label}
          value={saws[saw]}
          optional
          onChange={(name) =>
            store.edit(label, ({ shop }) => {
              shop.saws = { ...saws, [saw]: name };
            })
          }
        />
      ))}
    </div>
  );
}
