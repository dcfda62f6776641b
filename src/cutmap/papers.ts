/**
 * Paper sizes, portrait, mm: ISO 216 for the A sizes; US Letter and Tabloid from memory (8.5 x 11 and 11 x 17 in), rolls of 24 and 36 in (610 and
 * 914 mm; common practice, no source). What hangs on a wall is laid out as on A3 and printed `times` as large across a roll; what has to be of
 * its true size is as long as it needs.
 */
export const PAPERS = {
  A4: { called: 'A4', width: 210, height: 297, times: 1 },
  Letter: { called: 'Letter', width: 215.9, height: 279.4, times: 1 },
  A3: { called: 'A3', width: 297, height: 420, times: 1 },
  Tabloid: { called: 'Tabloid', width: 279.4, height: 431.8, times: 1 },
  Roll: { called: 'a roll of 24 in', width: 304.8, height: 431.8, times: 2 },
  Roll36: { called: 'a roll of 36 in', width: 304.8, height: 431.8, times: 3 },
} as const;
export type PaperName = keyof typeof PAPERS;
