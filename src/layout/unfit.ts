/** Why a place that was found in the wood is not what is wanted, and by how much, mm. */
export interface Unfit {
  readonly why: 'swing' | 'zone' | 'cut-out' | 'strip' | 'stairs' | 'bevel';
  readonly by: number;
}
