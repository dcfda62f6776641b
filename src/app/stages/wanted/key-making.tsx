import { DEFAULT_KEY_FIT, DEFAULT_RESIN, type KeyFit, type Resin } from '../../../job';
import { LengthField, NumberField } from '../../parts/fields';
import type { JobStore } from '../../store';

/** What else the router for keys has, how a key sits in its pocket, and what fills a crack: fields that may stay empty are not reckoned with. */
export function KeyMaking({ store }: { store: JobStore }) {
  const { router, keyFit = DEFAULT_KEY_FIT, resin = DEFAULT_RESIN } = store.job.value.shop;
  const tool = (key: 'collar' | 'reach', value: number | null) =>
    store.edit('Router for keys', ({ shop }) => {
      if (value === null) delete shop.router[key];
      else shop.router[key] = value;
    });
  const seat = (change: Partial<KeyFit>) =>
    store.edit('Fit of keys', ({ shop }) => {
      shop.keyFit = { ...keyFit, ...change };
    });
  const fill = (change: Partial<Resin>) =>
    store.edit('Resin', ({ shop }) => {
      shop.resin = { ...resin, ...change };
    });
  return (
    <div class="fields">
      <LengthField
        label="Collar on the bushing"
        optional
        finest={32}
        value={router.collar ?? null}
        onChange={(collar) => tool('collar', collar)}
      />
      <LengthField
        label="Bit reaches under the template"
        optional
        finest={32}
        value={router.reach ?? null}
        onChange={(reach) => tool('reach', reach)}
      />
      <NumberField
        label="Glue gap on every side of a key"
        unit="mm"
        sign="zero"
        most={1}
        value={keyFit.gap}
        onChange={(gap) => seat({ gap })}
      />
      <NumberField
        label="Sides of a key lean out by"
        unit="°"
        sign="zero"
        most={5}
        value={keyFit.taperDegrees}
        onChange={(taperDegrees) => seat({ taperDegrees })}
      />
      <NumberField
        label="Resin over what a crack holds"
        unit="%"
        sign="zero"
        most={200}
        value={Math.round((resin.allowance - 1) * 1000) / 10}
        onChange={(over) => fill({ allowance: 1 + over / 100 })}
      />
      <LengthField
        label="Deepest pour that the resin's maker allows"
        optional
        finest={32}
        value={resin.pour}
        onChange={(pour) => fill({ pour })}
      />
    </div>
  );
}
