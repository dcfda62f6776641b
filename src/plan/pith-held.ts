import { applyAll, bounds, intersection, type Point, type Polygon, regionsArea } from '../geometry';
import type { FaceName, Flitch, Slab } from '../job';
import { clipLine } from '../keys';
import { defectArea, farDefects, farPith, fromFarFace } from '../layout';
import { findSpecies } from '../wood';
import { pithPlace, sawnThickness } from './pith-place';

/** What is known of the pith in a blank. */
export interface PithHeld {
  /** Whether it runs in the blank, or only may: its line crosses it, but how deep it lies is not known well enough, or the other way round. */
  readonly sure: boolean;
  /** How many times as much the wood shrinks along its rings as across them (Wood Handbook Table 4-3): why it cracks there. */
  readonly ratio: number;
}

/** The pith's line crosses a blank where it runs this far inside, mm. */
const LEAST = 20;
/** The height of the pith, told by the widths of the slabs, may be off by this share of a slab's thickness (ours; logs are not round). */
const DOUBT = 0.5;

/** Whether a blank holds the pith: by the line on the face that is up (as corrected), else the other face's, and by the height that the slabs' widths tell. */
export function pithHeld(flitch: Flitch, slab: Slab, face: FaceName, rough: Polygon<'face'>): PithHeld | null {
  const { shrinkage } = findSpecies(flitch.species);
  const ratio = shrinkage.tangential.value / shrinkage.radial.value;
  if (showsIn(slab, face, rough)) return { sure: true, ratio };
  const depth = depthOf(flitch, slab);
  if (depth === 'outside') return null;
  const line = slab.faces[face].pith ?? farPith(slab, face);
  if (line) return crosses(line, rough) ? { sure: depth === 'inside', ratio } : null;
  return depth === 'inside' && liesBeside(flitch, slab, face, rough) ? { sure: false, ratio } : null;
}

/** Whether somebody saw the pith itself on either face, within the blank. */
function showsIn(slab: Slab, face: FaceName, rough: Polygon<'face'>): boolean {
  const seen = [...Object.values(slab.faces[face].defects), ...farDefects(slab, face)];
  return seen
    .filter(({ kind }) => kind === 'pith')
    .some((defect) => regionsArea(intersection([{ outer: rough, holes: [] }], defectArea(defect, 0))) > 1);
}

/** Whether the log's middle lies within the slab's thickness, nearly so, or nobody can say. */
function depthOf(flitch: Flitch, slab: Slab): 'inside' | 'outside' | 'open' {
  const [place, thickness] = [pithPlace(flitch, slab), sawnThickness(slab)];
  if (!place || thickness === null) return 'open';
  const beyond = Math.max(place.z, -thickness - place.z);
  return beyond <= 0 ? 'inside' : beyond <= DOUBT * thickness ? 'open' : 'outside';
}

const crosses = (line: readonly Point<'face'>[], rough: Polygon<'face'>): boolean =>
  clipLine(
    line.map(([x, y]) => [x, y, 0] as const),
    rough,
    LEAST,
  ).length > 0;

/** Whether the log's middle lies between the blank's edges, where no face shows where it runs. */
function liesBeside(flitch: Flitch, slab: Slab, face: FaceName, rough: Polygon<'face'>): boolean {
  const place = pithPlace(flitch, slab);
  if (!place || (face === 'bottom' && !slab.tie)) return false;
  const { minY, maxY } = bounds(face === 'bottom' && slab.tie ? applyAll(fromFarFace(slab.tie), rough) : rough);
  return minY < place.y && place.y < maxY;
}

/** What to expect of it, in words. */
export const pithWords = ({ sure, ratio }: PithHeld): string =>
  `${sure ? 'It holds the pith' : 'The pith runs in it or close by'}: this wood shrinks ${ratio.toFixed(1)} times as much along its rings as across them, so around the pith it cracks, and cups beside it, as it dries.`;
