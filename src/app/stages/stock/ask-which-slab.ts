import { batch } from '@preact/signals';
import type { Photo } from '../../../job';
import type { StockView } from './view';

/** Shows the photo, on which the slab that is meant is to be tapped. What went wrong with an answer before stays in view. */
export function askWhichSlab(view: StockView, photo: Pick<Photo, 'id'>): void {
  const trouble = view.trouble.peek();
  batch(() => {
    view.photoId.value = photo.id;
    view.lookAt.value = 'photo';
    view.panel.value = 'photo';
    view.choosing.value = { photoId: photo.id, cross: null };
    if (trouble && !trouble.which) return;
    view.trouble.value = {
      message: 'More than one slab is in this photo.',
      mend: 'Tap the one you mean.',
      byHand: false,
    };
  });
}
