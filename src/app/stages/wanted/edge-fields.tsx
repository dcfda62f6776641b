import { SWING_WITHIN, type Top } from '../../../job';
import { formatLength } from '../../../units';
import { ChoiceField, LengthField, NumberField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import type { TopEditor } from './edit-top';

const EDGES = [
  ['straight', 'straight'],
  ['live', 'live edge'],
] as const;

const ENDS = [
  ['left', 'Left-hand end'],
  ['right', 'Right-hand end'],
] as const;

/** Its edges and ends: live or straight, square or at an angle, and how wavy a live edge may be. */
export function EdgeFields({ top, editor: { set, edit } }: { top: Top; editor: TopEditor }) {
  const units = useUnits();
  const live = top.front === 'live' || top.back === 'live';
  return (
    <div class="stack">
      <div class="fields">
        <ChoiceField label="Back edge" value={top.back} options={EDGES} onChange={set('back', 'Back edge')} />
        {live && (
          <LengthField
            optional
            label={`Swing of a live edge within ${formatLength(SWING_WITHIN, units)}, at most`}
            value={top.swing}
            onChange={set('swing', 'Swing')}
          />
        )}
        {live && (
          <NumberField
            optional
            label="Slope of a live edge, where one face is known"
            unit="°"
            least={20}
            most={160}
            value={top.bevel}
            onChange={set('bevel', 'Slope')}
          />
        )}
      </div>
      {ENDS.map(([side, label]) => {
        const end = top.ends[side];
        const change = (next: Partial<typeof end>) =>
          edit(label, (own) => {
            own.ends[side] = { ...own.ends[side], ...next };
          });
        return (
          <div key={side} class="fields">
            <ChoiceField label={label} value={end.edge} options={EDGES} onChange={(edge) => change({ edge })} />
            {end.edge === 'straight' ? (
              <NumberField
                label="Its angle to the front"
                unit="°"
                least={20}
                most={160}
                value={end.degrees}
                onChange={(degrees) => change({ degrees })}
              />
            ) : (
              <LengthField label="It may fall short by" value={end.short} onChange={(short) => change({ short })} />
            )}
          </div>
        );
      })}
      <p class="small soft">
        A slope over 90° makes the slab wider below: planing its face then moves the edge out. Square ends are 90°. A
        counter that turns an inner corner has 135° at the corner on both tops; an outer corner 45°. The length is that
        of the longer side.
      </p>
    </div>
  );
}
