import { centroid, type Point } from '../../../geometry';
import type { Handle, Item, XY } from '../../canvas/items';
import type { StockView } from './view';

/** The cross whose place is read out, and the two ends of a length that is measured: on the drawing, never in the job. */

const spotId = (k: number) => `spot#${k}`;
export const isSpot = (id: string) => id.startsWith('spot#');

/** Puts the cross at a place; while measuring, an end: the first, the second, then the nearer one. */
export function putSpot(view: StockView, at: Point<'face'>): void {
  const spots = view.spots.peek();
  const away = (spot: Point<'face'>) => Math.hypot(spot[0] - at[0], spot[1] - at[1]);
  const [a, b] = spots;
  const k = !view.measuring.peek() ? 0 : a && b ? (away(a) <= away(b) ? 0 : 1) : spots.length;
  view.spots.value = spots.length > k ? spots.map((spot, i) => (i === k ? at : spot)) : [...spots, at];
  view.hover.value = null;
  view.handle.value = spotId(k);
}

/** Moves the cross or an end. */
export function moveSpot(view: StockView, id: string, to: Point<'face'>): void {
  view.hover.value = null;
  view.spots.value = view.spots.peek().map((spot, k) => (spotId(k) === id ? to : spot));
}

/** Begins to measure from nothing, or leaves off. By keys the ends are put on the wood, to be moved by arrows. */
export function toggleMeasure(view: StockView, byKeys: boolean): void {
  view.handle.value = null;
  view.spots.value = [];
  view.measuring.value = !view.measuring.peek();
  if (!view.measuring.peek() || !byKeys) return;
  const [x, y] = middle(view);
  putSpot(view, [x + 200, y]);
  putSpot(view, [x - 200, y]);
}

/** Puts the cross into the middle of the wood, for those who move it by keys. */
export function centreSpot(view: StockView): void {
  putSpot(view, middle(view));
}

function middle(view: StockView): Point<'face'> {
  const outline = view.face.peek()?.outline;
  const [x, y] = outline ? centroid(outline.outer) : [0, 0];
  return [Math.round(x), Math.round(y)];
}

/** The cross or the two ends, the line between them. */
export function probeItems(view: StockView): Item[] {
  const spots = view.spots.value;
  const line: Item[] = spots.length > 1 ? [{ kind: 'line', id: 'measured', points: spots, pen: 'measured' }] : [];
  const names = view.measuring.value ? 'ab' : '';
  return [
    ...line,
    ...spots.map(
      (at: XY, k): Item => ({
        kind: 'spot',
        id: `probe-${k}`,
        at,
        pen: 'measured',
        ...(names[k] && { text: names[k] }),
      }),
    ),
  ];
}

export const probeHandles = (view: StockView): Handle[] => view.spots.value.map((at, k) => ({ id: spotId(k), at }));
