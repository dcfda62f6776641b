import type { Bounds, Point } from '../geometry';
import { faceKey } from '../job';
import type { SlabReport, TopReport } from '../plan';
import { type Group, path, ring } from './drawing';
import type { LaidPicture, SheetRequest } from './request';
import { laid, onPaper, type View, viewOf } from './view';

/** The face that is up, in a word. */
export const faceUp = (up: SlabReport | TopReport): string =>
  'slab' in up ? (up.face === 'top' ? 'upper' : 'under') : 'top';

/** That face no larger than a thumb: its outline, its photo and what is cut of it, so that the slab on the trestles is turned the same way. */
export function facePicture(request: SheetRequest, up: SlabReport | TopReport, area: Bounds): Group[] {
  if (!('slab' in up)) {
    const view = viewOf(up.outline, area, { turned: true, any: true });
    return groups(onPaper(view, up.outline), request.tops.get(up.id), view, []);
  }
  const view = viewOf(up.outline.outer, area, { any: true });
  const pieces = up.blanks.map(({ finished }) => onPaper(view, finished));
  const picture = request.faces.get(faceKey(up.flitch, up.slab, up.face));
  return groups(onPaper(view, up.outline.outer), picture, view, pieces);
}

function groups<F extends 'face' | 'top'>(
  outline: readonly Point<'paper'>[],
  picture: LaidPicture | undefined,
  view: View<F>,
  pieces: readonly (readonly Point<'paper'>[])[],
): Group[] {
  const photo: Group[] = picture
    ? [
        {
          layer: 'PHOTO',
          name: 'face up, small',
          clip: outline,
          elements: [laid({ ...picture, ...picture.small }, view, 0.8)],
        },
      ]
    : [];
  const lines = [...pieces.map((piece) => path(piece, 'finished', true)), ring(outline, 'pocket')];
  return [...photo, { layer: 'OUTLINE', name: 'face up, small', elements: lines }];
}
