import { useEffect, useState } from 'preact/hooks';
import type { JobStore } from '../store';

/** A stored photo of the job as an image that can be painted; null while it is fetched, or when it cannot be shown. */
export function useImage(store: JobStore, file: string | null): HTMLImageElement | null {
  const [shown, setShown] = useState<{ file: string; image: HTMLImageElement } | null>(null);

  useEffect(() => {
    if (!file) return;
    let live = true;
    void fetched(store, file).then((image) => {
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
