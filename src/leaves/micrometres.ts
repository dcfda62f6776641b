import { formatLength } from '../units';

/** Lengths of the saw are compared at 0.001 mm, so they are counted in whole micrometres. */
export const um = (mm: number): number => Math.round(mm * 1000);

/** A length of the saw in a sentence about what was given, mm: to the micrometre that it is compared at. */
export const sayMm = (mm: number): string => formatLength(mm, 'mm', { decimals: 3, unit: true, as: 'typed' });
