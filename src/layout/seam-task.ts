import type { Placement, Strip } from '../job';
import { type Control, pause, stage } from '../search';
import type { Candidate } from './candidate';
import { fitted, isFit } from './fitted';
import { freeStock, type Ground, topOf } from './ground';
import type { KnownSeam } from './known-seams';
import { type SeamPlace, seamed } from './placement';
import { offeredTo } from './sapwood';
import { searchedTop } from './sawn';
import { seamPlaces } from './seam-places';
import { type FaceStock, stockOf } from './stock';
import type { Unfit } from './unfit';
import { whole } from './window';

/** Two faces to be searched for seams for a top. Plain data: it may be sent to another thread. */
export interface SeamTask {
  /** Keys of the faces, of two slabs. */
  readonly faces: readonly [front: string, back: string];
  /** Id of the top. */
  readonly top: string;
  /** What other pieces take of the slabs. */
  readonly taken: readonly Strip[];
  /** Seams of the two faces that were found before, for another top or in other wood: only along them is looked, which is soon done. */
  readonly known?: readonly KnownSeam[];
}

/** Names the pair of faces of a task, whichever stands in front. */
export const pairOf = ({ faces }: Pick<SeamTask, 'faces'>): string => [...faces].sort().join(' ');

/** What was found, as plain data. */
export interface FoundPlaces {
  readonly placements: readonly Placement[];
  /** Why places that the wood gives are not what is wanted. */
  readonly unfit: readonly Unfit[];
  /** Joint lines of all seams that were found, whether the top can be had on them or not. */
  readonly seams: readonly KnownSeam[];
}

/** Who carries out tasks. Answers stand in the order of the tasks, whoever finished first. */
export type SeamSearch = (tasks: readonly SeamTask[], control: Control) => Promise<readonly FoundPlaces[]>;

/**
 * One task.
 * @throws Cancelled
 */
export async function seamTask(
  { faces, top: id, taken, known }: SeamTask,
  ground: Ground,
  control: Control,
): Promise<FoundPlaces> {
  const { job, stock, grain } = ground;
  const placements: Placement[] = [];
  const unfit: Unfit[] = [];
  const free = freeStock(ground, taken);
  const [front, back] = faces.map((key) => free.find((face) => face.key === key));
  const seams: KnownSeam[] = [];
  if (!front || !back) return { placements, unfit, seams };
  const wanted = topOf(ground, id);
  const top = searchedTop(wanted);
  await pause(control, 0, `${wanted.name}: ${front.slab.name} in front, ${back.slab.name} behind`);
  const looks = grain(whole(front, stock), whole(back, stock));
  const offered = [offeredTo(top, front), offeredTo(top, back)] as const;
  for (const seam of await seamPlaces(...offered, looks, top, job.shop, control, known)) {
    seams.push({ front: seam.front.line, back: seam.back.line });
    const made = seamed(onWhole(seam, stock), top, job.shop);
    if (typeof made === 'string') continue;
    const place = fitted(made, wanted, job.shop);
    if (isFit(place)) placements.push(place.placement);
    else unfit.push(place);
  }
  return { placements, unfit, seams };
}

/** Tasks one after the other in this thread. */
export function searchHere(ground: Ground): SeamSearch {
  return async (tasks, control) => {
    const found: FoundPlaces[] = [];
    for (const [i, task] of tasks.entries()) {
      found.push(
        control.budget.left === 0
          ? { placements: [], unfit: [], seams: [] }
          : await seamTask(task, ground, stage(control, i / tasks.length, (i + 1) / tasks.length)),
      );
    }
    return found;
  };
}

/** The seam on the slabs as they are whole. */
export const onWhole = (seam: SeamPlace, stock: readonly FaceStock[]): SeamPlace => ({
  ...seam,
  front: { ...seam.front, stock: whole(seam.front.stock, stock) },
  back: { ...seam.back, stock: whole(seam.back.stock, stock) },
});

/** A placement with the faces that it lies on; null where the job holds one of them no more. */
export function candidateOf(placement: Placement, ground: Ground): Candidate | null {
  const stock = stockOf(placement.strips, ground.stock);
  return stock && { top: topOf(ground, placement.top), placement, stock };
}
