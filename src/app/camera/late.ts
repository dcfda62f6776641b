import { late } from '../stages/late';

/** The camera's screens come when they are first opened. */

export const CameraSheet = late(async () => (await import('./camera-sheet')).CameraSheet);
export const BestSheet = late(async () => (await import('./best-sheet')).BestSheet);
