import type { Top } from '../../../job';
import type { JobStore } from '../../store';

/** Edits of one wanted top, each a step that can be undone. */
export function topEditor(store: JobStore, top: Top) {
  const edit = (name: string, change: (own: Top) => void): void =>
    store.edit(`${name} of ${top.name}`, (draft) => {
      const own = draft.tops[top.id];
      if (own) change(own);
    });
  const set =
    <K extends keyof Top>(key: K, name: string) =>
    (value: Top[K]): void =>
      edit(name, (own) => {
        own[key] = value;
      });
  return { edit, set };
}

export type TopEditor = ReturnType<typeof topEditor>;
