import type { Point } from '../../../geometry';
import type { Photo } from '../../../job';
import type { Item, XY } from '../../canvas/items';
import { readPhoto } from './read-photos';
import type { StockView } from './view';

/** An arrow key moves the cross so far, px of the screen. */
const STEP = 20;
/** Half the cross, as a share of the photo's width. */
const ARM = 0.02;

/** Says how the slab that is meant is shown. */
export function WhichSlab({ view }: { view: StockView }) {
  const photo = view.photo.value;
  if (!photo || view.choosing.value?.photoId !== photo.id) return null;
  return (
    <section class="card stack" aria-label="Which slab is meant">
      <h2>Which slab is meant?</h2>
      <p>Tap it on the photo.</p>
      <p class="small soft">By keys: on the photo, arrow keys move a cross, and Enter takes the slab under it.</p>
    </section>
  );
}

/** What taps and keys do on a photo while it is asked which slab in it is meant; null while it is not. */
export function whichSlabHand(view: StockView, photo: Photo) {
  const asked = view.choosing.value;
  if (asked?.photoId !== photo.id) return null;
  const { cross } = asked;
  const put = ([u, v]: XY) => {
    const at: Point<'photo'> = [within(u, photo.width), within(v, photo.height)];
    view.choosing.value = { photoId: photo.id, cross: at };
  };
  const middle: XY = [photo.width / 2, photo.height / 2];
  const move = (right: number, down: number) => (perPx: number) => {
    const [u, v] = cross ?? middle;
    put([u + right * STEP * perPx, v + down * STEP * perPx]);
  };
  const items: Item[] = cross ? [crossAt(cross, ARM * photo.width)] : [];
  return {
    items,
    choose: (at: Point<'photo'>) => void chooseSlab(view, photo, at),
    keys: {
      ArrowLeft: move(-1, 0),
      ArrowRight: move(1, 0),
      ArrowUp: move(0, -1),
      ArrowDown: move(0, 1),
      Enter: () => (cross ? void chooseSlab(view, photo, cross) : put(middle)),
    },
    keysSay: 'Arrow keys move a cross over the photo, Enter takes the slab under it.',
  };
}

const crossAt = ([u, v]: XY, arm: number): Item => ({
  kind: 'strokes',
  id: 'which-slab',
  pen: 'measured',
  lines: [
    [
      [u - arm, v],
      [u + arm, v],
    ],
    [
      [u, v - arm],
      [u, v + arm],
    ],
  ],
});

const within = (at: number, size: number): number => Math.round(Math.min(size - 1, Math.max(0, at)));

/** Takes the person's answer: the photo is read again by it, and keeps it. */
async function chooseSlab(view: StockView, photo: Photo, slabAt: Point<'photo'>): Promise<void> {
  const slab = view.place.peek()?.slab;
  if (!slab || view.reading.peek()) return;
  view.choosing.value = null;
  await readPhoto(view, { slabId: slab.id, face: view.faceName.peek(), photoId: photo.id }, { slabAt });
}
