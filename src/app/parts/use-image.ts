import { useEffect, useState } from 'preact/hooks';
import type { JobStore } from '../store';

/** A stored photo of the job as an image that can be painted; null while it is fetched, or when it is not stored. */
export function useImage(store: JobStore, file: string | null): HTMLImageElement | null {
  const [shown, setShown] = useState<{ file: string; image: HTMLImageElement } | null>(null);

  useEffect(() => {
    if (!file) return;
    let live = true;
    void store.url(file).then(async (url) => {
      if (!url || !live) return;
      const image = new Image();
      image.src = url;
      await image.decode();
      if (live) setShown({ file, image });
    });
    return () => {
      live = false;
    };
  }, [store, file]);

  return shown?.file === file ? shown.image : null;
}
