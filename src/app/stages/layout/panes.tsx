import { useEffect } from 'preact/hooks';
import { useNarrow } from '../../parts/use-narrow';
import type { Computed, PlanView } from '../../plan-view';
import { jointDrag } from './joint-drag';
import { layoutLook } from './look';
import { SlabPane } from './slab-pane';
import { TopPane } from './top-pane';
import type { FaceLooks } from './wood';

/** The plan in view: its finished tops large, its slabs beside them; one of the two where the screen is narrow. */
export function Panes({ view, computed, looks }: { view: PlanView; computed: Computed; looks: FaceLooks }) {
  const narrow = useNarrow();
  const pane = layoutLook(view).pane.value;
  const { plan } = computed;
  useEffect(() => void jointDrag(view).look(plan), [view, plan]);
  return (
    <div class="layout-panes">
      {(!narrow || pane === 'top') && <TopPane view={view} computed={computed} looks={looks} />}
      {(!narrow || pane === 'slabs') && <SlabPane view={view} computed={computed} looks={looks} />}
    </div>
  );
}
