import { batch } from '@preact/signals';
import type { Photo } from '../../../job';
import type { StockView } from './view';

/** Shows the photo, on which the slab that is meant is to be tapped. */
export function askWhichSlab(view: StockView, photo: Photo): void {
  const trouble = view.trouble.peek();
  batch(() => {
    view.photoId.value = photo.id;
    view.lookAt.value = 'photo';
    view.panel.value = 'photo';
    view.choosing.value = photo.id;
    if (trouble) view.trouble.value = { ...trouble, mend: 'Tap the one that you mean on the photo.', byHand: false };
  });
}
