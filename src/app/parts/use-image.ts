import { useEffect, useState } from 'preact/hooks';
import type { Photo } from '../../job';
import { type Size, workingSize } from '../../photo';
import type { JobStore } from '../store';

/** A stored picture of the job as an image that can be painted; null while it is fetched, or when it cannot be shown. */
export function useImage(store: JobStore, file: string | null): HTMLImageElement | null {
  return useFetched(store, file, fetched);
}

/**
 * A photo of the job that can be painted, a large one as a smaller copy: on the screen nobody sees more, and a browser that paints 50
 * million pixels holds them twice. Null as with `useImage`.
 */
export function usePhoto(store: JobStore, { file, width, height }: Photo): HTMLImageElement | HTMLCanvasElement | null {
  const size = workingSize({ width, height });
  const isLarge = size.width < width;
  return useFetched<HTMLImageElement | HTMLCanvasElement>(store, file, (from, name) =>
    isLarge ? copied(from, name, size) : fetched(from, name),
  );
}

/** What `fetch` gives for a stored file, once it is there. */
function useFetched<T>(
  store: JobStore,
  file: string | null,
  fetch: (store: JobStore, file: string) => Promise<T | null>,
): T | null {
  const [shown, setShown] = useState<{ file: string; image: T } | null>(null);

  useEffect(() => {
    if (!file) return;
    let live = true;
    void fetch(store, file).then((image) => {
      if (image && live) setShown({ file, image });
    });
    return () => {
      live = false;
    };
  }, [store, file]);

  return shown?.file === file ? shown.image : null;
}

const NOTHING: readonly (HTMLImageElement | null)[] = [];

/** Several stored photos as images, in their order; null for each that is still fetched or not stored. The same list until one of them changes. */
export function useImages(store: JobStore, files: readonly (string | null)[]): readonly (HTMLImageElement | null)[] {
  const key = files.join('\n');
  const [shown, setShown] = useState<{ key: string; images: readonly (HTMLImageElement | null)[] }>({
    key: '',
    images: NOTHING,
  });

  useEffect(() => {
    let live = true;
    void Promise.all(files.map((file) => (file ? fetched(store, file) : null))).then((images) => {
      if (live) setShown({ key, images });
    });
    return () => {
      live = false;
    };
  }, [store, key]);

  return shown.key === key ? shown.images : NOTHING;
}

async function fetched(store: JobStore, file: string): Promise<HTMLImageElement | null> {
  const url = await store.url(file);
  if (!url) return null;
  const image = new Image();
  image.src = url;
  return image.decode().then(
    () => image,
    () => null,
  );
}

async function copied(store: JobStore, file: string, { width, height }: Size): Promise<HTMLCanvasElement | null> {
  const blob = await store.file(file);
  const bitmap = blob && (await createImageBitmap(blob).catch(() => null));
  if (!bitmap) return null;
  const canvas = Object.assign(document.createElement('canvas'), { width, height });
  const ink = canvas.getContext('2d');
  if (ink) ink.imageSmoothingQuality = 'high';
  ink?.drawImage(bitmap, 0, 0, width, height);
  bitmap.close();
  return canvas;
}
