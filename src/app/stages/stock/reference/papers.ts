/** Sheets that lie about in a shop, mm, lying: ISO 216 A4 and A3; US Letter and Legal (8.5 x 11 and 8.5 x 14 in, from memory). */
export const PAPERS = {
  A4: { width: 297, height: 210 },
  Letter: { width: 279.4, height: 215.9 },
  A3: { width: 420, height: 297 },
  Legal: { width: 355.6, height: 215.9 },
} as const;
