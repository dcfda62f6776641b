import { type FaceName, HAND_SIGMA, type Slab } from '../job';
import { farLetters, reachingDefects, reachingName } from '../layout';
import { marksOn } from '../plan';
import type { MeasuredSlab } from './measures';

/** A slab's face before there is a plan: wood to put two marks on. Null before it is traced. */
export function bareSlab(slab: Slab, side: FaceName): MeasuredSlab | null {
  const { outline, outlineSigma, photos, defects } = slab.faces[side];
  if (!outline) return null;
  const letters = farLetters(slab, side);
  return {
    outline,
    outlineSigma: outlineSigma ?? HAND_SIGMA,
    pointSigma: Object.values(photos).flatMap(({ calibration }) => calibration?.sigma ?? []),
    defects: Object.values(defects),
    farDefects: reachingDefects(slab, side).map((defect) => ({
      letter: letters.get(defect.id) ?? '',
      name: reachingName(slab, side, defect),
      defect,
    })),
    marks: marksOn(slab, side),
    ...(slab.drilled && { drilled: true }),
    blanks: [],
    cuts: [],
    keys: [],
  };
}
