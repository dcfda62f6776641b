/** What a maker would say of a seam. */
export type SeamWord = 'disappears' | 'hard to see' | 'shows' | 'plain to see';

/** The word for a blend, 0..1 (DESIGN 5.3; the limits are to be settled by looking). */
export function seamWord(blend: number): SeamWord {
  if (blend >= 0.3) return 'disappears';
  if (blend >= 0.1) return 'hard to see';
  return blend >= 0.02 ? 'shows' : 'plain to see';
}
