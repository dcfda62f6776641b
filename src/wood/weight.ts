import { InputProblem } from '../units';
import { FIBRE_SATURATION } from './movement';
import { findSpecies, type Species } from './species';

/** Specific gravity scatters by about 10 % within a species (Wood Handbook, coefficient of variation). */
const SCATTER = 0.1;

/** What moisture does to density, with the moisture content x in %. */
function gravityAt(green: number, volumetric: number, x: number): number {
  const shrunk = x < FIBRE_SATURATION ? volumetric * (1 - x / FIBRE_SATURATION) : 0;
  return green / (1 - shrunk / 100);
}

/** kg/m3 of wood of specific gravity `gravity` (dry mass on volume at that moisture) at `x` %: Wood Handbook Eq. 4-12. */
export const densityFromGravity = (gravity: number, x: number): number => 1000 * gravity * (1 + x / 100);

/**
 * Density in kg/m3 from basic specific gravity (dry mass on green volume) at moisture `x` %: Wood Handbook Eq. 4-7 and 4-9 to 4-12
 * (bodies of 4-7 to 4-11 from memory; they meet the handbook's ash example within 0.5 %). Without a tabled volumetric shrinkage
 * Eq. 4-10 takes 26.5 times the specific gravity. Above fibre saturation the volume stays and only the water's mass grows.
 */
export function densityFromBasicGravity(green: number, x: number, volumetric = 26.5 * green): number {
  return densityFromGravity(gravityAt(green, volumetric, x), x);
}

/** Density of a species in kg/m3 at a moisture content in %. */
export function density(species: Species, moisture: number): number {
  return densityFromBasicGravity(species.gravity.green.value, moisture, species.shrinkage.volumetric.value);
}

/**
 * Weight of a volume of wood, in kg, with the spread of its species (10 % either way). The volume is that at this moisture.
 * @throws InputProblem for an unknown species, a moisture outside 0..300 % or a volume below 0
 */
export function weight(asked: { readonly species: string; readonly moisture: number; readonly litres: number }): {
  readonly kg: number;
  readonly least: number;
  readonly most: number;
} {
  const { moisture, litres } = asked;
  const species = findSpecies(asked.species);
  if (!(moisture >= 0 && moisture <= 300))
    throw new InputProblem(
      `A moisture content of ${moisture} % cannot be.`,
      '/mc',
      'Give it in % of the dry mass, from 0 to 300.',
    );
  if (!(litres >= 0 && Number.isFinite(litres)))
    throw new InputProblem(`A volume of ${litres} litres cannot be.`, '/volume', 'Give it in litres, 0 or more.');
  const kg = (density(species, moisture) * litres) / 1000;
  return { kg, least: kg * (1 - SCATTER), most: kg * (1 + SCATTER) };
}
