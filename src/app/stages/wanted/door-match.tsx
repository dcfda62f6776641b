import { ARRANGEMENTS, END_MATCHES } from '../../../job';
import { ChoiceField, NumberField, TextField, TickField } from '../../parts/fields';
import type { DoorEditing } from './door-editing';

const ARRANGED = {
  balanced: 'balanced: equal widths',
  centred: "centred on the figure's middle",
  'balanced and centred': 'balanced and centred: a joint in the middle',
  running: 'running: whole leaves, the last one cut',
} as const;
const ENDS = { book: 'book: row mirrors row', butt: 'butt: laid on as it is', alternating: 'leaf by leaf' } as const;

/** How the leaves of a front share its width and meet end to end, and what its grain goes on from. */
export function MatchFields({ door, edit }: DoorEditing) {
  const { ends } = door;
  return (
    <div class="stack">
      <div class="fields">
        <ChoiceField
          label="Widths"
          value={door.arrangement}
          options={ARRANGEMENTS.map((one) => [one, ARRANGED[one]] as const)}
          onChange={(arrangement) =>
            edit('Arrangement', (own) => {
              own.arrangement = arrangement;
            })
          }
        />
        <NumberField<true>
          optional
          whole
          least={1}
          most={32}
          label="Leaves abreast (as few as will do)"
          value={door.leaves}
          onChange={(leaves) =>
            edit('Leaves', (own) => {
              own.leaves = leaves;
            })
          }
        />
      </div>
      <TickField
        label="Leaves meet end to end, where it is taller than they are"
        value={ends !== null}
        onChange={(has) =>
          edit('End match', (own) => {
            own.ends = has ? { match: 'book', rows: 2 } : null;
          })
        }
      />
      {ends && (
        <div class="fields">
          <ChoiceField
            label="End match"
            value={ends.match}
            options={END_MATCHES.map((one) => [one, ENDS[one]] as const)}
            onChange={(match) =>
              edit('End match', (own) => {
                own.ends = { ...ends, match };
              })
            }
          />
          <NumberField
            whole
            least={2}
            most={4}
            label="Rows"
            value={ends.rows}
            onChange={(rows) =>
              edit('End match', (own) => {
                own.ends = { ...ends, rows };
              })
            }
          />
        </div>
      )}
      <div class="fields">
        <NameField
          label="Grain runs on with"
          value={door.run}
          onChange={(run) =>
            edit('Run', (own) => {
              own.run = run;
            })
          }
        />
        <NameField
          label="From one board with"
          value={door.flitch}
          onChange={(flitch) =>
            edit('Board', (own) => {
              own.flitch = flitch;
            })
          }
        />
      </div>
      <p class="small soft">
        Fronts with one name in the first field carry their grain on across the gaps: a pair mirrors about its meeting
        stile, fronts one above the other are cut from one length of leaf. One name in the second keeps them to one
        board.
      </p>
    </div>
  );
}

/** A name that joins fronts, or none. */
function NameField(props: { label: string; value: string | null; onChange(value: string | null): void }) {
  const { label, value, onChange } = props;
  return (
    <TextField optional label={label} value={value ?? ''} onChange={(text) => onChange(text === '' ? null : text)} />
  );
}
