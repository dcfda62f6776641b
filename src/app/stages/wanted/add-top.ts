import { defaultTop } from '../../../job';
import { newId } from '../../jobs';
import type { JobStore } from '../../store';

/** Adds a top of a usual size, to be changed. */
export function addTop(store: JobStore): void {
  const top = defaultTop(newId());
  store.edit('Add a top', (draft) => {
    const others = Object.keys(draft.tops).length;
    draft.tops[top.id] = others === 0 ? top : { ...top, name: `${top.name} ${others + 1}` };
  });
}
