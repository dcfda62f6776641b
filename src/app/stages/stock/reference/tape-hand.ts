import type { Point } from '../../../../geometry';
import type { Photo } from '../../../../job';
import { measure } from '../../../../photo';
import type { Handle, Item, XY } from '../../../canvas/items';
import type { StockView } from '../view';
import { type PlacedSpot, tenths } from './spots';

/** Tape checks on the drawing: two ends clicked on the photo or on the face seen from above, kept as pixels of the photo. */

const tapeEndId = (k: number) => `tape#${k}`;
export const isTapeEnd = (id: string) => id.startsWith('tape#');

/** The ends of the check in hand, where it is one of this photo. */
export function tapeEnds(view: StockView, photo: Photo): PlacedSpot[] {
  const tape = view.tape.value;
  if (tape?.photoId !== photo.id) return [];
  return tape.ends.map((px, k) => ({ id: tapeEndId(k), px, text: 'ab'[k] ?? '', says: `end ${k + 1} of the tape` }));
}

/** The checks of a photo and the one in hand as lines with their letters; `to` takes their pixels to the sheet. */
export function tapeItems(view: StockView, photo: Photo, to: (px: Point<'photo'>) => XY | null): Item[] {
  const kept = (photo.scale.distances ?? []).map(({ px }, i) => ({ px, id: `check-${i}`, text: `T${i + 1}` }));
  const tape = view.tape.value;
  const [a, b] = tape?.photoId === photo.id ? tape.ends : [];
  const all = a && b ? [...kept, { px: [a, b] as const, id: 'check-new', text: `T${kept.length + 1}` }] : kept;
  return all.flatMap(({ px, id, text }): Item[] => {
    const [p, q] = [to(px[0]), to(px[1])];
    if (!p || !q) return [];
    const middle: XY = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    return [
      { kind: 'line', id, points: [p, q], pen: 'measured' },
      { kind: 'text', id: `${id}-text`, at: middle, text, pen: 'measured', shape: 'box' },
    ];
  });
}

/** Two taps nearer to each other than this, as a share of the photo's width, are one that was given twice: no tape is read over so little. */
const SAME = 0.005;

/** Puts an end of the check in hand; a tap on the first end moves it, a third tap the end that is nearer. */
export function addTapeEnd(view: StockView, photo: Photo, px: Point<'photo'>): void {
  const tape = view.tape.peek();
  const ends = tape?.photoId === photo.id ? [...tape.ends] : [];
  const away = (end: Point<'photo'>) => Math.hypot(end[0] - px[0], end[1] - px[1]);
  const [a, b] = ends;
  const again = a && !b && away(a) < SAME * photo.width;
  const k = again ? 0 : a && b ? (away(a) < away(b) ? 0 : 1) : ends.length;
  ends[k] = px;
  view.tape.value = { photoId: photo.id, ends };
  view.handle.value = tapeEndId(k);
}

/** Moves an end of the check in hand. */
export function moveTapeEnd(view: StockView, photo: Photo, id: string, px: Point<'photo'>): void {
  const tape = view.tape.peek();
  if (tape?.photoId !== photo.id) return;
  view.tape.value = { ...tape, ends: tape.ends.map((end, k) => (tapeEndId(k) === id ? px : end)) };
}

/** What the hand does on the face seen from above while a check is in hand, and the lines of all checks there; null without a measured photo. */
export function tapeOnFace(view: StockView) {
  const photo = view.photo.value;
  if (view.panel.value !== 'photo' || !photo?.calibration) return null;
  const camera = measure(photo.calibration);
  const toFace = (px: Point<'photo'>): XY | null => camera.place(px);
  const toPhoto = (at: XY): Point<'photo'> | null => {
    const [u, v] = camera.toPhoto(at);
    return u >= 0 && v >= 0 && u < photo.width && v < photo.height ? tenths([u, v]) : null;
  };
  const moving = view.moving.value;
  const handles = tapeEnds(view, photo).flatMap(({ id, px }): Handle[] => {
    const at = toFace(moving?.id === id ? moving.to : px);
    return at ? [{ id, at }] : [];
  });
  const move = (id: string, to: XY, done: boolean) => {
    const px = toPhoto(to);
    view.moving.value = px && !done ? { id, to: px } : null;
    if (px && done) moveTapeEnd(view, photo, id, px);
  };
  return {
    items: tapeItems(view, photo, toFace),
    handles,
    hand: {
      onChoose: (id: string | null) => {
        view.handle.value = id;
      },
      onDrag: (id: string, to: XY) => move(id, to, false),
      onDrop: (id: string, to: XY) => move(id, to, true),
      onTap: (at: XY) => {
        const px = toPhoto(at);
        if (px && view.tape.peek()) addTapeEnd(view, photo, px);
      },
    },
  };
}
