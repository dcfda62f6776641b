/** What is used of bidi-js 1.0.3, which brings no types: the Unicode bidirectional algorithm (UAX 9). */
declare module 'bidi-js' {
  interface EmbeddingLevels {
    readonly levels: Uint8Array;
  }
  interface Bidi {
    getEmbeddingLevels(text: string, direction?: 'ltr' | 'rtl' | 'auto'): EmbeddingLevels;
    /** Stretches [first, last] to turn about, one after the other. */
    getReorderSegments(text: string, levels: EmbeddingLevels): [first: number, last: number][];
    getMirroredCharacter(character: string): string | null;
  }
  export default function bidiFactory(): Bidi;
}
