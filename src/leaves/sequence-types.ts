import type { PicturedFace } from './drift-types';

/** A leaf as its photos show it; the far face as it was photographed, turned over. */
export interface PhotographedLeaf {
  /** What the maker calls it: its number. */
  readonly name: string;
  readonly top: PicturedFace;
  readonly bottom: PicturedFace | null;
}

/** Two leaves that lie one behind the other. */
export interface SequenceLink {
  /** Likeness by the rings alone: about .4 over one leaf, .7 over a kerf, .15 over two leaves, 0 for other wood. */
  readonly kinship: number;
  /** Cuts between them: 1, or more where leaves are missing. */
  readonly cuts: number;
}
