import type { Defect, Face } from '../../../job';
import { sameCrack } from '../../../layout';

/** Cracks and shakes of this face and of the other that run at the same place, and are not yet known to go through. */
export function sameCracks(face: Face, far: readonly Defect[]): { near: Defect; far: Defect }[] {
  const open = (defect: Defect) => defect.line !== undefined && !defect.through;
  return Object.values(face.defects)
    .filter(open)
    .flatMap((near) => far.filter(open).flatMap((other) => (sameCrack(near, other) ? [{ near, far: other }] : [])));
}
