import { calledFace, otherFace } from '../../../job';
import { farDefects, farLetters, reaches } from '../../../layout';
import { formatLength } from '../../../units';
import { announce } from '../../announce';
import { useUnits } from '../../parts/job-context';
import { editedPath } from './edited-path';
import { letters } from './face-items';
import { sameCracks } from './far-face';
import { PointList } from './point-list';
import { checkTie, type TieCheck } from './tie';
import type { StockView, Tying } from './view';

/** The other face of the slab: tied to this one by two marks, its defects mirrored onto it, cracks that go through. */
export function OtherFace({ view }: { view: StockView }) {
  const place = view.place.value;
  const name = view.faceName.value;
  const tying = view.tying.value;
  // A leaf's two faces are one thin sheet: nothing ties them but its edge.
  if (!place || view.stock.value === 'boards') return null;
  const { slab } = place;
  if (tying?.slabId === slab.id) return <Tie view={view} tying={tying} />;
  const both = slab.faces.top.outline && slab.faces.bottom.outline;
  return (
    <section class="card stack" aria-labelledby="other-face">
      <h2 id="other-face">The other face</h2>
      {!both && (
        <p class="small soft">
          With both faces read, two holes drilled through the slab show where each defect of{' '}
          {calledFace(otherFace(name))} lies under this one.
        </p>
      )}
      {both && !slab.tie && (
        <p class="small">Tap the same two drilled holes on both faces: then its defects are shown here, mirrored.</p>
      )}
      {both && slab.tie && <Mirrored view={view} />}
      {both && (
        <div class="row">
          <button type="button" class="button" onClick={() => beginTie(view, slab.id)}>
            {slab.tie ? 'Tap the two marks again' : 'Tie the faces by two marks'}
          </button>
          {slab.tie && (
            <button
              type="button"
              class="button cut"
              onClick={() =>
                view.editSlab(slab.id, 'Untie the faces', (own) => {
                  own.tie = null;
                })
              }
            >
              Untie
            </button>
          )}
        </div>
      )}
    </section>
  );
}

function beginTie(view: StockView, slabId: string): void {
  const tie = view.place.peek()?.slab.tie;
  view.letGo();
  view.measuring.value = false;
  view.tying.value = {
    slabId,
    top: tie ? [...tie.top] : [],
    bottom: tie ? tie.bottom.map(([x, y]) => [x, y] as const) : [],
  };
}

/** What the other face shows here, and cracks that run at the same place on both. */
function Mirrored({ view }: { view: StockView }) {
  const slab = view.place.value?.slab;
  const name = view.faceName.value;
  const face = view.face.value;
  if (!slab || !face) return null;
  const far = farDefects(slab, name);
  const through = far.filter((defect) => defect.through).length;
  const unsaid = far.filter(reaches).length - through;
  const [own, theirs] = [letters(face), farLetters(slab, name)];
  return (
    <>
      <p class="small">
        {calledFace(otherFace(name)).replace(/^t/, 'T')} has {far.length === 1 ? 'one defect' : `${far.length} defects`}
        , {through === 0 ? 'none' : through} of them going through: dashed on the drawing. The layer “All defects of the
        other face” shows every one.
      </p>
      {unsaid > 0 && (
        <p class="small">
          Of {unsaid} to be kept off nobody said how deep {unsaid === 1 ? 'it goes' : 'they go'}: the plan keeps off{' '}
          {unsaid === 1 ? 'it' : 'them'} on this face, too, until you say that {unsaid === 1 ? 'it stops' : 'they stop'}{' '}
          short.
        </p>
      )}
      {sameCracks(face, far).map(({ near, far: other }) => (
        <div key={`${near.id}/${other.id}`} class="note stack">
          <p class="small">
            {near.kind} {own.get(near.id)} here and {other.kind} {theirs.get(other.id)} of {calledFace(otherFace(name))}{' '}
            run at the same place.
          </p>
          <button
            type="button"
            class="button"
            onClick={() => {
              view.editSlab(slab.id, `${near.kind} ${own.get(near.id)} goes through`, (draft) => {
                const [a, b] = [draft.faces[name].defects[near.id], draft.faces[otherFace(name)].defects[other.id]];
                if (a) a.through = true;
                if (b) b.through = true;
              });
              announce(`${near.kind} ${own.get(near.id)} goes through, on both faces.`);
            }}
          >
            It is one: through
          </button>
        </div>
      ))}
    </>
  );
}

