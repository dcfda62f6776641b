import type { LookOptions } from '../../photo';

/** What a photo shall show. */
export interface ShotWish extends Pick<LookOptions, 'side' | 'beside'> {
  /** Whether printed cards are to be seen in it. */
  readonly cards: boolean;
}
