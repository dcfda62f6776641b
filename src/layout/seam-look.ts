import { scoreJoint } from '../grain';
import type { SeamPlace } from './placement';
import { grainOfPairs } from './seam-grain';
import type { FaceStock } from './stock';

/** How a seam looks, measured on the two faces; null where a face has no picture. */
export interface Look {
  readonly blend: number | null;
  readonly lines: number | null;
}

/** A measure of seams between two faces, which are read once. */
export function seamLook(
  front: FaceStock,
  back: FaceStock,
  kerf: number,
): (seam: Pick<SeamPlace, 'front' | 'back'>) => Look {
  const looks = grainOfPairs(kerf)(front, back);
  if (!looks) return () => ({ blend: null, lines: null });
  return (seam) => {
    const inFront = { line: seam.front.line, keeps: 'right' } as const;
    const behind = { line: seam.back.line, keeps: 'left' } as const;
    const { blend, lines } = scoreJoint(looks[0], inFront, looks[1], behind);
    return { blend, lines };
  };
}
