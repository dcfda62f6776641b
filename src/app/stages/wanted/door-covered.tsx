import { bounds, rectangle } from '../../../geometry';
import { LengthField } from '../../parts/fields';
import type { DoorEditing } from './door-editing';

/** Places of a front where a defect does not matter: under hinges, a handle, a plinth. From its upper left corner. */
export function CoveredFields({ door, edit }: DoorEditing) {
  const put = (i: number, box: { left: number; top: number; wide: number; high: number } | null) =>
    edit('Covered place', (own) => {
      if (!box) own.covered.splice(i, 1);
      else own.covered[i] = rectangle<'panel'>(box.left, box.top, box.left + box.wide, box.top + box.high);
    });
  return (
    <div class="stack">
      {door.covered.map((zone, i) => {
        const { minX, minY, maxX, maxY } = bounds(zone);
        const box = { left: minX, top: minY, wide: maxX - minX, high: maxY - minY };
        return (
          <fieldset key={`${i + 1}`} class="group">
            <legend>Covered place {i + 1}</legend>
            <div class="fields">
              <LengthField
                label="From the left"
                sign="zero"
                value={box.left}
                onChange={(left) => put(i, { ...box, left })}
              />
              <LengthField
                label="From the top"
                sign="zero"
                value={box.top}
                onChange={(top) => put(i, { ...box, top })}
              />
              <LengthField label="Wide" value={box.wide} onChange={(wide) => put(i, { ...box, wide })} />
              <LengthField label="High" value={box.high} onChange={(high) => put(i, { ...box, high })} />
            </div>
            <button type="button" class="button" onClick={() => put(i, null)}>
              Take it out
            </button>
          </fieldset>
        );
      })}
      <button
        type="button"
        class="button"
        onClick={() =>
          put(door.covered.length, {
            left: 0,
            top: 0,
            wide: Math.min(60, door.width),
            high: Math.min(120, door.height),
          })
        }
      >
        Add a covered place
      </button>
    </div>
  );
}
