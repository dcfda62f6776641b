import { crossesItself, ringArea } from '../geometry';
import { InputProblem } from '../units';
import type { KeysInput } from './io';

/**
 * Refuses what cannot be keyed at all.
 * @throws InputProblem for an outline without area or that crosses itself, a crack without length or whose depth and faces contradict each other, or
 *   two sizes of one name
 */
export function refuseBadCracks({ top, cracks, sizes }: KeysInput): void {
  if (ringArea(top.outline) <= 0)
    throw new InputProblem('The outline of the top has no area.', '/top/outline', 'Give its corners in order.');
  if (crossesItself(top.outline))
    throw new InputProblem('The outline of the top crosses itself.', '/top/outline', 'Give its corners in order.');
  sizes.forEach(({ id }, i) => {
    if (sizes.findIndex((size) => size.id === id) < i)
      throw new InputProblem(`Two key sizes are called "${id}".`, `/sizes/${i}/id`, 'Give each a name of its own.');
  });
  cracks.forEach(({ line, far, faces, depth, kind }, i) => {
    refuseNoLength(line, `/cracks/${i}/line`);
    if (far) refuseNoLength(far, `/cracks/${i}/far`);
    if (faces === 'top' && far)
      throw new InputProblem(
        'The crack has a line on the far face, but is said to show on the top face alone.',
        `/cracks/${i}/faces`,
        'Say "both", or take the line of the far face out.',
      );
    if (faces === 'both' && depth === 'surface')
      throw new InputProblem(
        'The crack shows on both faces, so it is no surface crack.',
        `/cracks/${i}/depth`,
        'Say that it goes through; or give two cracks, if two shallow ones face each other.',
      );
    if (kind === 'seam' && faces === 'both')
      throw new InputProblem('A seam is decorated on the top face only.', `/cracks/${i}/faces`, 'Say "top".');
  });
}

function refuseNoLength(line: KeysInput['cracks'][number]['line'], where: string): void {
  const [first] = line;
  if (line.every(([x, y]) => x === first?.[0] && y === first?.[1]))
    throw new InputProblem('The crack has no length.', where, 'Give its two tips, or take it out.');
}
