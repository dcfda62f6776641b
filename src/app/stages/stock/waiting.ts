import type { Job } from '../../../job';
import type { Target } from './photo-work';
import { lacking } from './reference/draft';

/** The photos that no face was measured from yet, of faces that have no outline. */
export function waiting(job: Job): Target[] {
  const slabs = Object.values(job.flitches).flatMap((flitch) => Object.values(flitch.slabs));
  return slabs.flatMap((slab) =>
    (['top', 'bottom'] as const).flatMap((face) => {
      const { photos, outline } = slab.faces[face];
      const unread = Object.values(photos).filter(
        ({ calibration, draft }) => !calibration && !(draft && lacking(draft, slab.taped).length),
      );
      return outline ? [] : unread.map(({ id }) => ({ slabId: slab.id, face, photoId: id }));
    }),
  );
}