/** Two marks being tapped on both faces, and the check of them. */
function Tie({ view, tying }: { view: StockView; tying: Tying }) {
  const slab = view.place.value?.slab;
  const name = view.faceName.value;
  const path = editedPath(view);
  if (!slab || !path) return null;
  const check = checkTie(slab, tying);
  const count = tying[name].length;
  const other = otherFace(name);
  const finished = count >= 2;
  return (
    <section class="card stack" aria-labelledby="tie-title">
      <h2 id="tie-title">Tie the faces</h2>
      <p role="status">
        {count === 0
          ? `Tap the first hole on ${calledFace(name)}.`
          : count === 1
            ? 'Tap the second hole.'
            : tying[other].length < 2
              ? `Both are set on ${calledFace(name)}. Now the same two, in the same order, on ${calledFace(other)}.`
              : 'Both are set on both faces.'}
      </p>
      {count > 0 && <PointList view={view} path={path} />}
      <div class="row">
        {!finished && (
          <button type="button" class="button" onClick={() => addMark(view, path.points.length, path.grow)}>
            Add a mark by number
          </button>
        )}
        <button
          type="button"
          class={`button${finished && tying[other].length < 2 ? ' main' : ''}`}
          onClick={() => turnOver(view)}
        >
          Turn to {calledFace(other)}
        </button>
      </div>
      <Checked view={view} tying={tying} check={check} />
      <button
        type="button"
        class="button"
        onClick={() => {
          view.tying.value = null;
          view.handle.value = null;
        }}
      >
        Leave
      </button>
    </section>
  );
}

/** A mark in the middle of the wood's length, then one further on: to be moved by keys or numbers. */
function addMark(view: StockView, count: number, grow: ((at: readonly [number, number]) => void) | undefined): void {
  const outer = view.face.peek()?.outline?.outer ?? [];
  const xs = outer.map(([x]) => x);
  const ys = outer.map(([, y]) => y);
  const [from, to] = [Math.min(...xs), Math.max(...xs)];
  const at = from + (to - from) * (count === 0 ? 0.25 : 0.75);
  grow?.([Math.round(at), Math.round((Math.min(...ys) + Math.max(...ys)) / 2)]);
}

/** Looks at the other face with the tie in hand. */
function turnOver(view: StockView): void {
  const slab = view.place.peek()?.slab;
  if (slab) view.look(slab.id, otherFace(view.faceName.peek()));
}

function Checked({ view, tying, check }: { view: StockView; tying: Tying; check: TieCheck }) {
  const units = useUnits();
  const length = (mm: number) => formatLength(mm, units, { decimals: 1, denominator: 16, unit: true });
  if (check.kind === 'more') return null;
  if (check.kind === 'near')
    return (
      <p class="note miss small" role="alert">
        <strong>The two marks lie too near to each other.</strong> Choose two holes near the ends of the slab.
      </p>
    );
  if (check.kind === 'apart')
    return (
      <p class="note miss small" role="alert">
        <strong>These are not the same two holes.</strong> They are {length(check.top)} apart on the top face and{' '}
        {length(check.bottom)} on the underside, and should agree within {length(check.allowed)}. Move a mark onto its
        hole, on either face.
      </p>
    );
  return (
    <>
      <p class="note measured small">The two distances agree within {length(check.off)}.</p>
      {check.swapped && (
        <div class="note miss stack" role="alert">
          <p class="small">
            <strong>The marks look swapped:</strong> so tied, the underside lies end for end under the top face.
          </p>
          <button
            type="button"
            class="button"
            onClick={() => {
              view.tying.value = { ...tying, bottom: [...tying.bottom].reverse() };
            }}
          >
            Swap them on the underside
          </button>
        </div>
      )}
      <button
        type="button"
        class="button main"
        onClick={() => {
          view.editSlab(tying.slabId, 'Tie the two faces', (own) => {
            own.tie = structuredClone(check.tie) as typeof own.tie;
          });
          view.tying.value = null;
          view.handle.value = null;
          announce('The faces are tied: the defects of the other one are shown dashed.');
        }}
      >
        Tie the faces
      </button>
    </>
  );
}
