import { bounds } from '../geometry';
import type { Job } from '../job';
import { formatLength, InputProblem } from '../units';
import { findSpecies } from '../wood';

/** No sawmill's carriage takes a log of this length, mm (practice, no source): what is longer was given in another unit. */
export const LONGEST = 30_000;

/**
 * Refuses stock that no schema of single fields can tell to be wrong, and that would be searched for hours or only found wrong on the sheets.
 * @throws InputProblem at the species that is not known, or at the outline that no slab can have
 */
export function refuseBadStock(job: Job): void {
  for (const { id, species, slabs } of Object.values(job.flitches)) {
    findSpecies(species, `/flitches/${id}/species`);
    for (const slab of Object.values(slabs)) {
      for (const name of ['top', 'bottom'] as const) {
        const { outline } = slab.faces[name];
        if (!outline) continue;
        const { minX, maxX, minY, maxY } = bounds(outline.outer);
        const size = Math.max(maxX - minX, maxY - minY);
        if (size <= LONGEST) continue;
        throw new InputProblem(
          `The outline of ${slab.name} is ${formatLength(size, job.units, { unit: true })} long: no slab is.`,
          `/flitches/${id}/slabs/${slab.id}/faces/${name}/outline`,
          'Give lengths in millimetres, or trace it again.',
        );
      }
    }
  }
  for (const { id, species } of Object.values(job.boards)) findSpecies(species, `/boards/${id}/species`);
  if (job.shop.keySpecies !== null) findSpecies(job.shop.keySpecies, '/shop/keySpecies');
}
