import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import type { Drawing } from './drawing';
import { type Grip, type Hand, listen } from './gestures';
import { Glass } from './glass';
import type { Extent, Handle, Item, XY } from './items';
import { Moving, type Standing } from './moving';

interface SheetProps {
  /** What is drawn here, for those who do not see it. */
  label: string;
  items: readonly Item[];
  /** What follows a hand: painted over the items, anew at every frame. */
  moving?: readonly Item[];
  /** What is shown when the sheet opens, and when `extentKey` changes. */
  extent: Extent | null;
  extentKey: string;
  handles?: readonly Handle[];
  chosen?: string | null;
  onChoose?(id: string | null): void;
  /** The point follows the finger; nothing is decided yet. */
  onDrag?(id: string, to: XY): void;
  onDrop?(id: string, to: XY): void;
  /** Takes hold of what is pressed, on a handle or not; null leaves the press to the handle, or to pan. */
  onGrab?(at: XY, perPx: number, handle: string | null): Grip | null;
  /** What was dragged goes back to where it was. */
  onCancel?(): void;
  /** An empty place was tapped while a point was chosen: it is to go there. Without this the point is let go, and the tap is one like any other. */
  onPlace?(id: string, at: XY): void;
  /** An empty place was tapped; `perPx` is what one screen pixel measures there. */
  onTap?(at: XY, perPx: number): void;
  /** Delete was pressed with a point chosen. */
  onDelete?(id: string): void;
  /** The pointer is over a place of the sheet, pressed or not; null when it has left. */
  onHover?(at: XY | null): void;
  /** Further keys, before those of the sheet itself, and what they do in words. */
  keys?: Readonly<Record<string, (perPx: number) => void>>;
  keysSay?: string;
  /** A place that is moved into view when it changes and is not. */
  reveal?: XY | null;
  /** Stands below the drawing, beside the zoom buttons. */
  foot?: ComponentChildren;
  /** How far an arrow key moves the chosen point, in the sheet's units; Shift makes it ten times that, Alt a tenth. */
  step?: number;
}

const ARROWS: Record<string, XY> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
/** An arrow key with no point chosen moves the sheet this far, px. */
const PAN = 60;
const NO_HANDLES: readonly Handle[] = [];
const NOTHING: readonly Item[] = [];

/**
 * The drawing of a stage: pictures and line work on the sheet, points to take hold of, and all of it by keyboard. Its zoom
 * buttons stand below it, never on it.
 */
