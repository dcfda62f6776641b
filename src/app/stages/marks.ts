import { signal } from '@preact/signals';
import { isProposed, type Job } from '../../job';
import type { boardsMark } from './leaves/yield-mark';
import type { StageMark } from './stage';
import { lacks } from './stock/lacks';

// What stands under each stage's name. Kept apart from the screens, which are fetched when they are opened.

/** What stands under the stage's name. */
export function stockMark(job: Job): StageMark {
  const slabs = Object.values(job.flitches).flatMap((flitch) => Object.values(flitch.slabs));
  const lacking = slabs.filter(lacks).length;
  if (slabs.length === 0) return { done: false, says: 'no slabs yet' };
  const count = slabs.length === 1 ? '1 slab' : `${slabs.length} slabs`;
  return { done: lacking === 0, says: lacking === 0 ? count : `${count}, ${lacking} to finish` };
}

/** What stands under the stage's name. */
export function topsMark(job: Job): StageMark {
  const tops = Object.keys(job.tops).length;
  const doors = Object.values(job.doors).reduce((sum, { count }) => sum + count, 0);
  if (tops + doors === 0) return { done: false, says: 'none yet' };
  const parts = [
    tops > 0 && (tops === 1 ? '1 top' : `${tops} tops`),
    doors > 0 && (doors === 1 ? '1 door' : `${doors} doors`),
  ];
  return { done: true, says: parts.filter(Boolean).join(', ') };
}

/** What stands under the stage's name. */
export function layoutMark(job: Job): StageMark {
  const plans = Object.values(job.plans);
  const kept = job.plans[job.keptPlan ?? ''];
  if (kept) return { done: kept.misses.length === 0, says: `${kept.name.toLowerCase()} of ${plans.length}` };
  return { done: false, says: plans.length > 0 ? 'none kept yet' : 'no plan yet' };
}

/** What stands under the stage's name. */
export function flatteningMark(job: Job): StageMark {
  const plan = job.plans[job.keptPlan ?? ''];
  if (!plan) return { done: false, says: 'no plan kept' };
  const placements = Object.values(plan.placements);
  const blanks = placements.reduce((sum, { strips }) => sum + strips.length, 0);
  const known = placements.every(({ thickness }) => thickness !== null);
  return { done: known, says: known ? `${blanks} blank${blanks === 1 ? '' : 's'}` : 'readings missing' };
}

/** What stands under the stage's name. */
export function keysMark(job: Job): StageMark {
  const plan = job.plans[job.keptPlan ?? ''];
  if (!plan) return { done: false, says: 'no plan kept' };
  const keyed = Object.values(plan.placements).flatMap(({ strips }) =>
    strips.flatMap(({ flitch, slab, face }) =>
      Object.values(job.flitches[flitch]?.slabs[slab]?.faces[face].defects ?? {}).filter(
        ({ permit, line }) => permit === 'keyed' && line,
      ),
    ),
  );
  if (keyed.some(isProposed)) return { done: false, says: 'cracks to confirm' };
  return { done: true, says: keyed.length > 0 ? 'placed' : 'none wanted' };
}

const countBoards = signal<typeof boardsMark | null>(null);

/** What stands under the stage's name. */
export function leavesMark(job: Job): StageMark {
  const doors = Object.values(job.doors).reduce((sum, { count }) => sum + count, 0);
  if (Object.keys(job.boards).length === 0)
    return doors === 0 ? { done: true, says: 'none wanted' } : { done: false, says: 'no board yet' };
  const count = countBoards.value;
  if (count) return count(job);
  void import('./leaves/yield-mark').then((part) => {
    countBoards.value = part.boardsMark;
  });
  return { done: false, says: 'counting' };
}

/** What stands under the stage's name. */
export function mapMark(job: Job): StageMark {
  const plan = job.plans[job.keptPlan ?? ''];
  if (plan) return { done: true, says: `of ${plan.name.toLowerCase()}` };
  const alone = papersAlone(job);
  if (alone && Object.keys(job.tops).length === 0) return { done: true, says: `of the ${alone}` };
  return { done: false, says: 'no plan kept' };
}

/** What has papers before there is a plan of tops. */
export function papersAlone(job: Job): 'doors' | 'boards' | null {
  if (Object.keys(job.boards).length === 0) return null;
  return job.sets[job.keptSet ?? ''] ? 'doors' : 'boards';
}
