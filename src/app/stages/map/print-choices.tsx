import type { PaperName } from '../../../cutmap';
import type { Job } from '../../../job';
import { Choices } from '../../parts/choices';
import type { JobStore } from '../../store';
import type { MapMaker } from './map-maker';

const PAPERS: readonly (readonly [PaperName, string])[] = [
  ['A4', 'A4'],
  ['Letter', 'Letter'],
  ['A3', 'A3'],
  ['Tabloid', 'Tabloid'],
  ['Roll', 'Roll, 24 in'],
  ['Roll36', 'Roll, 36 in'],
];

type Printed = NonNullable<Job['printed']>;

const USUAL: Printed = { fraction: 32, both: false };
const FRACTIONS = [
  [32, 'to 1/32'],
  [16, 'to 1/16'],
] as const;

/** What the sheets are printed on, and how they give lengths. */
export function PrintChoices({ store, maker }: { store: JobStore; maker: MapMaker }) {
  const { units, printed = USUAL } = store.job.value;
  const own = units === 'mm' ? 'mm' : 'inches';
  const change = (by: Partial<Printed>) =>
    store.edit('How lengths are printed', (draft) => {
      draft.printed = { ...printed, ...by };
    });
  return (
    <>
      <Choices label="Paper" options={PAPERS} value={maker.paper.value} onChange={(next) => maker.choose(next)} />
      <Choices
        label="Lengths on the sheets"
        options={[
          ['one', own],
          ['both', units === 'mm' ? 'mm [inches]' : 'inches [mm]'],
        ]}
        value={printed.both ? 'both' : 'one'}
        onChange={(next) => change({ both: next === 'both' })}
      />
      {(units === 'in' || printed.both) && (
        <Choices
          label="Finest fraction of an inch"
          options={FRACTIONS}
          value={printed.fraction}
          onChange={(fraction) => change({ fraction })}
        />
      )}
    </>
  );
}
