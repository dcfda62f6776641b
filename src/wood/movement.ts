import { InputProblem } from '../units';
import { type Cell, findSpecies, type Species } from './species';

/** How the rings stand to the width: flat-sawn, quarter-sawn, or a slab sawn through and through, which is both. */
type Cut = 'flat' | 'quarter' | 'through';

/** Above this moisture the cell walls are full and wood does not move (fibre saturation, %). */
export const FIBRE_SATURATION = 30;

export interface MovementAsked {
  /** Id or name of the species. */
  readonly species: string;
  /** mm across the grain, at moisture `from`. */
  readonly width: number;
  /** Moisture contents, %. */
  readonly from: number;
  readonly to: number;
  readonly cut: Cut;
}

/** Change of width in mm, negative when it shrinks; `least <= change <= most` as numbers. */
interface Movement {
  readonly change: number;
  readonly least: number;
  readonly most: number;
  /** Equation, coefficient and table, in words. */
  readonly source: string;
}

type Way = 'radial' | 'tangential';
const LETTER: Readonly<Record<Way, string>> = { radial: 'R', tangential: 'T' };

/**
 * Coefficient of dimensional change that a shrinkage S0 (%) stands for: C = S0 / (100 F - (F - 10) S0), F = 30 %.
 * It gives Table 13-5 back from Table 4-3 within 0.00001 for the species that have both (two cedars and redwoods need F = 22).
 */
export function coefficientFromShrinkage(shrinkage: number, saturation = FIBRE_SATURATION): number {
  return shrinkage / (100 * saturation - (saturation - 10) * shrinkage);
}

const howRead = (cell: Cell): string => (cell.checked === 'from memory' ? ' (from memory)' : '');

function coefficient(species: Species, way: Way): { value: number; said: string } {
  const cell = species.coefficient[way];
  if (cell) return { value: cell.value, said: `C${LETTER[way]} ${cell.value}${howRead(cell)}` };
  const value = coefficientFromShrinkage(species.shrinkage[way].value);
  return { value, said: `C${LETTER[way]} ${value.toFixed(5)} (derived from the shrinkage of Table 4-3 or 4-4)` };
}

/** Change of one mm in one direction of the grain, and how it was found. */
function changePerMm(species: Species, way: Way, from: number, to: number): { value: number; said: string } {
  const inRange = [from, to].every((m) => m >= 6 && m <= 14);
  if (inRange) {
    const c = coefficient(species, way);
    return { value: c.value * (to - from), said: c.said };
  }
  const s = species.shrinkage[way];
  const value = (to - from) / ((FIBRE_SATURATION * 100) / s.value - FIBRE_SATURATION + from);
  return { value, said: `S${LETTER[way]} ${s.value} %${howRead(s)}` };
}

/**
 * How a width changes with moisture. Between 6 and 14 % by the Wood Handbook's Eq. 13-2, the change being width x coefficient x change
 * of moisture; outside by Eq. 13-3 from the shrinkage (its body from memory and re-derived). Above fibre saturation (30 %) wood
 * does not move, so moisture counts up to 30 % only. `least` and `most` span radial to tangential, for the handbook warns that wood is
 * seldom truly flat- or quarter-sawn; for a slab sawn through and through `change` is their mean.
 * @throws InputProblem for an unknown species, a width that is not above 0, or a moisture below 0
 */
export function movement({ species: name, width, from, to, cut }: MovementAsked): Movement {
  const species = findSpecies(name);
  if (!(width > 0 && Number.isFinite(width)))
    throw new InputProblem('The width must be more than 0.', '/width', 'Give the width in mm.');
  for (const [where, m] of [
    ['/from', from],
    ['/to', to],
  ] as const) {
    if (!(m >= 0 && m <= 300))
      throw new InputProblem(
        `A moisture content of ${m} % cannot be.`,
        where,
        'Give it in % of the dry mass, from 0 to 300.',
      );
  }
  const [a, b] = [Math.min(from, FIBRE_SATURATION), Math.min(to, FIBRE_SATURATION)];
  const radial = changePerMm(species, 'radial', a, b);
  const tangential = changePerMm(species, 'tangential', a, b);
  const [r, t] = [radial.value * width, tangential.value * width];
  const change = cut === 'flat' ? t : cut === 'quarter' ? r : (r + t) / 2;
  return {
    change,
    least: Math.min(r, t),
    most: Math.max(r, t),
    source: source(species, cut, [a, b], Math.max(from, to), radial.said, tangential.said),
  };
}

function source(
  species: Species,
  cut: Cut,
  moistures: readonly number[],
  highest: number,
  radial: string,
  tangential: string,
): string {
  const near = moistures.every((m) => m >= 6 && m <= 14);
  const equation = near ? 'Eq. 13-2, Table 13-5' : 'Eq. 13-3 with the shrinkage of Table 4-3 or 4-4';
  const used = cut === 'flat' ? tangential : cut === 'quarter' ? radial : `the mean of ${radial} and ${tangential}`;
  const notes = [
    near ? species.note : null,
    highest > FIBRE_SATURATION ? `Above ${FIBRE_SATURATION} % wood does not move.` : null,
  ].filter((note) => note !== null);
  return [
    `Wood Handbook FPL-GTR-190 (2010) ${equation}: ${used}; bounds from ${radial} to ${tangential}.`,
    ...notes,
  ].join(' ');
}

/** How far a mitred corner opens when boards of a width change by `change` mm: it shows along the mitre, times the root of two. */
export function mitreOpening(change: number): number {
  return Math.abs(change) * Math.SQRT2;
}

/**
 * Length of the slot that lets a top slide over a screw: the screw's diameter, what the wood moves between the line where it is fixed
 * and the screw, and 1 mm (practice; the formula derived). All in mm.
 */
export function slotLength(screw: number, distance: number, asked: Omit<MovementAsked, 'width' | 'cut'>): number {
  if (distance === 0) return screw + 1;
  return screw + Math.abs(movement({ ...asked, width: distance, cut: 'flat' }).change) + 1;
}
