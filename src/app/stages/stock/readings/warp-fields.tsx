import type { Slab, WarpRead } from '../../../../job';
import { LengthField } from '../../../parts/fields';
import type { StockView } from '../view';

/** Read with straightedge and winding sticks, to about this, mm (practice, no source). */
const SIGMA = 0.5;
const NONE: WarpRead = { bow: null, cup: null, twist: null, sigma: SIGMA };

const FIELDS = [
  ['bow', 'Bow, ends high'],
  ['cup', 'Cup, edges high'],
  ['twist', 'Twist, lift of the fourth corner'],
] as const;

/** Bow, cup and twist, for who has no rails at hand. */
export function WarpFields({ view, slab }: { view: StockView; slab: Slab }) {
  const set = (key: 'bow' | 'cup' | 'twist') => (value: number | null) =>
    view.editSlab(slab.id, `Type the ${key}`, (draft) => {
      const next = { ...(draft.warp ?? NONE), [key]: value };
      draft.warp = next.bow === null && next.cup === null && next.twist === null ? null : next;
    });
  return (
    <details open={slab.warp !== null}>
      <summary>Bow, cup and twist</summary>
      <div class="stack">
        <p class="small soft">
          Straightedge along and across the upper face, winding sticks at its ends; less than nothing where ends, edges
          or the corner of most along and in lie low. With the thickness at three spots or more this is enough for a
          first answer.
        </p>
        <div class="fields">
          {FIELDS.map(([key, label]) => (
            <LengthField<true>
              key={key}
              optional
              sign="any"
              finest={32}
              label={label}
              value={slab.warp?.[key] ?? null}
              onChange={set(key)}
            />
          ))}
        </div>
      </div>
    </details>
  );
}
