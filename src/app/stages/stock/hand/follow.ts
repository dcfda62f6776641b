import { distance } from '../../../../geometry';
import { formatLength } from '../../../../units';
import { announce } from '../../../announce';
import type { Grip } from '../../../canvas/gestures';
import type { XY } from '../../../canvas/items';
import { troubleOf } from '../../../parts/problem';
import type { Path } from '../path';
import type { StockView } from '../view';
import { edgeBetween } from './edge-line';
import { reshape, ringOf } from './outline';
import { nearestPlace, replaced } from './ring';

/** Half a finger, px: a point set this near to the outline joins it. */
const JOIN = 14;
/** A point that is set goes to an edge this near, px and at most mm. */
const SNAP = 14;
const SNAP_MM = 10;
/** While it is dragged, the line is kept up to here whenever it has grown so far, px. */
const KEPT = 60;

const snap = (perPx: number) => Math.min(SNAP_MM, SNAP * perPx);

/**
 * A line that follows the edge of the wood, from where it leaves the outline to where it joins it again: that stretch of the outline is then
 * replaced by it. Each point set on the outline joins; the first one begins.
 */
export async function setPoint(view: StockView, path: Path, at: XY, perPx: number): Promise<void> {
  const held = view.hand.following.peek();
  const near = nearestPlace(ringOf(path), at);
  if (!held) {
    begin(view, near.at);
    announce('The line begins on the outline.');
    return;
  }
  const start = held.line[0] as XY;
  const joins = near.off <= JOIN * perPx && distance<'face'>(near.at, start) > perPx;
  if (joins) await goOn(view, near.at, 0);
  else await goOn(view, at, snap(perPx));
  if (joins) finish(view, path);
}

/** Joins the outline at its place nearest to the line's end. */
export async function join(view: StockView, path: Path): Promise<void> {
  const end = view.hand.following.peek()?.line.at(-1);
  if (!end) return;
  await goOn(view, nearestPlace(ringOf(path), end).at, 0);
  finish(view, path);
}

/** Shows how the line would go on to a place. */
export function lookAhead(view: StockView, to: XY | null, perPx: number): void {
  const end = view.hand.following.peek()?.line.at(-1);
  if (!end || !to) {
    view.hand.ahead.value = null;
    return;
  }
  edgeBetween(view, end, to, { within: snap(perPx), must: false }).then(
    (ahead) => {
      if (ahead && view.hand.following.peek()?.line.at(-1) === end) view.hand.ahead.value = ahead;
    },
    (error: unknown) => tell(view, error),
  );
}

/** Takes the last point back; with the first one the line is gone. */
export function takeBack(view: StockView): void {
  const held = view.hand.following.peek();
  if (!held) return;
  const set = held.set.slice(0, -1);
  view.hand.ahead.value = null;
  view.hand.following.value = set.length === 0 ? null : { line: held.line.slice(0, set.at(-1)), set };
}

/** A press on the sheet: a tap sets a point, a drag leads the line along the edge. */
export function followGrip(view: StockView, path: Path, from: XY, perPx: number): Grip {
  let begun = false;
  return {
    drag: (to) => {
      if (!begun && !view.hand.following.peek()) begin(view, nearestPlace(ringOf(path), from).at);
      begun = true;
      const end = view.hand.following.peek()?.line.at(-1);
      if (end && distance<'face'>(end, to) > KEPT * perPx && !leading) void lead(view, to, perPx);
      else lookAhead(view, to, perPx);
    },
    drop: (to) => void setPoint(view, path, to, perPx),
    tap: (at) => void setPoint(view, path, at, perPx),
  };
}

let leading = false;

/** Keeps the line up to a place that the hand passed. */
async function lead(view: StockView, to: XY, perPx: number): Promise<void> {
  leading = true;
  await goOn(view, to, snap(perPx));
  leading = false;
}

function begin(view: StockView, at: XY): void {
  view.hand.following.value = { line: [at], set: [1] };
}

let turn: Promise<void> = Promise.resolve();

/** Carries the line on to a place; one place after the other, however quick the hand. */
function goOn(view: StockView, to: XY, within: number): Promise<void> {
  const start = view.hand.following.peek()?.line[0];
  // What was left meanwhile is not taken up again.
  const held = () => (view.hand.following.peek()?.line[0] === start ? view.hand.following.peek() : null);
  turn = turn.then(async () => {
    const end = held()?.line.at(-1);
    const more = end && (await edgeBetween(view, end, to, { within, must: true }));
    const now = held();
    if (!more || !now || now.line.at(-1) !== end) return;
    const line = [...now.line, ...more.slice(1)];
    view.hand.following.value = { line, set: [...now.set, line.length] };
    view.hand.ahead.value = null;
  });
  turn = turn.catch((error: unknown) => tell(view, error));
  return turn;
}

function finish(view: StockView, path: Path): void {
  const line = view.hand.following.peek()?.line ?? [];
  const [start, end] = [line[0], line.at(-1)];
  if (!start || !end || line.length < 2) return;
  const ring = ringOf(path);
  const length = line.slice(1).reduce((sum, p, i) => sum + distance<'face'>(line[i] as XY, p), 0);
  view.hand.letGo();
  reshape(view, path, 'Follow the edge', replaced(ring, nearestPlace(ring, start), line, nearestPlace(ring, end)));
  const { units } = view.store.job.peek();
  announce(
    `The line joins: ${formatLength(length, units, { decimals: 0, denominator: 16, unit: true })} of the outline follow the edge now.`,
  );
}

function tell(view: StockView, error: unknown): void {
  view.hand.ahead.value = null;
  view.trouble.value = { ...troubleOf(error), byHand: false };
}
