import { formatLength, type UnitSystem } from '../units';

/** How a sentence names a length. */
export type Say = (mm: number) => string;

/** To a tenth of a millimetre or 1/32 in, as a rule is kept. With plain spaces: sentences are read by programs too. */
export const sayIn =
  (units: UnitSystem): Say =>
  (mm) =>
    formatLength(mm, units, { unit: true, denominator: 32, as: 'typed' });

/** To the millimetre or 1/8 in, as a crack is measured. */
export const sayRoughly =
  (units: UnitSystem): Say =>
  (mm) =>
    formatLength(mm, units, { unit: true, decimals: 0, denominator: 8 });
