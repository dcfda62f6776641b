/** Lengths of the saw are compared at 0.001 mm, so they are counted in whole micrometres. */
export const um = (mm: number): number => Math.round(mm * 1000);
