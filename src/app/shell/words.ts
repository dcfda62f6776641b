/** The units that lengths are read and typed in, and what they are called. */
export const LENGTHS = [
  ['mm', 'millimetres'],
  ['in', 'inches'],
] as const;
