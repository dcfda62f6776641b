import { signal } from '@preact/signals';
import { type Job, type Top, usualTop } from '../../../job';
import { newId } from '../../jobs';
import type { JobStore } from '../../store';
import { solverWork } from '../../work';

/** Slabs are looked at for so long at the most, ms, before a usual size is given instead: nobody waits longer for a form to fill in. */
const PATIENCE = 8_000;

/** The jobs whose slabs are looked at for the size of a first top. */
export const sizing = signal<ReadonlySet<string>>(new Set());

/** Adds a top to be changed: a first one as large as the slabs give, up to a usual size, any other of a usual size. */
export async function addTop(store: JobStore): Promise<void> {
  const job = store.job.peek();
  const others = Object.keys(job.tops).length;
  if (others > 0 || !anySlab(job)) {
    const top = proposed(usualTop(newId(), job.units));
    put(store, others === 0 ? top : { ...top, name: `${top.name} ${others + 1}` });
    return;
  }
  if (sizing.peek().has(job.id)) return;
  sizing.value = new Set([...sizing.peek(), job.id]);
  try {
    put(store, await sized(job));
  } finally {
    sizing.value = new Set([...sizing.peek()].filter((id) => id !== job.id));
  }
}

function put(store: JobStore, top: Top): void {
  store.edit('Add a top', (draft) => {
    draft.tops[top.id] = top;
  });
}

/** A top sized to the slabs; where that takes too long or goes wrong, a usual one. */
async function sized(job: Job): Promise<Top> {
  const id = newId();
  try {
    return await solverWork.call(
      AbortSignal.timeout(PATIENCE),
      () => {},
      (api, call, report) => api.firstTop(call, job, id, report),
    );
  } catch {
    return proposed(usualTop(id, job.units));
  }
}

const proposed = (top: Top): Top => {
  const { length, depth, thickness } = top;
  return { ...top, proposed: { length, depth, thickness, from: 'habit' } };
};

const anySlab = ({ flitches }: Job): boolean =>
  Object.values(flitches).some(({ slabs }) =>
    Object.values(slabs).some(({ faces, taped }) => faces.top.outline || faces.bottom.outline || taped),
  );
