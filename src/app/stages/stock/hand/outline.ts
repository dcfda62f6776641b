import { handleOf, type Path, placeOf, xy } from '../path';
import type { StockView } from '../view';
import { type Ring, type Run, runBetween } from './ring';

/** The ring of the outline that the hand tools work on, and its chosen points. */

/** The ring as plain points. */
export const ringOf = (path: Path): Ring => path.points.map(xy);

/** The chosen point, or the stretch from where it was begun to there; null with no point chosen. */
export function chosenRun(view: StockView, path: Path): Run | null {
  const last = placeOf(path, view.handle.value);
  const first = placeOf(path, view.hand.anchor.value);
  if (last < 0) return null;
  return first < 0 || first === last ? { first: last, last } : runBetween(ringOf(path), first, last);
}

/** Puts an outline in the place of the one that is edited, as one step. The chosen points are let go where it has others. */
export function reshape(view: StockView, path: Path, step: string, ring: Ring): void {
  path.set(step, [...ring]);
  view.dragged.value = null;
  if (ring.length === path.points.length) return;
  view.hand.anchor.value = null;
  view.handle.value = null;
}

/** Moves a run of the outline by keys or hand; the run stays chosen though its points are counted anew. */
export function keepChosen(view: StockView, path: Path, before: Run, after: Run): void {
  const moved = (place: number) => (place === before.first ? after.first : after.last);
  const last = placeOf(path, view.handle.peek());
  const first = placeOf(path, view.hand.anchor.peek());
  view.handle.value = handleOf(path, moved(last));
  if (first >= 0) view.hand.anchor.value = handleOf(path, moved(first));
}
