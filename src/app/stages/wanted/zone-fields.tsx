import type { Polygon } from '../../../geometry';
import type { Top } from '../../../job';
import { newId } from '../../jobs';
import { LengthField, TextField, TickField } from '../../parts/fields';
import type { TopEditor } from './edit-top';
import {
  intoBox,
  KEEP,
  newZone,
  ZONE_KINDS,
  ZONE_NAMES,
  ZONE_SAYS,
  type Zone,
  type ZoneBox,
  zoneBox,
  zonesOf,
} from './zones';

/** The parts of a top that are hidden, that no seam may run through, or that are cut out. The drawing moves them by hand; here they are typed. */
export function ZoneFields({ top, editor }: { top: Top; editor: TopEditor }) {
  const { edit } = editor;
  const add = (kind: Zone['kind']) =>
    edit(`Add a ${ZONE_NAMES[kind]}`, (own) => {
      const [id, polygon] = [newId(), newZone(own, kind)];
      if (kind === 'cutOuts') own.cutOuts[id] = { id, name: 'Sink', polygon, keep: KEEP, seam: false };
      else own[kind][id] = { id, polygon };
    });
  return (
    <div class="stack">
      {zonesOf(top).map((zone) => (
        <ZoneCard key={zone.id} top={top} zone={zone} editor={editor} />
      ))}
      <div class="row">
        {ZONE_KINDS.map((kind) => (
          <button key={kind} type="button" class="button" onClick={() => add(kind)}>
            Add a {ZONE_NAMES[kind]}
          </button>
        ))}
      </div>
    </div>
  );
}

const SIDES = [
  ['left', 'From the left-hand end', 'any'],
  ['front', 'From the front', 'any'],
  ['long', 'Its length', 'positive'],
  ['deep', 'Its depth', 'positive'],
] as const;

function ZoneCard({ top, zone: { kind, id, polygon }, editor: { edit } }: { top: Top; zone: Zone; editor: TopEditor }) {
  const box = zoneBox(top, polygon);
  const hole = kind === 'cutOuts' ? top.cutOuts[id] : undefined;
  const moveTo = (next: ZoneBox) =>
    edit(`Move a ${ZONE_NAMES[kind]}`, (own) => {
      const zone = own[kind][id];
      if (zone) zone.polygon = intoBox(own, polygon, next) as Polygon<'top'>;
    });
  const change = (name: string, how: (own: Top['cutOuts'][string]) => void) =>
    edit(name, (own) => {
      const zone = own.cutOuts[id];
      if (zone) how(zone);
    });
  return (
    <fieldset class="group">
      <legend>{hole ? hole.name : ZONE_NAMES[kind]}</legend>
      <p class="small soft">{ZONE_SAYS[kind]}</p>
      <div class="fields">
        {hole && (
          <TextField
            label="For"
            value={hole.name}
            onChange={(name) =>
              change('Name', (own) => {
                own.name = name;
              })
            }
          />
        )}
        {SIDES.map(([side, label, sign]) => (
          <LengthField
            key={side}
            label={label}
            sign={sign}
            value={box[side]}
            onChange={(next) => moveTo({ ...box, [side]: next })}
          />
        ))}
        {hole && (
          <LengthField
            label="Wood kept beside it"
            sign="zero"
            value={hole.keep}
            onChange={(keep) =>
              change('Wood beside a hole', (own) => {
                own.keep = keep;
              })
            }
          />
        )}
      </div>
      {hole && (
        <TickField
          label="A seam may run through it"
          value={hole.seam}
          onChange={(seam) =>
            change('Seam through a hole', (own) => {
              own.seam = seam;
            })
          }
        />
      )}
      <button
        type="button"
        class="button cut"
        onClick={() =>
          edit(`Take out a ${ZONE_NAMES[kind]}`, (own) => {
            delete own[kind][id];
          })
        }
      >
        Take it out
      </button>
    </fieldset>
  );
}
