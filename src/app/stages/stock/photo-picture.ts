import { useMemo } from 'preact/hooks';
import type { Photo } from '../../../job';
import { extentOf, type Item } from '../../canvas/items';
import { usePhoto } from '../../parts/use-image';
import type { JobStore } from '../../store';

/** A photo as it was taken, to be drawn in its own pixels: how far it goes, and its picture, none while it is fetched. */
export function usePhotoPicture(
  store: JobStore,
  photo: Photo,
): { readonly extent: ReturnType<typeof extentOf>; readonly picture: Item[] } {
  const image = usePhoto(store, photo);
  const { width, height } = photo;
  const extent = useMemo(
    () =>
      extentOf(
        [
          [0, 0],
          [width, height],
        ],
        0.01,
      ),
    [width, height],
  );
  // Whole pixels are pixel centres, so the picture's corner lies half a pixel out.
  const picture = useMemo((): Item[] => {
    if (!image) return [];
    // A large photo is shown by a smaller copy.
    const size = width / image.width;
    return [{ kind: 'picture', id: 'photo', image, map: [size, 0, 0, size, -0.5, -0.5] }];
  }, [image, width]);
  return { extent, picture };
}
