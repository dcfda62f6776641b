import { distance, distanceToRing, type Region, simplifyLine } from '../../../../geometry';
import { outlineDoubt } from '../../../../photo';
import { formatLength } from '../../../../units';
import { announce } from '../../../announce';
import type { Grip } from '../../../canvas/gestures';
import type { XY } from '../../../canvas/items';
import { photoWork } from '../../../work';
import { AS_IT_WAS, work } from '../photo-work';
import type { StockView } from '../view';

/** A stroke is kept to within this, mm: it is some millimetres wide as it works. */
const SIMPLER = 0.5;
/** Places of a stroke that is drawn are at least so far apart, px. */
const APART = 3;

/** One end of a stroke by tap or key: the first begins it, the second ends it. */
export function setEnd(view: StockView, at: XY): void {
  const drawn = view.hand.drawn.peek();
  if (!drawn) {
    view.hand.drawn.value = [at];
    announce(`A stroke for ${view.hand.kind.peek()} begins.`);
  } else keep(view, [...drawn, at]);
}

/** A press on the sheet draws; a tap sets an end. */
export function scribbleGrip(view: StockView, from: XY, perPx: number): Grip {
  let line: readonly XY[] = [from];
  return {
    drag: (to) => {
      const last = line.at(-1) as XY;
      if (distance<'face'>(last, to) < APART * perPx) return;
      line = [...line, to];
      view.hand.drawn.value = line;
    },
    drop: (to) => keep(view, [...line, to]),
    tap: (at) => setEnd(view, at),
  };
}

/** Takes one stroke away. */
export function takeAway(view: StockView, place: number): void {
  view.editFace('Take a stroke away', (face) => {
    face.strokes.splice(place, 1);
  });
}

function keep(view: StockView, line: readonly XY[]): void {
  const { hand } = view;
  const kind = hand.kind.peek();
  hand.drawn.value = null;
  hand.ahead.value = null;
  const simple = simplifyLine<'face'>(line, SIMPLER);
  if (simple.length === 2 && distance<'face'>(simple[0] as XY, simple[1] as XY) < 1) return;
  view.editFace(`Scribble ${kind}`, (face) => {
    face.strokes.push({ kind, line: simple });
  });
}

/**
 * Traces the face in view again from its stored picture, by the strokes drawn on it, as one step that can be undone. Bark and sapwood come anew
 * with the edge; what the picture's frame cut off stays as it was. With progress, and it can be stopped.
 */
export async function traceAgain(view: StockView): Promise<void> {
  const slabId = view.place.peek()?.slab.id;
  const side = view.faceName.peek();
  const face = view.face.peek();
  const picture = face?.picture;
  const before = face?.outline;
  if (!slabId || !face || !picture || !before) return;
  const { file, ...place } = picture;
  const { strokes, hidden } = face;
  const edges = await work(view, 'Tracing again', AS_IT_WAS, async (signal, report) => {
    const blob = await view.store.file(file);
    if (!blob) throw new Error(`the picture ${file} is not stored`);
    return photoWork.call(signal, report, (api, id, tell) =>
      api.retrace(id, blob, place, { outline: before, strokes, hidden, sigma: photoSigma(view, before) }, tell),
    );
  });
  if (!edges) return;
  view.editSlab(slabId, 'Trace again', (slab) => {
    const own = slab.faces[side];
    own.outline = edges.outline;
    own.outlineByHand = false;
    own.outlineSigma = edges.outlineSigma;
    own.bark = edges.bark;
    if (edges.sapwood.length > 0) {
      own.sapwood = [...edges.sapwood];
      own.sapwoodTold = edges.sapwoodTold;
    }
  });
  view.letGo();
  const moved = Math.max(...edges.outline.outer.map((p) => distanceToRing(p, before.outer)));
  const { units } = view.store.job.peek();
  announce(
    `Traced again: the edge moved by up to ${formatLength(moved, units, { decimals: 1, denominator: 16, unit: true })}.`,
  );
}

/** The doubt of an outline that is the measuring photo's, one standard deviation, mm; 0 without one. */
function photoSigma(view: StockView, { outer }: Region<'face'>): number {
  const photo = view.photo.peek();
  return photo?.calibration ? outlineDoubt(photo.scale, photo.calibration, outer) : 0;
}
