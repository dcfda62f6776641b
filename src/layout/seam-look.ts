import { type Stretch, scoreJoint } from '../grain';
import type { LookedAt } from './seam-grain';
import type { SeamPlace } from './seam-place';

/** How a seam looks, measured on the two faces; null where a face has no picture. */
export interface Look {
  readonly blend: number | null;
  readonly lines: number | null;
  /** Stretches of the seam from its first end. */
  readonly along: readonly Stretch[] | null;
}

/** A measure of seams between two faces. @param looks both faces made ready together; null where one has no picture */
export function seamLook(looks: LookedAt | null): (seam: Pick<SeamPlace, 'front' | 'back'>) => Look {
  if (!looks) return () => ({ blend: null, lines: null, along: null });
  return (seam) => {
    const inFront = { line: seam.front.line, keeps: 'right' } as const;
    const behind = { line: seam.back.line, keeps: 'left' } as const;
    const { blend, lines, along } = scoreJoint(looks[0], inFront, looks[1], behind);
    return { blend, lines, along };
  };
}
