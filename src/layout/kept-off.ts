import type { Region } from '../geometry';
import type { FaceName, Slab } from '../job';
import { defectArea } from './defect-area';
import { reachingDefects, reachingName } from './far-face';

/** Wood of a face that no finished piece may hold, and why. */
export interface KeptOff {
  readonly why: 'defect' | 'far defect' | 'sapwood';
  /** As a sentence calls it. */
  readonly name: string;
  readonly area: readonly Region<'face'>[];
}

/** Everything to be kept off on a face: its own defects, and what reaches it from the other. @param margin mm around each */
export function keptOff(slab: Slab, face: FaceName, margin: number): KeptOff[] {
  const own = Object.values(slab.faces[face].defects).filter(({ permit }) => permit === 'avoid');
  const far = reachingDefects(slab, face).filter(({ permit }) => permit === 'avoid');
  return [
    ...own.map((defect) => ({ why: 'defect' as const, name: defect.kind, area: defectArea(defect, margin) })),
    ...far.map((defect) => ({
      why: 'far defect' as const,
      name: reachingName(slab, face, defect),
      area: defectArea(defect, margin),
    })),
  ];
}
