import type { Drawing } from './drawing';
import type { XY } from './items';

/** What follows a press until it is let go, where the sheet would else be panned. Places are in the sheet's units. */
export interface Grip {
  drag(to: XY): void;
  drop(to: XY): void;
  /** It was let go without having moved. */
  tap(at: XY): void;
}

/** What a hand does on the sheet. Places are in the sheet's units; `perPx` is what one screen pixel measures there. */
export interface Hand {
  /** A handle was taken, by tap or drag. */
  choose(id: string): void;
  drag(id: string, to: XY): void;
  drop(id: string, to: XY): void;
  /** Takes hold of what is pressed, on a handle or not; null leaves the press to the handle, or to pan. */
  grab(at: XY, perPx: number, handle: string | null): Grip | null;
  /** A press came to nothing: a second finger came, or the browser took it. What was dragged goes back. */
  cancel(): void;
  /** An empty place was tapped. */
  tap(at: XY, perPx: number): void;
  /** A mouse or pen is over a place; null when it has left. A finger has no place until it taps. */
  hover(at: XY | null): void;
}

/** Shows the place under a finger beside it. Places are in px of the screen. */
export interface Lens {
  show(at: XY): void;
  hide(): void;
}

/** A finger hides what it touches, so it reaches further: half of the 44 px that every target has. */
const REACH = { mouse: 9, pen: 14, touch: 22 };
/** A press that moves less than this is a tap, px. */
const STILL = { mouse: 3, pen: 5, touch: 9 };

type PointerKind = keyof typeof REACH;

/** The middle button of a mouse moves the sheet, whatever the hand holds. */
const MIDDLE = 1;

/** What a press has hold of. */
interface Held {
  /** Where it went down, px. */
  readonly start: XY;
  /** From there to the middle of what it holds, px: nothing jumps under a finger. */
  readonly off: XY;
  readonly handle: string | null;
  readonly grip: Grip | null;
  moved: boolean;
}

/**
 * Pan, zoom, pinch, tap and drag by our own listeners: fabric hears no second finger. One finger on a handle drags it, one
 * on the sheet pans, two pinch.
 * @returns a function that lets go of the host
 */
export function listen(host: HTMLElement, drawing: () => Drawing | null, hand: () => Hand, lens: Lens): () => void {
  const down = new Map<number, XY>();
  let held: Held | null = null;

  const place = (event: PointerEvent | WheelEvent): XY => {
    const box = host.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const kind = (event: PointerEvent) => (event.pointerType in REACH ? event.pointerType : 'mouse') as PointerKind;
  const isFinger = (event: PointerEvent) =>
    event.pointerType === 'touch' || (event.pointerType === 'pen' && matchMedia('(pointer: coarse)').matches);
  const from = ([x, y]: XY, [dx, dy]: XY): XY => [x + dx, y + dy];

  /** Ends what is held without a trace. */
  function letGo() {
    if (held?.moved && (held.handle || held.grip)) hand().cancel();
    held = null;
    lens.hide();
  }

  function onDown(event: PointerEvent) {
    if (event.button !== 0 && event.button !== MIDDLE) return;
    const sheet = drawing();
    const at = place(event);
    down.set(event.pointerId, at);
    host.setPointerCapture(event.pointerId);
    // A second finger: this is a pinch after all.
    if (down.size > 1 || !sheet) return letGo();
    const near = event.button === MIDDLE ? null : sheet.handleNear(at, REACH[kind(event)]);
    const handle = near?.id ?? null;
    const grip = event.button === MIDDLE ? null : hand().grab(sheet.toSheet(at), 1 / sheet.zoom, handle);
    const middle = near ? sheet.toScreen(near.at) : at;
    held = { start: at, off: [middle[0] - at[0], middle[1] - at[1]], handle, grip, moved: event.button === MIDDLE };
    if (handle && !grip) hand().choose(handle);
    if (isFinger(event) && (handle || grip)) lens.show(middle);
  }

  function onMove(event: PointerEvent) {
    const before = down.get(event.pointerId);
    const sheet = drawing();
    if (sheet && event.pointerType !== 'touch') hand().hover(sheet.toSheet(place(event)));
    if (!before || !sheet) return;
    const at = place(event);
    if (held && !held.moved && distance(at, held.start) < STILL[kind(event)]) return;
    down.set(event.pointerId, at);
    const other = [...down].find(([id]) => id !== event.pointerId)?.[1];
    if (other) {
      const spread = (p: XY) => Math.max(1, distance(p, other));
      sheet.zoomBy(spread(at) / spread(before), [(before[0] + other[0]) / 2, (before[1] + other[1]) / 2]);
      sheet.panBy((at[0] - before[0]) / 2, (at[1] - before[1]) / 2);
      return;
    }
    if (!held?.handle && !held?.grip) sheet.panBy(at[0] - before[0], at[1] - before[1]);
    if (!held) return;
    held.moved = true;
    const to = from(at, held.off);
    if (held.grip) held.grip.drag(sheet.toSheet(to));
    else if (held.handle) hand().drag(held.handle, sheet.toSheet(to));
    if (isFinger(event) && (held.handle || held.grip)) lens.show(to);
  }

  function onUp(event: PointerEvent) {
    const sheet = drawing();
    if (!down.delete(event.pointerId) || !sheet || down.size > 0 || !held) return;
    const { grip, handle, moved, off, start } = held;
    held = null;
    lens.hide();
    const to = sheet.toSheet(from(place(event), off));
    if (moved) {
      if (grip) grip.drop(to);
      else if (handle) hand().drop(handle, to);
    } else if (grip) grip.tap(sheet.toSheet(start));
    else if (!handle) hand().tap(sheet.toSheet(start), 1 / sheet.zoom);
  }

  function onCancel(event: PointerEvent) {
    down.delete(event.pointerId);
    letGo();
  }

  function onWheel(event: WheelEvent) {
    event.preventDefault();
    const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
    drawing()?.zoomBy(Math.exp(-event.deltaY * lines * (event.ctrlKey ? 0.01 : 0.0015)), place(event));
  }

  const off = new AbortController();
  const { signal } = off;
  host.addEventListener('pointerdown', onDown, { signal });
  host.addEventListener('pointermove', onMove, { signal });
  host.addEventListener('pointerup', onUp, { signal });
  host.addEventListener('pointercancel', onCancel, { signal });
  host.addEventListener('pointerleave', () => hand().hover(null), { signal });
  host.addEventListener('wheel', onWheel, { signal, passive: false });
  return () => off.abort();
}

const distance = ([ax, ay]: XY, [bx, by]: XY): number => Math.hypot(bx - ax, by - ay);
