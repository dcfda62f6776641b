import type { Job } from '../job';
import { checkSet, frontsOf, layOutSet, prepareBench } from '../leaves';
import { benchLeaves, benchRules, leafKey } from '../plan';
import type { FacePicture } from '../raster';
import { type Control, stage } from '../search';
import { storedPicture } from './job-pictures';
import type { JobSource } from './job-source';

/** A job's set, where it keeps none, has this name. */
const SET = { id: 'doors', name: 'Doors' };

/** The pictures of all leaves of a job, by `leafKey`. */
export async function leafPicturesOf({ job, files }: JobSource): Promise<Map<string, FacePicture>> {
  const pictures = new Map<string, FacePicture>();
  for (const board of Object.values(job.boards)) {
    for (const leaf of Object.values(board.leaves)) {
      for (const face of ['top', 'bottom'] as const) {
        const { picture } = leaf.faces[face];
        if (picture) pictures.set(leafKey(board.id, leaf.id, face), await storedPicture(picture, files));
      }
    }
  }
  return pictures;
}

/**
 * The job with its doors laid out on its leaves, as its kept set. As it was where it keeps one that still holds, or where it has no doors or no leaves.
 * @param anew searched again even where the job keeps a set
 */
export async function withDoorsLaid(
  job: Job,
  pictures: ReadonlyMap<string, FacePicture>,
  anew: boolean,
  control: Control,
): Promise<Job> {
  const fronts = frontsOf(Object.values(job.doors));
  const leaves = benchLeaves(job, pictures);
  if (fronts.length === 0 || leaves.length === 0) return job;
  const kept = job.sets[job.keptSet ?? ''];
  if (kept && !anew && checkSet(kept, fronts, leaves).length === 0) return job;
  const bench = await prepareBench(leaves, benchRules(job), stage(control, 0, 0.2));
  const request = {
    ...SET,
    ...(kept && { id: kept.id, name: kept.name, before: kept, without: kept.without }),
    fronts,
  };
  const set = await layOutSet(request, bench, stage(control, 0.2, 1));
  return { ...job, sets: { ...job.sets, [set.id]: set }, keptSet: set.id };
}
