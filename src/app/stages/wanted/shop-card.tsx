import type { Shop } from '../../../job';
import type { UnitSystem } from '../../../units';
import { LengthField, NumberField, TickField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';
import { KeyMaking } from './key-making';
import { ResawFields } from './resaw-fields';
import { SawNames } from './saw-names';
import { SiteAir } from './site-air';
import { WayIn } from './way-in';

/** A figure of the shop: the object that it stands in, its key there, and how it is typed. */
interface Figure {
  label: string;
  of(shop: Shop): Record<string, unknown>;
  key: string;
  /** May be zero. */
  zero: boolean;
  /** A length; else a number in this unit, stored as a share of `whole`; or by the job's units, each with its own whole. */
  unit?: string | Record<UnitSystem, readonly [unit: string, whole: number]>;
  whole?: number;
  most?: number;
}

const N_PER_LBF = 4.4482216152605;

type NumberKey<T> = { [K in keyof T]: T[K] extends number ? K : never }[keyof T] & string;

/** A figure whose key is known to hold a number. */
function figure<T extends object>(
  label: string,
  of: (shop: Shop) => T,
  key: NumberKey<T>,
  rest: Partial<Figure> = {},
): Figure {
  return { label, of: of as Figure['of'], key, zero: true, ...rest };
}

const SAW = 'Saw';
const KEYS = 'Router for key pockets';
const RESAW = 'Resaw';

const GROUPS: readonly (readonly [title: string, figures: readonly Figure[]])[] = [
  [
    SAW,
    [
      figure('Kerf of a crosscut', ({ kerf }) => kerf, 'crosscut'),
      figure('Kerf of a rip', ({ kerf }) => kerf, 'rip'),
      figure('Kerf on the flat blank: joints and trims', ({ kerf }) => kerf, 'fine'),
      figure('Rough length, over at each end', (shop) => shop, 'endAllowance'),
      figure('Rough rip, wide of a joint', (shop) => shop, 'jointAllowance'),
    ],
  ],
  [
    'Thickness kept back, both faces together',
    [
      figure('Second flattening', ({ reserve }) => reserve, 'second'),
      figure('Levelling after glue-up', ({ reserve }) => reserve, 'level'),
      figure('Sanding', (shop) => shop, 'sanding'),
    ],
  ],
  [
    'Router sled',
    [
      figure('Surfacing bit', ({ sled }) => sled, 'bit', { zero: false }),
      figure('Depth of a pass', ({ sled }) => sled, 'depth', { zero: false }),
      figure('Stepover', ({ sled }) => sled, 'stepover', { zero: false, unit: '% of the bit', whole: 100, most: 100 }),
      figure('Feed in a second', ({ sled }) => sled, 'feed', { zero: false }),
      figure('Bit reaches down to, over the bench', ({ sled }) => sled, 'lowest'),
    ],
  ],
  [
    KEYS,
    [
      figure('Guide bushing', ({ router }) => router, 'bushing', { zero: false }),
      figure('Bit', ({ router }) => router, 'bit', { zero: false }),
    ],
  ],
  [
    RESAW,
    [
      figure('Kerf', ({ resaw }) => resaw, 'kerf'),
      figure('Dressing between cuts', ({ resaw }) => resaw, 'dressing'),
      figure('Off the outer face', ({ resaw }) => resaw, 'faceAllowance'),
      figure('Last piece, at least', ({ resaw }) => resaw, 'lastPiece'),
      figure('Finished leaf', ({ resaw }) => resaw.leaf, 'thickness', { zero: false }),
      figure('Sanding of a leaf', ({ resaw }) => resaw.leaf, 'sanding'),
    ],
  ],
  [
    'Site',
    [
      figure('Moisture that the wood comes to', (shop) => shop, 'siteMoisture', { unit: '%', whole: 1, most: 300 }),
      figure('Swing over the year, to either side', (shop) => shop, 'seasonSwing', { unit: '%', whole: 1, most: 20 }),
    ],
  ],
  [
    'Gluing and fixing',
    [
      figure('One clamp presses with', (shop) => shop, 'clampForce', {
        zero: false,
        unit: { mm: ['N', 1], in: ['lbf', 1 / N_PER_LBF] },
      }),
      figure('Screws that hold a top', (shop) => shop, 'screw', { zero: false }),
    ],
  ],
];

/** The shop's allowances. Every one has a default of common practice, and is the user's to change. */
export function ShopCard({ store }: { store: JobStore }) {
  return (
    <div class="stack">
      {GROUPS.map(([title, figures]) => (
        <fieldset key={title} class="card group">
          <legend>{title}</legend>
          <div class="fields">
            {figures.map((one) => (
              <FigureField key={one.label} store={store} figure={one} />
            ))}
          </div>
          {title === SAW && <SawNames store={store} />}
          {title === KEYS && <KeyMaking store={store} />}
          {title === RESAW && <ResawFields store={store} />}
          {title === 'Site' && <SiteAir store={store} />}
          {title === 'Site' && <WayIn store={store} />}
        </fieldset>
      ))}
      <fieldset class="card group">
        <legend>Job files that are handed on</legend>
        <TickField
          label="Photos in them tell where they were taken"
          value={store.job.value.shop.tellPlace ?? false}
          onChange={(tells) =>
            store.edit('Whether photos tell their place', ({ shop }) => {
              shop.tellPlace = tells;
            })
          }
        />
      </fieldset>
    </div>
  );
}

function FigureField({
  store,
  figure: { label, of, key, zero, unit: given, whole: part = 1, most = Infinity },
}: {
  store: JobStore;
  figure: Figure;
}) {
  const units = useUnits();
  const [unit, whole] = typeof given === 'object' ? given[units] : [given, part];
  const value = of(store.job.value.shop)[key] as number;
  const sign = zero ? 'zero' : 'positive';
  const set = (next: number) =>
    store.edit(label, ({ shop }) => {
      of(shop)[key] = next / whole;
    });
  return unit === undefined ? (
    <LengthField label={label} sign={sign} finest={32} value={value} onChange={set} />
  ) : (
    <NumberField
      label={label}
      unit={unit}
      sign={sign}
      most={most}
      value={Math.round(value * whole * 1000) / 1000}
      onChange={set}
    />
  );
}
