import type { Drawing } from './drawing';
import type { XY } from './items';

/** What a hand does on the sheet. Places are in the sheet's units. */
export interface Hand {
  /** A handle was taken, by tap or drag; null when the empty sheet was tapped. */
  choose(id: string | null): void;
  drag(id: string, to: XY): void;
  drop(id: string, to: XY): void;
  /** An empty place was tapped; `perPx` is what one screen pixel measures there. */
  tap(at: XY, perPx: number): void;
  /** A mouse or pen is over a place; null when it has left. A finger has no place until it taps. */
  hover(at: XY | null): void;
}

/** A finger hides what it touches, so it reaches further: half of the 44 px that every target has. */
const REACH = { mouse: 9, pen: 14, touch: 22 };
/** A press that moves less than this is a tap, px. */
const STILL = { mouse: 3, pen: 5, touch: 9 };

type PointerKind = keyof typeof REACH;

/**
 * Pan, zoom, pinch, tap and drag by our own listeners: fabric hears no second finger. One finger on a handle drags it, one
 * on the sheet pans, two pinch.
 * @returns a function that lets go of the host
 */
export function listen(host: HTMLElement, drawing: () => Drawing | null, hand: () => Hand): () => void {
  const down = new Map<number, XY>();
  let held: string | null = null;
  let start: XY | null = null;
  let moved = false;

  const place = (event: PointerEvent | WheelEvent): XY => {
    const box = host.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const kind = (event: PointerEvent) => (event.pointerType in REACH ? event.pointerType : 'mouse') as PointerKind;

  function onDown(event: PointerEvent) {
    if (event.button !== 0) return;
    const at = place(event);
    down.set(event.pointerId, at);
    host.setPointerCapture(event.pointerId);
    if (down.size > 1) {
      // A second finger: this is a pinch after all, so what the first one held goes back.
      held = null;
      moved = true;
      return;
    }
    start = at;
    moved = false;
    held = drawing()?.handleNear(at, REACH[kind(event)])?.id ?? null;
    if (held) hand().choose(held);
  }

  function onMove(event: PointerEvent) {
    const before = down.get(event.pointerId);
    const sheet = drawing();
    if (sheet && event.pointerType !== 'touch') hand().hover(sheet.toSheet(place(event)));
    if (!before || !sheet || !start) return;
    const at = place(event);
    if (!moved && Math.hypot(at[0] - start[0], at[1] - start[1]) < STILL[kind(event)]) return;
    moved = true;
    down.set(event.pointerId, at);
    const other = [...down].find(([id]) => id !== event.pointerId)?.[1];
    if (other) {
      const spread = (p: XY) => Math.max(1, Math.hypot(p[0] - other[0], p[1] - other[1]));
      sheet.zoomBy(spread(at) / spread(before), [(before[0] + other[0]) / 2, (before[1] + other[1]) / 2]);
      sheet.panBy((at[0] - before[0]) / 2, (at[1] - before[1]) / 2);
    } else if (held) hand().drag(held, sheet.toSheet(at));
    else sheet.panBy(at[0] - before[0], at[1] - before[1]);
  }

  function onUp(event: PointerEvent) {
    const sheet = drawing();
    if (!down.delete(event.pointerId) || !sheet) return;
    if (down.size > 0) return;
    const at = place(event);
    if (held && moved) hand().drop(held, sheet.toSheet(at));
    else if (!held && !moved) {
      hand().choose(null);
      hand().tap(sheet.toSheet(at), 1 / sheet.zoom);
    }
    held = null;
  }

  function onCancel(event: PointerEvent) {
    down.delete(event.pointerId);
    held = null;
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
