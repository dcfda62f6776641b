import type { XY } from '../../../canvas/items';
import { photoWork } from '../../../work';
import type { StockView } from '../view';

let asked = 0;
let line: Promise<unknown> = Promise.resolve();

/**
 * The line from one point along the edge to another, from the photo worker: 10 to 60 ms of work, too long for the page's own thread. One
 * question is under way at a time. A face without a picture gives the straight line.
 * @param within the other point is drawn to an edge that lies so near, mm; 0 leaves it
 * @param must whether it is needed even when a later question has come meanwhile, as for a point that was set
 * @returns null where it is not needed any more
 */
export async function edgeBetween(
  view: StockView,
  from: XY,
  to: XY,
  { within, must }: { within: number; must: boolean },
): Promise<readonly XY[] | null> {
  const mine = ++asked;
  const answer = line.then(() => (must || mine === asked ? ask(view, from, to, within) : null));
  line = answer.catch(() => {});
  return answer;
}

async function ask(view: StockView, from: XY, to: XY, within: number): Promise<readonly XY[]> {
  const picture = view.face.peek()?.picture;
  const blob = picture && (await view.store.file(picture.file));
  if (!picture || !blob) return [from, to];
  const signal = new AbortController().signal;
  return photoWork.call(
    signal,
    () => {},
    (api, id) => api.follow(id, blob, picture, from, to, within),
  );
}
