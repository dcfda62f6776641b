import { DEFECT_KINDS, type Defect } from '../../../job';
import { announce } from '../../announce';
import { newId } from '../../jobs';
import { ChoiceField, LengthField, TickField } from '../../parts/fields';
import { editedPath } from './edited-path';
import { letters } from './face-items';
import { xy } from './path';
import { PointList } from './point-list';
import type { StockView } from './view';

const KINDS = DEFECT_KINDS.map((kind) => [kind, kind] as const);
const PERMITS = [
  ['avoid', 'keep off it'],
  ['keyed', 'may stay if keyed'],
  ['allow', 'may show'],
] as const;

/** What a maker usually allows of each kind of defect, until told otherwise. */
const USUAL_PERMIT: Record<Defect['kind'], Defect['permit']> = {
  knot: 'allow',
  crack: 'keyed',
  void: 'avoid',
  'bark inclusion': 'avoid',
  shake: 'avoid',
  stain: 'allow',
  rot: 'avoid',
  pith: 'avoid',
};

/** Kinds that are drawn as a line with widths; the others are areas. */
const LINES: readonly Defect['kind'][] = ['crack', 'shake'];

/** The defects of the face: what the photo proposed, to accept, change or drop, and what is drawn by hand. */
export function DefectsPanel({ view }: { view: StockView }) {
  const face = view.face.value;
  if (view.drawn.value) return <Drawing view={view} />;
  if (!face) return null;
  const names = letters(face);
  const defects = Object.values(face.defects);
  const proposed = defects.filter(({ confidence }) => confidence !== undefined);
  return (
    <div class="stack">
      {proposed.length > 1 && (
        <div class="row">
          <span>{proposed.length} proposed by the photo.</span>
          <button
            type="button"
            class="button"
            onClick={() =>
              view.editFace('Accept all defects', (draft) => {
                for (const { id } of proposed) delete draft.defects[id]?.confidence;
              })
            }
          >
            Accept all
          </button>
        </div>
      )}
      {defects.length === 0 && <p class="soft">No defects marked on this face.</p>}
      <ul class="list">
        {defects.map((defect) => (
          <DefectRow key={defect.id} view={view} defect={defect} letter={names.get(defect.id) ?? ''} />
        ))}
      </ul>
      <div class="row">
        <button type="button" class="button" onClick={() => draw(view, 'crack')}>
          Draw a crack
        </button>
        <button type="button" class="button" onClick={() => draw(view, 'area')}>
          Draw a knot or void
        </button>
      </div>
    </div>
  );
}

function draw(view: StockView, shape: 'crack' | 'area'): void {
  view.handle.value = null;
  view.defectId.value = null;
  view.drawn.value = { shape, points: [], width: 2 };
}

function DefectRow({ view, defect, letter }: { view: StockView; defect: Defect; letter: string }) {
  const open = view.defectId.value === defect.id;
  const path = open ? editedPath(view) : null;
  const edit = (name: string, change: (own: Defect) => void) =>
    view.editFace(name, (face) => {
      const own = face.defects[defect.id];
      if (own) change(own);
    });
  const kinds = KINDS.filter(([kind]) => LINES.includes(kind) === (defect.line !== undefined));
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
            view.defectId.value = open ? null : defect.id;
          }}
        >
          <span class="hidden-text">{letter}: </span>
          {defect.kind}
          {defect.confidence !== undefined && <span class="soft small">proposed</span>}
        </button>
        <div class="row">
          {defect.confidence !== undefined && (
            <button
              type="button"
              class="button"
              aria-label={`Accept ${defect.kind} ${letter}`}
              onClick={() => edit(`Accept ${defect.kind} ${letter}`, (own) => delete own.confidence)}
            >
              ✓
            </button>
          )}
          <button
            type="button"
            class="button"
            aria-label={`Drop ${defect.kind} ${letter}`}
            onClick={() => {
              view.editFace(`Drop ${defect.kind} ${letter}`, (face) => {
                delete face.defects[defect.id];
              });
              announce(`Dropped: ${defect.kind} ${letter}. Undo brings it back.`);
            }}
          >
            ✕
          </button>
        </div>
      </div>
      {open && (
        <>
          <div class="fields">
            <ChoiceField
              label="What it is"
              value={defect.kind}
              options={kinds}
              onChange={(kind) =>
                edit(`Defect ${letter} is a ${kind}`, (own) => {
                  own.kind = kind;
                  delete own.confidence;
                })
              }
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
          </div>
          <TickField
            label="It goes through to the other face"
            value={defect.through ?? false}
            onChange={(through) =>
              edit(`Whether ${defect.kind} ${letter} goes through`, (own) => {
                own.through = through;
              })
            }
          />
          {path && <PointList view={view} path={path} />}
        </>
      )}
    </li>
  );
}

/** A defect while it is drawn: taps on the sheet, or points by number. */
function Drawing({ view }: { view: StockView }) {
  const drawn = view.drawn.value;
  const path = editedPath(view);
  if (!drawn || !path) return null;
  const crack = drawn.shape === 'crack';
  const least = crack ? 2 : 3;

  function finish() {
    if (!drawn) return;
    const id = newId();
    const kind: Defect['kind'] = crack ? 'crack' : 'knot';
    view.editFace(crack ? 'Draw a crack' : 'Draw a knot or void', (face) => {
      face.defects[id] = {
        id,
        kind,
        permit: USUAL_PERMIT[kind],
        ...(crack
          ? { line: drawn.points.map(([x, y, width = 0]): [number, number, number] => [x, y, width]) }
          : { polygon: drawn.points.map(xy) }),
      };
    });
    view.drawn.value = null;
    view.handle.value = null;
    view.defectId.value = id;
  }

  /** A first place in the middle of the wood, and each next one a step further, for those who type. */
  function addByNumber() {
    if (!drawn || !path) return;
    const last = drawn.points.at(-1);
    const outer = view.face.peek()?.outline?.outer ?? [[0, 0] as const];
    const middle = (axis: 0 | 1) => {
      const all = outer.map((p) => p[axis]);
      return Math.round((Math.min(...all) + Math.max(...all)) / 2);
    };
    const turn = drawn.points.length % 2 === 0 ? 0 : 50;
    const [x, y] = last ? [last[0] + 50, crack ? last[1] : last[1] + turn] : [middle(0), middle(1)];
    path.set('', [...drawn.points, crack ? [x, y, drawn.width] : [x, y]]);
  }

  return (
    <div class="stack">
      <h2>{crack ? 'Draw a crack' : 'Draw a knot or void'}</h2>
      <p class="small soft">
        {crack ? 'Tap along the crack, from one tip to the other.' : 'Tap around it.'} Or add points and type where they
        lie.
      </p>
      {crack && (
        <LengthField
          label="Width at the next place"
          sign="zero"
          finest={32}
          value={drawn.width}
          onChange={(width) => {
            view.drawn.value = { ...drawn, width };
          }}
        />
      )}
      {drawn.points.length > 0 && <PointList view={view} path={path} />}
      <div class="row">
        <button type="button" class="button" onClick={addByNumber}>
          Add a point
        </button>
        <button type="button" class="button main" disabled={drawn.points.length < least} onClick={finish}>
          Done
        </button>
        <button
          type="button"
          class="button"
          onClick={() => {
            view.drawn.value = null;
          }}
        >
          Leave
        </button>
      </div>
    </div>
  );
}
