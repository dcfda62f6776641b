import { defectLetters, type Job, type Placement } from '../job';
import { crackFate } from '../keys';

/** What becomes of the cracks at a top's ends when it is cut, a sentence each: end checks that go with the offcut, cracks that come to the new end. */
export function endCheckNotes(job: Job, { strips }: Placement): string[] {
  return strips.flatMap(({ flitch, slab: id, face, finished }) => {
    const slab = job.flitches[flitch]?.slabs[id];
    const outline = slab?.faces[face].outline;
    if (!slab || !outline) return [];
    const defects = Object.values(slab.faces[face].defects);
    const letters = defectLetters(defects);
    return defects.flatMap(({ id: defect, kind, line }) => {
      const fate = line && crackFate(line, outline.outer, finished);
      const called = `The ${kind} ${letters.get(defect) ?? defect} on ${slab.name}`;
      if (fate === 'goes') return [`${called} goes with the end that is cut off.`];
      if (fate === 'comes')
        return [`${called} is cut through: it comes out at the end of the top, open there, and wants a key or fill.`];
      return [];
    });
  });
}
