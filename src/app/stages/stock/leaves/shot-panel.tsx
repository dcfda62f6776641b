import '../../../styles/leaves.css';
import { useState } from 'preact/hooks';
import type { Board } from '../../../../job';
import { LEAF_ORDERS, type LeafOrder } from '../../../../photo';
import { announce } from '../../../announce';
import { ChoiceField, NumberField } from '../../../parts/fields';
import type { StockView } from '../view';
import { inOrder, type LeafShot, placeAt, renumber } from './leaf-shots';

/** Change made to the board of a shot. */
export function editBoard(view: StockView, board: string, name: string, change: (own: Board) => void): void {
  view.store.edit(name, (draft) => {
    const own = draft.boards[board];
    if (own) change(own);
  });
}

/** Numbers the leaves of a shot in this order. */
export function setOrder(view: StockView, shot: LeafShot, ids: readonly string[]): void {
  editBoard(view, shot.board, 'Number the leaves', (board) => renumber(board, ids));
  announce('The leaves are numbered anew.');
}

/** The leaves of one photo and their numbers: as they lie, tapped in order, or one by one. */
export function ShotPanel({ view, shot }: { view: StockView; shot: LeafShot }) {
  const { leaves, face, board } = shot;
  const { tapped } = view;
  const [asRead, setAsRead] = useState<LeafOrder | ''>('');
  const ids = leaves.map(({ leaf }) => leaf.id);
  const swap = (i: number, k: number) => {
    const next = [...ids];
    [next[i], next[k]] = [next[k] as string, next[i] as string];
    setOrder(view, shot, next);
  };
  return (
    <div class="stack">
      <p>
        {leaves.length === 1 ? 'One leaf' : `${leaves.length} leaves`}, {face === 'top' ? 'outer' : 'inner'} faces up.
        Their numbers are their places in sawing order, from the outer face of the board.
      </p>
      {tapped.value ? (
        <section class="note stack" aria-label="Tap the leaves in order">
          <p>
            Tap the leaves in sawing order: {tapped.value.length} of {leaves.length}.
          </p>
          <p class="small soft">By keys: on the photo, N and P choose a leaf, Enter takes it as the next one.</p>
          <button
            type="button"
            class="button"
            onClick={() => {
              tapped.value = null;
            }}
          >
            Leave the numbers as they are
          </button>
        </section>
      ) : (
        <div class="row">
          <button
            type="button"
            class="button"
            onClick={() => {
              tapped.value = [];
            }}
          >
            Tap them in order
          </button>
          <button type="button" class="button" onClick={() => setOrder(view, shot, [...ids].reverse())}>
            Reverse the order
          </button>
        </div>
      )}
      <ChoiceField
        label="Numbered as they lie"
        value={asRead}
        options={[['', 'as below'], ...LEAF_ORDERS.map((order) => [order, order] as const)]}
        onChange={(order) => {
          setAsRead('');
          if (order !== '') setOrder(view, shot, inOrder(shot, order));
        }}
      />
      <ol class="list leaf-order">
        {leaves.map(({ leaf }, i) => (
          <li key={leaf.id} class="leaf-row">
            <NumberField
              whole
              inCell
              least={1}
              most={999}
              label={`Number of leaf ${leaf.place}`}
              value={leaf.place}
              onChange={(place) => editBoard(view, board, 'Number of a leaf', (own) => placeAt(own, leaf.id, place))}
            />
            <button
              type="button"
              class="button"
              aria-label={`Leaf ${leaf.place} earlier`}
              disabled={i === 0}
              onClick={() => swap(i, i - 1)}
            >
              ↑
            </button>
            <button
              type="button"
              class="button"
              aria-label={`Leaf ${leaf.place} later`}
              disabled={i === leaves.length - 1}
              onClick={() => swap(i, i + 1)}
            >
              ↓
            </button>
            <button type="button" class="button" onClick={() => view.lookAtBoards({ leaf: leaf.id, face })}>
              Look at it
            </button>
          </li>
        ))}
      </ol>
      <details>
        <summary>This photo</summary>
        <div class="stack">
          <div class="row">
            <button type="button" class="button" onClick={() => otherFaces(view, shot)}>
              These are the {face === 'top' ? 'inner' : 'outer'} faces
            </button>
            <button type="button" class="button cut" onClick={() => takeOut(view, shot)}>
              Take it out
            </button>
          </div>
          <p class="small soft">
            Taken out, the photo goes with what was read of these faces; a leaf of which nothing else is known goes with
            it.
          </p>
        </div>
      </details>
    </div>
  );
}

/** Outer and inner faces were taken for each other: what was read changes sides. */
function otherFaces(view: StockView, { board, face, file, leaves }: LeafShot): void {
  editBoard(view, board, 'Change the faces of leaves', (own) => {
    for (const { leaf } of leaves) {
      const faces = own.leaves[leaf.id]?.faces;
      if (faces) [faces.top, faces.bottom] = [faces.bottom, faces.top];
    }
  });
  const now = face === 'top' ? 'bottom' : 'top';
  view.lookAtBoards({ shot: { board, face: now, file }, face: now });
}

function takeOut(view: StockView, { board, face, leaves, file }: LeafShot): void {
  editBoard(view, board, 'Take out a photo of leaves', (own) => {
    for (const { leaf } of leaves) {
      const kept = own.leaves[leaf.id];
      const other = kept?.faces[face === 'top' ? 'bottom' : 'top'];
      if (!kept || !other) continue;
      const { photos } = kept.faces[face];
      for (const [id, photo] of Object.entries(photos)) if (photo.file === file) delete photos[id];
      kept.faces[face] = { ...emptyFaceOf(kept.faces[face]) };
      if (!other.outline) delete own.leaves[leaf.id];
    }
  });
  view.lookAtBoards();
}

const emptyFaceOf = (face: Board['leaves'][string]['faces']['top']) => ({
  ...face,
  outline: null,
  bark: null,
  picture: null,
  defects: {},
  hidden: [],
  sapwood: [],
  unseen: [],
});
