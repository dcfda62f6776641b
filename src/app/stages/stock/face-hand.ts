import type { XY } from '../../canvas/items';
import { settle, turnTo } from './defect-review';
import { defectAt } from './face-items';
import { handleOf, moved, type Path, placeOf, withOneAt, without } from './path';
import { centreSpot, isSpot, moveSpot, putSpot, toggleMeasure } from './probe';
import type { StockView } from './view';

/** Half a finger, px: how near to an edge or a letter a tap must be to mean it. */
const REACH = 14;

/** What the hand does on a face: its taps, drags and keys go to the cross, the edited path, or the defect under them. */
export function faceHand(view: StockView, path: Path | null) {
  const drop = (id: string, to: XY) => {
    if (isSpot(id)) moveSpot(view, id, to);
    else if (path) path.set(`Move a point of the ${path.name}`, moved(path.points, placeOf(path, id), to));
  };
  return {
    onChoose: (id: string | null) => {
      view.handle.value = id;
    },
    onHover: (at: XY | null) => {
      view.hover.value = at;
    },
    onDrag: (id: string, to: XY) => {
      if (isSpot(id)) moveSpot(view, id, to);
      else if (path) view.dragged.value = { key: path.key, points: moved(path.points, placeOf(path, id), to) };
    },
    onDrop: (id: string, to: XY) => {
      view.dragged.value = null;
      drop(id, to);
    },
    onTap: (at: XY, perPx: number) => tap(view, path, at, perPx),
    onDelete: (id: string) => {
      if (isSpot(id)) view.spots.value = [];
      else if (path && path.points.length > path.least)
        path.set(`Take out a point of the ${path.name}`, without(path.points, placeOf(path, id)));
    },
    ...faceKeys(view, path),
  };
}

/** A tap that took no point: on a letter it chooses the defect, on a path it adds a point, elsewhere it puts the cross. */
function tap(view: StockView, path: Path | null, at: XY, perPx: number): void {
  if (view.measuring.peek()) {
    putSpot(view, at);
    return;
  }
  if (path?.grow) {
    path.grow(at);
    return;
  }
  const face = view.face.peek();
  const panel = view.panel.peek();
  const defect = face && (panel === 'defects' || panel === 'layers') ? defectAt(face, at, REACH * perPx) : null;
  const put = path && withOneAt(path.points, path.closed, at, REACH * perPx);
  // The edge of what is being edited comes before the letter of another.
  if (path && put && (!defect || defect === view.defectId.peek())) {
    path.set(`Add a point to the ${path.name}`, put.points);
    view.handle.value = handleOf(path, put.place);
    return;
  }
  if (!defect) {
    putSpot(view, at);
    return;
  }
  if (panel !== 'defects') view.open('defects');
  view.mending.value = false;
  view.defectId.value = defect;
}

/** The keys of the face in view, and what they do in words. */
function faceKeys(view: StockView, path: Path | null) {
  const keys: Record<string, () => void> = {
    x: () => centreSpot(view),
    m: () => toggleMeasure(view, true),
  };
  const says = 'X puts a cross on the wood whose place is read out, M measures between two crosses.';
  if (view.panel.value !== 'defects' || path || view.measuring.value) return { keys, keysSay: says };
  const id = view.defectId.value;
  Object.assign(keys, { n: () => turnTo(view, 1), p: () => turnTo(view, -1) });
  if (id) Object.assign(keys, { a: () => settle(view, id, 'accept'), d: () => settle(view, id, 'drop') });
  return { keys, keysSay: `${says} N and P go to the next and previous proposed defect, A accepts it, D drops it.` };
}
