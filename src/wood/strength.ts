import type { Cell, Species } from './species';

/**
 * Strengths of small clear pieces at 12 % moisture: means, for comparing one layout with another. They promise no load: building codes
 * have designers avoid tension across the grain altogether.
 */
export type StrengthKind =
  | 'modulus of rupture'
  | 'compression parallel'
  | 'compression perpendicular'
  | 'shear parallel'
  | 'tension parallel'
  | 'tension perpendicular';

export interface Strength {
  /** Mean, N/mm2. */
  readonly mean: number;
  /** Mean less 1.645 coefficients of variation: one piece in twenty is weaker. */
  readonly fifth: number;
  readonly source: string;
}

const MPA_PER_PSI = 0.006894757293168;

/** Coefficients of variation in %: Wood Handbook Table 5-6 (from memory; tension perpendicular uncertain). */
const VARIATION: Readonly<Record<StrengthKind, number>> = {
  'modulus of rupture': 16,
  'compression parallel': 18,
  'compression perpendicular': 28,
  'shear parallel': 14,
  'tension parallel': 25,
  'tension perpendicular': 25,
};

/** Tension along the grain of green wood, psi: Wood Handbook Table 5-7 (sugar maple read as kPa; the others from memory). */
const TENSION_PARALLEL: Readonly<Record<string, Cell>> = {
  maple_sugar: { value: 15700, checked: 'read rounded' },
  yellow_poplar: { value: 15900, checked: 'from memory' },
  sweetgum: { value: 13600, checked: 'from memory' },
  beech_american: { value: 12500, checked: 'from memory' },
  baldcypress: { value: 8500, checked: 'from memory' },
  redcedar_western: { value: 6600, checked: 'from memory' },
  pine_eastern_white: { value: 10600, checked: 'from memory' },
  pine_ponderosa: { value: 8400, checked: 'from memory' },
  redwood_old_growth: { value: 9400, checked: 'from memory' },
};

/** Stress across the grain at the proportional limit, 12 % moisture, psi: Tables 5-3b and 5-5b (all from memory). */
const COMPRESSION_ACROSS: Readonly<Record<string, number>> = {
  walnut_black: 1010,
  oak_white: 1070,
  oak_red_northern: 1010,
  cherry_black: 690,
  maple_sugar: 1470,
  maple_red: 1000,
  maple_silver: 740,
  ash_white: 1160,
  elm_american: 690,
  hickory_shagbark: 1760,
  sycamore: 700,
  yellow_poplar: 500,
  butternut: 460,
  honeylocust: 1840,
  locust_black: 1830,
  cottonwood_eastern: 380,
  basswood: 370,
  beech_american: 1010,
  birch_yellow: 970,
  sweetgum: 620,
  hackberry: 890,
  alder_red: 440,
  baldcypress: 730,
  redcedar_eastern: 920,
  redcedar_western: 460,
  douglas_fir_coast: 800,
  redwood_old_growth: 700,
  redwood_young_growth: 520,
  pine_ponderosa: 580,
  pine_eastern_white: 440,
  fir_white: 530,
};

/**
 * One strength of a species, or null where the handbook has none: nothing is guessed. Tension along the grain is seldom tabled; there the
 * modulus of rupture stands in as a low estimate (handbook's advice, from memory).
 */
export function strength(species: Species, kind: StrengthKind): Strength | null {
  const [cell, table] = tabled(species, kind);
  if (!cell) return null;
  const mean = cell.value * MPA_PER_PSI;
  return {
    mean,
    fifth: mean * (1 - (1.645 * VARIATION[kind]) / 100),
    source: `Wood Handbook FPL-GTR-190 (2010) ${table}, ${cell.value} psi, ${cell.checked}`,
  };
}

function tabled(species: Species, kind: StrengthKind): [Cell | null, string] {
  const table = 'Tables 5-3b and 5-5b';
  switch (kind) {
    case 'modulus of rupture':
      return [species.psi.rupture, `${table}, modulus of rupture`];
    case 'compression parallel':
      return [species.psi.compressionParallel, `${table}, compression parallel`];
    case 'compression perpendicular': {
      const value = COMPRESSION_ACROSS[species.id];
      return [
        value === undefined ? null : { value, checked: 'from memory' },
        `${table}, compression perpendicular at the proportional limit`,
      ];
    }
    case 'shear parallel':
      return [species.psi.shearParallel, `${table}, shear parallel`];
    case 'tension perpendicular':
      return [species.psi.tensionPerpendicular, `${table}, tension perpendicular`];
    case 'tension parallel': {
      const own = TENSION_PARALLEL[species.id];
      return own
        ? [own, 'Table 5-7, tension parallel, green']
        : [species.psi.rupture, `${table}, modulus of rupture as a low estimate of tension parallel`];
    }
  }
}
