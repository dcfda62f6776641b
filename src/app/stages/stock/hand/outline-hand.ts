import { distance } from '../../../../geometry';
import type { Grip } from '../../../canvas/gestures';
import type { Handle, XY } from '../../../canvas/items';
import { handleOf, type Path, placeOf } from '../path';
import { isSpot, moveSpot, probeHandles, putSpot } from '../probe';
import type { StockView } from '../view';
import { followGrip, join, lookAhead, setPoint, takeBack } from './follow';
import { nudged, readied } from './nudge';
import { chosenRun, keepChosen, reshape, ringOf } from './outline';
import { countOf, holds, nearestPlace, type Run } from './ring';
import { scribbleGrip, setEnd } from './scribble';
import { smoothAt } from './smooth';

/** Half a finger, px: how near to the edge a press must be to mean it. */
const REACH = 14;

type Keys = Record<string, (perPx: number) => void>;

/** What a tool does in the place of what the hand does on any face. */
interface ToolHand {
  onGrab?(at: XY, perPx: number, handle: string | null): Grip | null;
  onHover?(at: XY | null): void;
  onCancel?(): void;
  onDrop?(id: string, to: XY): void;
  /** Left out where the outline's points are to be seen. */
  handles?: readonly Handle[];
  keys: Keys;
  keysSay: string;
}

/** What the hand does with the tool that it holds on the outline: in the place of what it does on any face. */
export function outlineHand(view: StockView, path: Path): ToolHand | null {
  const tool = view.hand.tool.value;
  if (view.measuring.value) return null;
  if (tool === 'follow') return pencil(view, path, FOLLOW);
  if (tool === 'scribble') return pencil(view, path, SCRIBBLE);
  return tool === 'smooth' ? smoothHand(view, path) : pointsHand(view, path);
}

/** Keys by which a stretch of the outline is chosen. */
const runKeys = (view: StockView): Keys => ({ r: () => toggleStretch(view) });
const RUN_SAYS = 'R begins a stretch at the chosen point: it goes from there to the point that is chosen next.';

/** Begins a stretch at the chosen point, or lets it go. */
export function toggleStretch(view: StockView): void {
  const { anchor } = view.hand;
  anchor.value = anchor.peek() === null ? view.handle.peek() : null;
}

/** Moves the chosen point or stretch, its neighbours with it as far as they follow, as one step. */
export function nudge(view: StockView, path: Path, by: XY, run = chosenRun(view, path)): void {
  if (!run) return;
  const reach = view.hand.reach.peek();
  const ready = readied(ringOf(path), run, reach);
  path.set(stepName(path, run), nudged(ready.ring, ready.run, by, reach));
  keepChosen(view, path, run, ready.run);
}

const stepName = (path: Path, run: Run): string =>
  `Move a ${countOf(run, path.points.length) === 1 ? 'point' : 'stretch'} of the ${path.name}`;

function pointsHand(view: StockView, path: Path): ToolHand {
  return {
    onGrab: (at: XY, perPx: number, handle: string | null): Grip | null => {
      const place = placeOf(path, handle);
      const point = path.points[place];
      if (handle && point) {
        const run = chosenRun(view, path);
        const from: XY = [point[0], point[1]];
        return run && run.first !== run.last && holds(run, path.points.length, place)
          ? nudgeGrip(view, path, { from, run, choose: null })
          : nudgeGrip(view, path, { from, run: { first: place, last: place }, choose: handle });
      }
      if (handle || view.hand.reach.peek() === 0) return null;
      const near = nearestPlace(ringOf(path), at);
      return near.off <= REACH * perPx ? edgeGrip(view, path, at, near) : null;
    },
    /** A chosen point was moved by keys. */
    onDrop: (id: string, to: XY) => {
      const from = path.points[placeOf(path, id)];
      if (isSpot(id)) moveSpot(view, id, to);
      else if (from) nudge(view, path, [to[0] - from[0], to[1] - from[1]]);
    },
    keys: runKeys(view),
    keysSay: RUN_SAYS,
  };
}

/** Points of the outline in the hand, and the one that a tap chooses. */
interface InHand {
  readonly from: XY;
  readonly run: Run;
  readonly choose: string | null;
}

/** Drags points of the outline, their neighbours with them. A tap chooses the point that it is on. */
function nudgeGrip(view: StockView, path: Path, { from, run, choose }: InHand): Grip {
  const reach = view.hand.reach.peek();
  const ready = readied(ringOf(path), run, reach);
  const moved = ([x, y]: XY) => nudged(ready.ring, ready.run, [x - from[0], y - from[1]], reach);
  const take = () => {
    if (!choose) return;
    view.hand.anchor.value = null;
    view.handle.value = choose;
  };
  return {
    drag: (to) => {
      if (reach === 0) take();
      view.dragged.value = { key: path.key, points: moved(to) };
    },
    drop: (to) => {
      view.dragged.value = null;
      take();
      path.set(stepName(path, run), moved(to));
      keepChosen(view, path, run, ready.run);
    },
    tap: () => {
      if (choose) view.handle.value = choose;
    },
  };
}

