/**
 * How many leaves a board's thickness gives by each way of sawing it, in whole micrometres, each by a formula of its own (derived; the test
 * saws cut by cut). Between one cut and the next the sawn face is dressed.
 */

/** A thickness and what each cut takes of it, micrometres. */
export interface Thick {
  readonly thickness: number;
  /** Planed off the outer face once, before the first cut. */
  readonly face: number;
  readonly leaf: number;
  readonly kerf: number;
  readonly dressing: number;
  /** Least that must be left to hold after the last cut; with 0, a rest that still measures a leaf after dressing is one. */
  readonly lastPiece: number;
}

/** The same with the back, which is planed once where leaves come from it too. */
export interface TwoFaced extends Thick {
  readonly back: number;
}

interface FromOneFace {
  readonly cuts: number;
  readonly rest: number;
  readonly restIsLeaf: boolean;
}

/** From one face: n cuts leave T - a - n t - n k - (n - 1) p; the dressing that the last cut saves is added back. */
export function sawnFrom({ thickness, face, leaf, kerf, dressing, lastPiece }: Thick): FromOneFace {
  const cuts = Math.max(0, Math.floor((thickness - face - lastPiece + dressing) / (leaf + kerf + dressing)));
  const rest = thickness - face - (cuts === 0 ? 0 : cuts * (leaf + kerf) + (cuts - 1) * dressing);
  return { cuts, rest, restIsLeaf: lastPiece === 0 && rest - (cuts === 0 ? 0 : dressing) >= leaf };
}

/** From both faces in turn. */
export interface FromBothFaces {
  readonly outer: number;
  readonly inner: number;
  readonly rest: number;
  readonly restIsLeaf: boolean;
}

/**
 * From both faces in turn, the outer one first: n cuts, two or more, leave T - a - b - n t - n k - (n - 2) p, since neither face is dressed after
 * its last cut. One cut is made from the outer face, and the back is not planed for it.
 */
export function sawnFromBoth(thick: TwoFaced): FromBothFaces {
  const { thickness, face, back, leaf, kerf, dressing, lastPiece } = thick;
  const inside = thickness - face - back;
  const cuts = Math.floor((inside - lastPiece + 2 * dressing) / (leaf + kerf + dressing));
  if (cuts >= 2) {
    const rest = inside - cuts * (leaf + kerf) - (cuts - 2) * dressing;
    const outer = Math.ceil(cuts / 2);
    return { outer, inner: cuts - outer, rest, restIsLeaf: lastPiece === 0 && rest - dressing >= leaf };
  }
  const outer = Math.min(1, sawnFrom(thick).cuts);
  const rest = thickness - face - outer * (leaf + kerf);
  return { outer, inner: 0, rest, restIsLeaf: lastPiece === 0 && rest - outer * dressing >= leaf };
}

/** Halved first. */
export interface Halved {
  /** Leaves of the outer half and of the other one. */
  readonly leaves: readonly [number, number];
  /** Thickness of both halves as the halving cut leaves them. */
  readonly halves: readonly [number, number];
  /** Whether the rest of each half is its last leaf. */
  readonly restsAreLeaves: boolean;
}

/**
 * Sawn in two first, as near to the middle as the count allows, then each half from its fresh face outwards: m leaves of a half take
 * m (p + t + k) and its last piece, for the fresh face is dressed too; with a last piece of 0 the last leaf needs no cut. Null where a half would
 * give no leaf, so that nobody halves the board.
 */
export function sawnHalved({ thickness, face, leaf, kerf, dressing, lastPiece }: Thick): Halved | null {
  const inside = thickness - face - kerf;
  const each = leaf + kerf + dressing;
  const restsAreLeaves = lastPiece === 0;
  const held = restsAreLeaves ? -kerf : lastPiece;
  const count = Math.floor((inside - 2 * held) / each);
  if (count < 2) return null;
  const leaves = [Math.ceil(count / 2), Math.floor(count / 2)] as const;
  const [one, two] = [leaves[0] * each + held, leaves[1] * each + held];
  const over = inside - one - two;
  const first = one + Math.min(over, Math.max(0, Math.floor(inside / 2) - one));
  return { leaves, halves: [first, inside - first], restsAreLeaves };
}
