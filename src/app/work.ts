import type { PhotoApi } from '../../workers/photo.worker';
import type { SolverApi } from '../../workers/solver.worker';
import { WorkerLine } from './worker-line';

/** The app's two workers. Each starts at its first call. */

/** Decodes, measures and traces photos. */
export const photoWork = new WorkerLine<PhotoApi>(
  () => new Worker(new URL('../../workers/photo.worker.ts', import.meta.url), { type: 'module', name: 'photo' }),
);

/** Lays out, computes and draws plans. */
export const solverWork = new WorkerLine<SolverApi>(
  () => new Worker(new URL('../../workers/solver.worker.ts', import.meta.url), { type: 'module', name: 'solver' }),
);
