import type { FaceName, Photo, Scale } from '../../../../job';
import { recordLeaves } from '../../../../plan';
import { InputProblem } from '../../../../units';
import { announce } from '../../../announce';
import type { ShotWish } from '../../../camera/wish';
import { newId } from '../../../jobs';
import { photoWork } from '../../../work';
import { AS_IT_WAS, work } from '../photo-work';
import { scaleOf } from '../reference/draft';
import type { StockView } from '../view';

/** How thick a leaf lies on the bench, mm: as it was sawn. */
export function leafThickness(view: StockView): number {
  const { thickness, sanding } = view.store.job.value.shop.resaw.leaf;
  return thickness + sanding;
}

/** What lies beside the leaves, `drop` mm below their faces, as a scale. @throws InputProblem where it is of a kind that must be clicked on the photo */
export function scaleOfBench(view: StockView, drop: number): Scale {
  const { kind } = view.next.peek();
  const scale = kind === 'markers' || kind === 'paper' ? scaleOf(view.next.peek(), {}) : null;
  if (!scale)
    throw new InputProblem(
      'Leaves are measured by printed cards or a sheet of paper that lie beside them.',
      '',
      'Choose which of the two lies there.',
    );
  return { ...scale, drop };
}

/** What a photo of leaves or a board shall show: what measures them lies beside them. */
export function wishBeside(view: StockView): ShotWish {
  const { kind, side } = view.next.value;
  return { cards: kind === 'markers', side, beside: true };
}

/** The name that a photo is stored by. */
export const photoName = (board: string, face: FaceName, id: string, { type }: File): string =>
  `photos/${board}-${face}-${id}.${type === 'image/png' ? 'png' : type === 'image/webp' ? 'webp' : 'jpg'}`;

/**
 * Reads photos of leaves into a board: every leaf in them is traced and numbered, photo by photo, each photo as one step that can be undone. The
 * last is shown, for its numbers to be looked over.
 * @param face the faces that are up
 * @param onBench whether the marks lie on the bench, a leaf's thickness below
 */
export async function addLeafPhotos(
  view: StockView,
  board: string,
  face: FaceName,
  onBench: boolean,
  files: readonly File[],
): Promise<void> {
  for (const file of files) {
    const read = await work(view, `Reading ${file.name}`, AS_IT_WAS, async (signal, report) => {
      const scale = scaleOfBench(view, onBench ? leafThickness(view) : 0);
      const size = await photoWork.call(
        signal,
        () => {},
        (api, id, tell) => api.inspect(id, file, file.name, tell),
      );
      const leaves = await photoWork.call(signal, report, (api, id, tell) =>
        api.leaves(id, file, file.name, scale, tell),
      );
      return { scale, size, ...leaves };
    });
    if (!read) return;
    const id = newId();
    const name = photoName(board, face, id, file);
    const photo: Omit<Photo, 'calibration'> = { id, file: name, ...read.size, scale: read.scale };
    const kept = read.leaves.map(({ picture, place, ...leaf }) => {
      const stored = `faces/${board}-${face}-${newId()}.jpg`;
      return { read: leaf, picture: { ...place, file: stored }, blob: picture };
    });
    const files = new Map<string, Blob>([
      [name, file],
      ...kept.map(({ picture, blob }) => [picture.file, blob] as const),
    ]);
    await view.store.editWithFiles(files, 'Add a photo of leaves', (draft) => {
      recordLeaves(draft, board, face, photo, kept, newId);
    });
    announce(read.numbered);
    view.lookAtBoards({ shot: { board, face, file: name }, face });
    if (read.doubts.length > 0) view.trouble.value = { message: read.doubts.join(' '), mend: '', byHand: false };
  }
}
