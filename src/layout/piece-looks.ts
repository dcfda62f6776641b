import type { Candidate } from './candidate';
import type { Look } from './seam-look';
import type { SeamPlace } from './seam-place';
import type { FaceStock } from './stock';

/** How a seam on two faces looks. */
export type LookOf = (
  front: FaceStock,
  back: FaceStock,
) => (seam: Pick<SeamPlace, 'front' | 'back'>) => Pick<Look, 'blend' | 'lines'>;

/** A placement whose joints say how each looks along its own length: that of a piece of a run, cut from seams that go on beyond it. */
export function asItLooks(piece: Candidate, lookOf: LookOf): Candidate {
  const { placement, stock } = piece;
  const joints = placement.joints.map((joint, i) => {
    const [a, b] = [placement.strips[i]?.jointBack, placement.strips[i + 1]?.jointFront];
    const [front, back] = [stock[i], stock[i + 1]];
    if (!a || !b || !front || !back) return joint;
    const { blend, lines } = lookOf(front, back)({ front: { stock: front, line: a }, back: { stock: back, line: b } });
    return { ...joint, blend, lines };
  });
  return { ...piece, placement: { ...placement, joints } };
}
