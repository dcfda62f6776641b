import * as Comlink from 'comlink';
import type { RefObject } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { hintOf } from '../../photo';
import { photoWork } from '../work';
import type { ShotWish } from './wish';

/** Longer side of the frames that are looked at, px. */
const FRAME = 640;
/** Two looks a second at most, and the worker rests as long as it worked: the battery is needed for the photos, ms. */
const EVERY = 500;
/** After a look that failed, ms. */
const AGAIN = 3000;

/** A hint on what a video shows, in words: a small frame of it is looked at now and then, beside the page. Null until the first was. */
export function useGlances(
  video: RefObject<HTMLVideoElement | null>,
  { cards, side, beside = false }: ShotWish,
  running: boolean,
): ReturnType<typeof hintOf> | null {
  const [hint, setHint] = useState<ReturnType<typeof hintOf> | null>(null);

  useEffect(() => {
    if (!running) return;
    const ended = new AbortController();
    let timer: ReturnType<typeof setTimeout> | undefined;
    const glance = async () => {
      const began = performance.now();
      let rest = AGAIN;
      try {
        const frame = video.current && (await frameOf(video.current));
        if (frame) {
          const look = await photoWork.call(
            ended.signal,
            () => {},
            (api, id) => api.glance(id, Comlink.transfer(frame, [frame]), { side, beside }),
          );
          setHint(hintOf(look, { cards }));
          const took = performance.now() - began;
          rest = Math.max(EVERY - took, took);
        } else rest = EVERY;
      } catch {
        // A hint that does not come is no reason to keep anybody from the photo.
      }
      if (!ended.signal.aborted) timer = setTimeout(glance, rest);
    };
    void glance();
    return () => {
      ended.abort(new DOMException('closed', 'AbortError'));
      clearTimeout(timer);
    };
  }, [video, running, cards, side, beside]);

  return hint;
}

async function frameOf(video: HTMLVideoElement): Promise<ImageBitmap | null> {
  const { videoWidth, videoHeight } = video;
  if (videoWidth === 0 || video.readyState < video.HAVE_CURRENT_DATA) return null;
  const share = Math.min(1, FRAME / Math.max(videoWidth, videoHeight));
  return createImageBitmap(video, {
    resizeWidth: Math.round(share * videoWidth),
    resizeHeight: Math.round(share * videoHeight),
    resizeQuality: 'medium',
  });
}
