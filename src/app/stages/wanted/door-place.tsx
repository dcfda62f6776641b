import { useState } from 'preact/hooks';
import { ChoiceField, LengthField, NumberField } from '../../parts/fields';
import type { DoorEditing } from './door-editing';
import { abreastOf, beside, inRows, placesOf, SIDES, type Side, USUAL_GAP } from './door-places';

/** Where the fronts stand: in rows and columns, against those of another door, or each by itself. */
export function DoorPlace({ store, door, edit }: DoorEditing) {
  const doors = Object.values(store.job.value.doors);
  const others = doors.filter(({ id }) => id !== door.id);
  const [gap, setGap] = useState(USUAL_GAP);
  const [side, setSide] = useState<Side>('below');
  const places = placesOf(doors, door.id);
  const abreast = abreastOf(doors, door.id);
  const first = places[0] ?? [0, 0];
  const put = (at: readonly (readonly [number, number])[]) =>
    edit('Place', (own) => {
      own.at = [...at];
    });
  return (
    <details>
      <summary>Where they stand</summary>
      <div class="stack">
        <div class="fields">
          <NumberField
            whole
            least={1}
            most={200}
            label="Abreast"
            value={abreast}
            onChange={(next) => put(inRows(door, first, next, gap))}
          />
          <LengthField
            label="Gap between fronts"
            sign="zero"
            value={gap}
            onChange={(next) => {
              setGap(next);
              put(inRows(door, first, abreast, next));
            }}
          />
        </div>
        {others.length > 0 && (
          <div class="fields">
            <ChoiceField
              label="Stand them"
              value={side}
              options={SIDES.map((one) => [one, one] as const)}
              onChange={(next) => setSide(next)}
            />
            <ChoiceField
              label="which fronts"
              value=""
              options={[['', 'choose'], ...others.map(({ id, name }) => [id, name] as const)]}
              onChange={(id) => {
                const at = beside(doors, door.id, id, side, gap);
                if (at) put(inRows(door, at, abreast, gap));
              }}
            />
          </div>
        )}
        {places.length <= 12 &&
          places.map(([x, y], i) => (
            <div key={`${i + 1}`} class="fields">
              <LengthField
                label={`${places.length > 1 ? `${door.name} ${i + 1}, f` : 'F'}rom the left`}
                sign="any"
                value={x}
                onChange={(left) => put(places.map((at, k) => (k === i ? [left, y] : at)))}
              />
              <LengthField
                label="From the top"
                sign="any"
                value={y}
                onChange={(top) => put(places.map((at, k) => (k === i ? [x, top] : at)))}
              />
            </div>
          ))}
      </div>
    </details>
  );
}
