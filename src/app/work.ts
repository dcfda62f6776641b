import type { LeavesApi } from '../../workers/leaves.worker';
import type { PhotoApi } from '../../workers/photo.worker';
import type { SolverApi } from '../../workers/solver.worker';
import type { YardApi } from '../../workers/yard.worker';
import { WorkerLine } from './worker-line';

/** The app's workers. Each starts at its first call. */

/** Decodes, measures and traces photos. */
export const photoWork = new WorkerLine<PhotoApi>(
  () => new Worker(new URL('../../workers/photo.worker.ts', import.meta.url), { type: 'module', name: 'photo' }),
);

/** Lays out, computes and draws plans. */
export const solverWork = new WorkerLine<SolverApi>(
  () => new Worker(new URL('../../workers/solver.worker.ts', import.meta.url), { type: 'module', name: 'solver' }),
);

/** Lays doors out on their leaves. */
export const leavesWork = new WorkerLine<LeavesApi>(
  () => new Worker(new URL('../../workers/leaves.worker.ts', import.meta.url), { type: 'module', name: 'leaves' }),
);

/** Most that rank a rack at a time: each holds pictures of some slabs. */
const MOST_RANKERS = 4;

let rankers: readonly WorkerLine<YardApi>[] | null = null;

/** Rank the slabs of a rack, one set each at a time: as many as there are cores. Made when first asked for. */
export function yardWork(): readonly WorkerLine<YardApi>[] {
  rankers ??= Array.from(
    { length: Math.max(1, Math.min(MOST_RANKERS, navigator.hardwareConcurrency || 1)) },
    (_, i) =>
      new WorkerLine<YardApi>(
        () =>
          new Worker(new URL('../../workers/yard.worker.ts', import.meta.url), { type: 'module', name: `yard-${i}` }),
      ),
  );
  return rankers;
}
