import { useNarrow } from '../../parts/use-narrow';
import type { LayoutLook } from './look';

/** On a narrow screen, what of the layout is drawn: the finished top or its slabs. On a wide one both are there. */
export function PaneSwitch({ look }: { look: LayoutLook }) {
  if (!useNarrow()) return null;
  const slabs = look.pane.value === 'slabs';
  return (
    <button
      type="button"
      class="button"
      aria-label={slabs ? 'Show the top' : 'Show the slabs'}
      onClick={() => {
        look.pane.value = slabs ? 'top' : 'slabs';
      }}
    >
      {slabs ? 'Top' : 'Slabs'}
    </button>
  );
}
