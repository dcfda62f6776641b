import { ringArea } from '../geometry';
import { type Job, moistureOf, type Placement } from '../job';

/** Area-weighted moisture of the slabs that a top is cut from, %; null where one was not measured. */
export function moistureOfTop(job: Job, placement: Placement): number | null {
  let [sum, area] = [0, 0];
  for (const strip of placement.strips) {
    const flitch = job.flitches[strip.flitch];
    const slab = flitch?.slabs[strip.slab];
    const measured = flitch && slab ? moistureOf(flitch, slab) : null;
    if (measured === null) return null;
    sum += measured * ringArea(strip.finished);
    area += ringArea(strip.finished);
  }
  return area === 0 ? null : sum / area;
}
