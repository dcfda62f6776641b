import type { Shop } from '../../../job';
import { LengthField, NumberField } from '../../parts/fields';
import type { JobStore } from '../../store';

type Resaw = Shop['resaw'];

/** What else is known of the resaw: fields that stay empty are not reckoned with. */
export function ResawFields({ store }: { store: JobStore }) {
  const { height = null, backAllowance, faceAllowance, drift, spareLeaves = 1 } = store.job.value.shop.resaw;
  const set = (what: string, change: (resaw: Resaw) => void) => store.edit(what, ({ shop }) => change(shop.resaw));
  const setDrift = (part: Partial<NonNullable<Resaw['drift']>>) =>
    set('Drift of the blade', (resaw) => {
      resaw.drift = { per100: 0, tolerance: 0, ...drift, ...part };
    });
  return (
    <div class="fields">
      <LengthField
        label="Tallest board under the guides"
        optional
        value={height}
        onChange={(mm) =>
          set('Height of the resaw', (resaw) => {
            resaw.height = mm;
          })
        }
      />
      <LengthField
        label="Off the back, where it is used"
        sign="zero"
        finest={32}
        value={backAllowance ?? faceAllowance}
        onChange={(mm) =>
          set('Off the back', (resaw) => {
            resaw.backAllowance = mm;
          })
        }
      />
      <LengthField
        label="Blade wanders, over 100 of height"
        sign="zero"
        finest={32}
        decimals={2}
        value={drift?.per100 ?? 0}
        onChange={(per100) => setDrift({ per100 })}
      />
      <LengthField
        label="of which sanding evens out"
        sign="zero"
        finest={32}
        decimals={2}
        value={drift?.tolerance ?? 0}
        onChange={(tolerance) => setDrift({ tolerance })}
      />
      <NumberField
        label="Leaves to spare"
        whole
        sign="zero"
        most={50}
        value={spareLeaves}
        onChange={(count) =>
          set('Leaves to spare', (resaw) => {
            resaw.spareLeaves = count;
          })
        }
      />
    </div>
  );
}
