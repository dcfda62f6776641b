/** A unit of length. `kind` keeps feet from being mixed with millimetres in one length. */
export interface LengthUnit {
  readonly name: string;
  readonly mm: number;
  readonly kind: 'metric' | 'inch';
}

/** The inch is 25.4 mm exactly since the agreement of 1959. */
const NAMES: readonly [LengthUnit, ...string[]][] = [
  [{ name: 'mm', mm: 1, kind: 'metric' }, 'mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'],
  [{ name: 'cm', mm: 10, kind: 'metric' }, 'cm', 'centimetre', 'centimetres', 'centimeter', 'centimeters'],
  [{ name: 'm', mm: 1000, kind: 'metric' }, 'm', 'metre', 'metres', 'meter', 'meters'],
  [{ name: 'in', mm: 25.4, kind: 'inch' }, 'in', '"', 'inch', 'inches'],
  [{ name: 'ft', mm: 304.8, kind: 'inch' }, 'ft', "'", 'foot', 'feet'],
];

/** The unit that a word or mark stands for. */
export const LENGTH_UNITS: ReadonlyMap<string, LengthUnit> = new Map(
  NAMES.flatMap(([unit, ...words]) => words.map((word) => [word, unit] as const)),
);
