import type { Picture } from '../../../job';
import type { XY } from '../../canvas/items';

/** The part of a face's picture inside a ring (mm on the face), as a picture of the same size: a strip lifted out of its ghosted slab. */
export function clippedPicture(
  image: HTMLImageElement,
  { mmPerPx, x0, y0 }: Picture,
  ring: readonly XY[],
): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = image.naturalWidth;
  canvas.height = image.naturalHeight;
  const ink = canvas.getContext('2d');
  if (!ink) return canvas;
  ink.beginPath();
  for (const [x, y] of ring) ink.lineTo((x - x0) / mmPerPx, (y - y0) / mmPerPx);
  ink.closePath();
  ink.clip();
  ink.drawImage(image, 0, 0);
  return canvas;
}
