import { bounds } from '../../../../geometry';
import type { FaceName, Photo } from '../../../../job';
import { recordBoardFace } from '../../../../plan';
import { formatLength } from '../../../../units';
import { announce } from '../../../announce';
import { newId } from '../../../jobs';
import { photoWork } from '../../../work';
import { AS_IT_WAS, work } from '../photo-work';
import type { StockView } from '../view';
import { photoName, scaleOfBench } from './read-leaves';

/** A photo whose board is off its typed length or width by more than this share is asked about. */
const OFF = 0.1;

/**
 * Reads a photo of one face of a board that is not sawn yet, as one step that can be undone. Of several pieces in it the largest is the board.
 * @param onBench whether the marks lie on the bench, the board's thickness below
 */
export async function addBoardFace(
  view: StockView,
  board: string,
  face: FaceName,
  onBench: boolean,
  file: File,
): Promise<void> {
  const own = view.store.job.peek().boards[board];
  if (!own) return;
  const read = await work(view, `Reading ${file.name}`, AS_IT_WAS, async (signal, report) => {
    const scale = scaleOfBench(view, onBench ? own.thickness : 0);
    const size = await photoWork.call(
      signal,
      () => {},
      (api, id, tell) => api.inspect(id, file, file.name, tell),
    );
    const { leaves } = await photoWork.call(signal, report, (api, id, tell) =>
      api.leaves(id, file, file.name, scale, tell),
    );
    return { scale, size, leaves };
  });
  const areas = read?.leaves.map(({ traced }) => boxOf(traced.outline.outer)) ?? [];
  const at = areas.reduce((best, one, i) => (one.area > (areas[best]?.area ?? 0) ? i : best), 0);
  const found = read?.leaves[at];
  if (!read || !found) return;
  const { picture: blob, place, ...leaf } = found;
  const id = newId();
  const name = photoName(board, face, id, file);
  const photo: Omit<Photo, 'calibration'> = { id, file: name, ...read.size, scale: read.scale };
  const stored = `faces/${board}-${face}-${newId()}.jpg`;
  const files = new Map<string, Blob>([
    [name, file],
    [stored, blob],
  ]);
  await view.store.editWithFiles(files, 'Add a photo of a board', (draft) => {
    recordBoardFace(draft, board, face, photo, { read: leaf, picture: { ...place, file: stored } });
  });
  const { long, wide } = areas[at] as ReturnType<typeof boxOf>;
  const { units } = view.store.job.peek();
  const say = (mm: number) => formatLength(mm, units, { decimals: 0, unit: true });
  announce(`The ${face === 'top' ? 'outer face' : 'back'} of ${own.name} is read.`);
  if (Math.abs(long / own.length - 1) > OFF || Math.abs(wide / own.width - 1) > OFF) {
    const message = `The photo shows ${say(long)} by ${say(wide)}; ${own.name} is said to be ${say(own.length)} by ${say(own.width)}.`;
    view.trouble.value = { message, mend: 'Look whether it is the right board, and all of it.', byHand: false };
  }
}

function boxOf(ring: Parameters<typeof bounds>[0]) {
  const { minX, minY, maxX, maxY } = bounds(ring);
  return { long: maxX - minX, wide: maxY - minY, area: (maxX - minX) * (maxY - minY) };
}