export function Sheet(props: SheetProps) {
  const { items, moving = NOTHING, extent, extentKey, handles = NO_HANDLES, chosen = null, step = 1 } = props;
  const host = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const glass = useRef<HTMLCanvasElement>(null);
  const over = useRef<HTMLCanvasElement>(null);
  const follower = useRef<Moving | null>(null);
  const drawing = useRef<Drawing | null>(null);
  const latest = useRef(props);
  latest.current = props;
  const [ready, setReady] = useState(false);
  const help = useId();

  useEffect(() => {
    const box = host.current;
    const element = canvas.current;
    if (!box || !element || !glass.current) return;
    let live = true;
    const resized = new ResizeObserver(() => drawing.current?.resize(box.clientWidth, box.clientHeight));
    const dark = matchMedia('(prefers-color-scheme: dark)');
    const recolour = () => drawing.current?.recolour();
    // Fabric is fetched with the first drawing, not with the opening screen.
    void import('./drawing').then(({ Drawing }) => {
      if (!live) return;
      follower.current = over.current && new Moving(over.current, box);
      drawing.current = new Drawing(element, box, () => {
        if (drawing.current) follower.current?.paint(standing(drawing.current));
      });
      drawing.current.resize(box.clientWidth, box.clientHeight);
      resized.observe(box);
      setReady(true);
    });
    dark.addEventListener('change', recolour);
    const letGo = listen(
      box,
      () => drawing.current,
      () => handOf(latest.current),
      new Glass(glass.current, box, () => drawing.current),
    );
    return () => {
      live = false;
      letGo();
      resized.disconnect();
      dark.removeEventListener('change', recolour);
      drawing.current?.dispose();
      drawing.current = null;
    };
  }, []);

  const showAll = () => extent && drawing.current?.fit(extent);
  // Fitted when another thing is shown, not at each edit of it.
  useEffect(() => {
    showAll();
  }, [ready, extentKey, extent === null]);
  useEffect(() => drawing.current?.show(items), [ready, items]);
  useEffect(() => {
    if (drawing.current) follower.current?.show(moving, standing(drawing.current));
  }, [ready, moving]);
  const { reveal = null } = props;
  useEffect(() => {
    if (reveal) drawing.current?.reveal(reveal);
  }, [ready, reveal?.[0], reveal?.[1]]);
  useEffect(() => drawing.current?.showHandles(handles, chosen), [ready, handles, chosen]);

  function onKeyDown(event: KeyboardEvent) {
    const act = keyAction(event);
    if (!act) return;
    event.preventDefault();
    act();
  }

  /** What a key does here, or nothing. */
  function keyAction(event: KeyboardEvent): (() => void) | undefined {
    const sheet = drawing.current;
    if (!sheet || event.ctrlKey || event.metaKey || (event.altKey && !(event.key in ARROWS))) return;
    const own = props.keys?.[event.key];
    if (own) return () => own(1 / sheet.zoom);
    const place = handles.findIndex(({ id }) => id === chosen);
    const handle = handles[place];
    const arrow = ARROWS[event.key];
    if (arrow && handle) {
      const by = step * (event.shiftKey ? 10 : event.altKey ? 0.1 : 1);
      const to: XY = [handle.at[0] + by * arrow[0], handle.at[1] + by * arrow[1]];
      return () => {
        props.onDrop?.(handle.id, to);
        sheet.reveal(to);
      };
    }
    if (arrow) return () => sheet.panBy(-PAN * arrow[0], -PAN * arrow[1]);
    if (event.key === '+' || event.key === '=') return () => sheet.zoomBy(1.25);
    if (event.key === '-') return () => sheet.zoomBy(0.8);
    if (event.key === '0') return showAll;
    if (event.key === 'Escape' && handle) return () => props.onChoose?.(null);
    if ((event.key === 'Delete' || event.key === 'Backspace') && handle && props.onDelete)
      return () => props.onDelete?.(handle.id);
    const turn =
      event.key === 'n' || event.key === 'PageDown' ? 1 : event.key === 'p' || event.key === 'PageUp' ? -1 : 0;
    if (turn !== 0 && handles.length > 0) {
      const next = handles[place < 0 ? 0 : (place + turn + handles.length) % handles.length];
      return () => {
        props.onChoose?.(next?.id ?? null);
        if (next) sheet.reveal(next.at);
      };
    }
  }

  return (
    <div class="sheet">
      <div
        ref={host}
        class="sheet-host"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the drawing is worked by keys, as its description says
        tabIndex={0}
        role="application"
        aria-label={props.label}
        aria-describedby={help}
        onKeyDown={onKeyDown}
      >
        <canvas ref={canvas} />
        <canvas ref={over} class="over" hidden />
        <canvas ref={glass} class="glass" hidden />
      </div>
      <p id={help} class="hidden-text">
        Plus and minus zoom, 0 shows all, arrow keys move the sheet.
        {handles.length > 0 &&
          ' N and P choose the next and previous point; arrow keys then move it, with Shift ten times as far, with Alt a tenth; Delete takes it out; Escape lets it go.'}
        {props.keysSay && ` ${props.keysSay}`}
      </p>
      <div class="sheet-tools">
        {props.foot}
        <button type="button" class="button quiet" aria-label="Zoom out" onClick={() => drawing.current?.zoomBy(0.8)}>
          −
        </button>
        <button type="button" class="button quiet" onClick={showAll}>
          Show all
        </button>
        <button type="button" class="button quiet" aria-label="Zoom in" onClick={() => drawing.current?.zoomBy(1.25)}>
          +
        </button>
      </div>
    </div>
  );
}

const standing = (drawing: Drawing): Standing => ({ zoom: drawing.zoom, origin: drawing.toScreen([0, 0]) });

function handOf(props: SheetProps): Hand {
  return {
    choose: (id) => props.onChoose?.(id),
    drag: (id, to) => props.onDrag?.(id, to),
    drop: (id, to) => props.onDrop?.(id, to),
    grab: (at, perPx, handle) => props.onGrab?.(at, perPx, handle) ?? null,
    cancel: () => props.onCancel?.(),
    tap(at, perPx) {
      if (props.chosen && props.onPlace) return props.onPlace(props.chosen, at);
      props.onChoose?.(null);
      props.onTap?.(at, perPx);
    },
    hover: (at) => props.onHover?.(at),
  };
}
