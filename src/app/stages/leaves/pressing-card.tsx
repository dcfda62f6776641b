import { CORE_GRAINS, DEFAULT_PRESSING, type Pressing } from '../../../job';
import type { SetReport } from '../../../plan';
import { formatArea, formatMoney } from '../../../units';
import { ChoiceField, LengthField, NumberField, TextField, TickField } from '../../parts/fields';
import { PriceField } from '../../parts/stock-fields';
import type { JobStore } from '../../store';

const GRAINS = { none: 'has none', along: 'along the veneer', across: 'across the veneer' } as const;
/** A bag that many shops have (practice). */
const BAG = { length: 2500, width: 1300 };

/** What the panels are pressed on: core, sheets, glue, bag; and what that comes to. */
export function PressingCard({ store, press }: { store: JobStore; press: SetReport['press'] | null }) {
  const job = store.job.value;
  const pressing = job.shop.pressing ?? DEFAULT_PRESSING;
  const set =
    <K extends keyof Pressing>(key: K, name: string) =>
    (value: Pressing[K]) =>
      store.edit(name, ({ shop }) => {
        shop.pressing = { ...pressing, [key]: value };
      });
  return (
    <details class="card">
      <summary>Core, press and glue</summary>
      <div class="stack">
        {press && press.panels.length > 0 && (
          <>
            {press.cores.map(({ thickness, cuts }) => (
              <p key={thickness}>
                {cuts.sheets.length} {cuts.sheets.length === 1 ? 'sheet' : 'sheets'} of {thickness} mm {pressing.core}
                {cuts.sheets.length > cuts.least && !cuts.proven ? ` (${cuts.least} at least)` : ''}
                {cuts.tooLarge.length > 0 && `; ${cuts.tooLarge.length} panels do not come out of one`}
              </p>
            ))}
            <p>
              Glue on {formatArea(press.glue.area, job.units)}: about {Math.ceil(press.glue.grams / 10) * 10} g
              {press.loads && `; ${press.loads.length} ${press.loads.length === 1 ? 'load' : 'loads'} of the bag`}
              {press.cost !== null && `; sheets ${formatMoney(press.cost, job.currency)}`}.
            </p>
          </>
        )}
        <div class="fields">
          <TextField label="Core of" value={pressing.core} onChange={set('core', 'Core')} />
          <LengthField label="Its thickness" value={pressing.thickness} onChange={set('thickness', 'Core')} />
          <LengthField label="In rails and stiles" value={pressing.framed} onChange={set('framed', 'Core')} />
          <ChoiceField
            label="Its grain"
            value={pressing.grain}
            options={CORE_GRAINS.map((grain) => [grain, GRAINS[grain]] as const)}
            onChange={set('grain', 'Grain of the core')}
          />
          <LengthField
            label="Sheet, length"
            value={pressing.sheet.length}
            onChange={(length) => set('sheet', 'Sheet')({ ...pressing.sheet, length })}
          />
          <LengthField
            label="Sheet, width"
            value={pressing.sheet.width}
            onChange={(width) => set('sheet', 'Sheet')({ ...pressing.sheet, width })}
          />
          <LengthField label="Off its edges" sign="zero" value={pressing.trim} onChange={set('trim', 'Sheet')} />
          <PriceField value={pressing.price} onChange={set('price', 'Price of a sheet')} />
          <NumberField label="Glue" unit="g/m²" most={2000} value={pressing.spread} onChange={set('spread', 'Glue')} />
        </div>
        <TickField
          label="Pressed in a vacuum bag of"
          value={pressing.bag !== null}
          onChange={(has) => set('bag', 'Vacuum bag')(has ? BAG : null)}
        />
        {pressing.bag && (
          <div class="fields">
            <LengthField
              label="Bag, length"
              value={pressing.bag.length}
              onChange={(length) => set('bag', 'Vacuum bag')({ ...BAG, ...pressing.bag, length })}
            />
            <LengthField
              label="Bag, width"
              value={pressing.bag.width}
              onChange={(width) => set('bag', 'Vacuum bag')({ ...BAG, ...pressing.bag, width })}
            />
          </div>
        )}
      </div>
    </details>
  );
}
