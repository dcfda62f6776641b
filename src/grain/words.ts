/** What a maker would say of a seam. */
export type SeamWord = 'disappears' | 'hard to see' | 'shows' | 'plain to see';

/**
 * The word for a blend, 0..1, of a seam or of a stretch of one. The lowest limit was settled by looking at the two sides of 16 seams of 1.2 m, best to
 * worst, on rendered walnut and cherry: from .1 an eye has to search for them, at .04 they show, at .02 a step of colour runs along them. DESIGN 5.3
 * begins with .02.
 */
export function seamWord(blend: number): SeamWord {
  if (blend >= 0.3) return 'disappears';
  if (blend >= 0.1) return 'hard to see';
  return blend >= 0.03 ? 'shows' : 'plain to see';
}

/** What a joint of this word does, said after its name: 'disappears', 'is hard to see'. */
export const seamDoes = (word: SeamWord): string =>
  word === 'hard to see' || word === 'plain to see' ? `is ${word}` : word;
