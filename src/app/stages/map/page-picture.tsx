import { useEffect, useState } from 'preact/hooks';
import type { MapPage } from '../../../../workers/solver.worker';

const MOST = 6;

/** A sheet as it will print, whole or larger. It is shown as an image: whatever a name in it says, nothing in it runs. */
export function PagePicture({ svg, title, shape }: MapPage) {
  const [url, setUrl] = useState<string | null>(null);
  /** How many times as wide as the screen has room for. */
  const [times, setTimes] = useState(1);
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [svg]);
  return (
    <div class="sheet">
      <section
        class={`page-picture ${times === 1 ? 'whole' : ''}`}
        // Its room is known before it is painted.
        style={{ '--times': times, '--shape': shape }}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls is reached by Tab, so that arrow keys scroll it
        tabIndex={0}
        aria-label="Sheet"
      >
        {url && <img src={url} alt={`Sheet: ${title}`} />}
      </section>
      <div class="sheet-tools">
        <button
          type="button"
          class="button quiet"
          aria-label="Zoom out"
          disabled={times === 1}
          onClick={() => setTimes(Math.max(1, times - 1))}
        >
          −
        </button>
        <button type="button" class="button quiet" onClick={() => setTimes(1)}>
          Show all
        </button>
        <button
          type="button"
          class="button quiet"
          aria-label="Zoom in"
          disabled={times === MOST}
          onClick={() => setTimes(Math.min(MOST, times + 1))}
        >
          +
        </button>
      </div>
    </div>
  );
}