/** The same from a place between two points, which becomes one. */
function edgeGrip(view: StockView, path: Path, from: XY, near: { edge: number; at: XY }): Grip {
  const ring = ringOf(path);
  const place = near.edge + 1;
  const more: Path = { ...path, points: [...ring.slice(0, place), near.at, ...ring.slice(place)] };
  const grip = nudgeGrip(view, more, { from, run: { first: place, last: place }, choose: handleOf(path, place) });
  return {
    ...grip,
    tap: () => {
      path.set(`Add a point to the ${path.name}`, [...more.points]);
      view.handle.value = handleOf(path, place);
    },
  };
}

function smoothHand(view: StockView, path: Path): ToolHand {
  const { hand } = view;
  return {
    onHover: (at: XY | null) => {
      view.hover.value = at;
      hand.brush.value = at;
    },
    onGrab: (at: XY, perPx: number, handle: string | null): Grip | null => {
      const ring = ringOf(path);
      const reach = Math.max(hand.bump.peek(), REACH * perPx);
      return nearestPlace(ring, at).off <= reach ? smoothGrip(view, path, at, handle) : null;
    },
    keys: runKeys(view),
    keysSay: RUN_SAYS,
  };
}

/** A brush that smooths the edge under it as it goes along. A tap chooses the point that it is on, or smooths there. */
function smoothGrip(view: StockView, path: Path, from: XY, handle: string | null): Grip {
  const bump = view.hand.bump.peek();
  let ring = ringOf(path);
  let last = from;
  const dab = (at: XY) => {
    ring = smoothAt(ring, at, bump) ?? ring;
    last = at;
  };
  const done = () => {
    view.hand.brush.value = null;
    reshape(view, path, `Smooth the ${path.name}`, ring);
  };
  return {
    drag: (to) => {
      view.hand.brush.value = to;
      // A quick hand leaves no gaps.
      const steps = Math.floor(distance<'face'>(last, to) / (bump / 2));
      const [x, y] = last;
      for (let k = 1; k <= steps; k++) dab([x + (k / steps) * (to[0] - x), y + (k / steps) * (to[1] - y)]);
      view.dragged.value = { key: path.key, points: ring };
    },
    drop: (to) => {
      dab(to);
      done();
    },
    tap: (at) => {
      if (handle) view.handle.value = handle;
      else {
        dab(at);
        done();
      }
    },
  };
}

/** A tool that draws on the sheet: with a finger or a mouse by pressing, with keys by a cross. */
interface Pencil {
  grip(view: StockView, path: Path, at: XY, perPx: number): Grip;
  /** Enter at the cross. */
  set(view: StockView, path: Path, at: XY, perPx: number): void;
  ahead(view: StockView, to: XY | null, perPx: number): void;
  /** Drops what is half done. @returns whether there was anything */
  drop(view: StockView): boolean;
  keys(view: StockView, path: Path): Keys;
  says: string;
}

const FOLLOW: Pencil = {
  grip: followGrip,
  set: (view, path, at, perPx) => void setPoint(view, path, at, perPx),
  ahead: lookAhead,
  drop: ({ hand }) => {
    const had = hand.following.peek() !== null;
    hand.letGo();
    return had;
  },
  keys: (view, path) => ({ j: () => void join(view, path), Backspace: () => takeBack(view) }),
  says: 'The first point begins on the outline, one set on the outline joins it; J joins at the nearest place, Backspace takes a point back.',
};

const SCRIBBLE: Pencil = {
  grip: (view, _path, at, perPx) => scribbleGrip(view, at, perPx),
  set: (view, _path, at) => setEnd(view, at),
  ahead: ({ hand }, to) => {
    const from = hand.drawn.peek()?.[0];
    hand.ahead.value = from && to && hand.drawn.peek()?.length === 1 ? [from, to] : null;
  },
  drop: ({ hand }) => {
    const had = hand.drawn.peek() !== null;
    hand.letGo();
    return had;
  },
  keys: ({ hand }) => ({
    w: () => {
      hand.kind.value = hand.kind.peek() === 'wood' ? 'not wood' : 'wood';
    },
  }),
  says: 'The first point begins a stroke, the second ends it; W changes between wood and not wood.',
};

function pencil(view: StockView, path: Path, tool: Pencil): ToolHand {
  let scale = 1;
  const cross = () => view.spots.peek()[0];
  return {
    handles: probeHandles(view),
    onHover: (at: XY | null) => {
      view.hover.value = at;
      tool.ahead(view, at, scale);
    },
    onGrab: (at: XY, perPx: number): Grip => {
      scale = perPx;
      view.spots.value = [];
      return tool.grip(view, path, at, perPx);
    },
    onCancel: () => {
      tool.drop(view);
    },
    onDrop: (id: string, to: XY) => {
      if (!isSpot(id)) return;
      moveSpot(view, id, to);
      tool.ahead(view, to, scale);
    },
    keys: {
      ...tool.keys(view, path),
      Enter: (perPx: number) => {
        scale = perPx;
        const at = cross();
        if (at) tool.set(view, path, at, perPx);
        else putSpot(view, startOf(view, path));
      },
      Escape: () => {
        if (!tool.drop(view)) view.hand.take('points');
        view.spots.value = [];
      },
    } satisfies Keys,
    keysSay: `Enter puts a cross on the edge; arrow keys move it, with Shift ten times as far; Enter then sets a point at it, Escape leaves. ${tool.says}`,
  };
}

/** Where the cross begins: at the chosen point, else at the outline's first. */
function startOf(view: StockView, path: Path): XY {
  const [x, y] = path.points[Math.max(0, placeOf(path, view.handle.peek()))] ?? [0, 0];
  return [x, y];
}
