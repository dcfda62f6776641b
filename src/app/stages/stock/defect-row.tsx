import { DEFECT_KINDS, type Defect } from '../../../job';
import { Choices } from '../../parts/choices';
import { ChoiceField } from '../../parts/fields';
import { recast, settle, sureness } from './defect-review';
import { editedPath } from './edited-path';
import { PointList } from './point-list';
import type { StockView } from './view';

const PERMITS = [
  ['avoid', 'keep off it'],
  ['keyed', 'may stay if keyed'],
  ['allow', 'may show'],
] as const;

const THROUGH = [
  ['unknown', 'not known'],
  ['yes', 'yes'],
  ['no', 'no'],
] as const;

/** Kinds that are drawn as a line with widths; the others are areas. */
const LINES: readonly Defect['kind'][] = ['crack', 'shake'];

/** One defect: what it is, and, opened, all that can be changed about it. */
export function DefectRow({ view, defect, letter }: { view: StockView; defect: Defect; letter: string }) {
  const open = view.defectId.value === defect.id;
  const how = sureness(defect);
  const path = open ? editedPath(view) : null;
  const edit = (name: string, change: (own: Defect) => void) =>
    view.editFace(name, (face) => {
      const own = face.defects[defect.id];
      if (own) change(own);
    });
  return (
    <li class={`card stack${open ? ' chosen' : ''}`}>
      <div class="list-row">
        <span class="letter" aria-hidden="true">
          {letter}
        </span>
        <button
          type="button"
          class="button quiet"
          aria-expanded={open}
          onClick={() => {
            view.handle.value = null;
            view.mending.value = false;
            view.defectId.value = open ? null : defect.id;
          }}
        >
          <span class="hidden-text">{letter}: </span>
          {defect.kind}
          {how && <span class="soft small">{how}</span>}
        </button>
        <div class="row">
          {how && (
            <button
              type="button"
              class="button"
              aria-label={`Accept ${defect.kind} ${letter}`}
              onClick={() => settle(view, defect.id, 'accept')}
            >
              ✓
            </button>
          )}
          <button
            type="button"
            class="button"
            aria-label={`Drop ${defect.kind} ${letter}`}
            onClick={() => settle(view, defect.id, 'drop')}
          >
            ✕
          </button>
        </div>
      </div>
      {open && (
        <>
          <Choices
            label={`What ${letter} is`}
            options={DEFECT_KINDS.filter((kind) => LINES.includes(kind) === (defect.line !== undefined)).map(
              (kind) => [kind, kind] as const,
            )}
            value={defect.kind}
            onChange={(kind) => recast(view, defect.id, kind)}
          />
          <ChoiceField
            label="In the work it"
            value={defect.permit}
            options={PERMITS}
            onChange={(permit) =>
              edit(`What ${defect.kind} ${letter} permits`, (own) => {
                own.permit = permit;
              })
            }
          />
          <ChoiceField
            label="Goes through to the other face"
            value={defect.through === undefined ? 'unknown' : defect.through ? 'yes' : 'no'}
            options={THROUGH}
            onChange={(through) =>
              edit(`Whether ${defect.kind} ${letter} goes through`, (own) => {
                if (through === 'unknown') delete own.through;
                else own.through = through === 'yes';
              })
            }
          />
          {path ? (
            <PointList view={view} path={path} />
          ) : (
            <button
              type="button"
              class="button"
              onClick={() => {
                view.mending.value = true;
              }}
            >
              Mend its shape
            </button>
          )}
        </>
      )}
    </li>
  );
}
