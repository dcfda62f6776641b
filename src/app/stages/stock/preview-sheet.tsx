import { useEffect, useMemo, useState } from 'preact/hooks';
import { extentOf, type Item } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { pictureItem } from './face-items';
import type { Preview } from './view';

/** A face while its photo is read: what it looks like from above, and roughly where the wood is. */
export function PreviewSheet({ preview, title }: { preview: Preview; title: string }) {
  const { picture, place, wood } = preview;
  const image = useBlobImage(picture);
  const items = useMemo(
    (): Item[] => [
      ...(image ? [pictureItem('preview', image, place)] : []),
      ...(wood.length > 2 ? [{ kind: 'line', id: 'wood', points: wood, closed: true, pen: 'measured' } as const] : []),
    ],
    [image, place, wood],
  );
  const extent = useMemo(() => {
    const { x0, y0, mmPerPx, width, height } = place;
    return extentOf(
      [
        [x0, y0],
        [x0 + width * mmPerPx, y0 + height * mmPerPx],
      ],
      0,
    );
  }, [place]);
  return (
    <Sheet
      label={`First look at ${title}`}
      items={items}
      extent={extent}
      extentKey={`${title}/preview/${image ? 'picture' : ''}`}
    />
  );
}

/** A picture that is not stored as an image; null until it is decoded. */
function useBlobImage(blob: Blob): HTMLImageElement | null {
  const [shown, setShown] = useState<{ blob: Blob; image: HTMLImageElement } | null>(null);
  useEffect(() => {
    const image = new Image();
    image.src = URL.createObjectURL(blob);
    void image.decode().then(
      () => setShown({ blob, image }),
      // Torn down before it was decoded, or no picture: then there is nothing to show.
      () => {},
    );
    return () => URL.revokeObjectURL(image.src);
  }, [blob]);
  return shown?.blob === blob ? shown.image : null;
}
