import { distance, nearestOnSegment, type Point, type Segment } from '../geometry';
import type { KeysInput } from './io';
import type { Rail } from './search-stretch';

/** Points compared along a crack and its mirror image. */
const SAMPLES = 9;
/** A crack counts as another's mirror image where it lies within so much of it, as a share of its length, or so many mm (ours). */
const WITHIN_SHARE = 0.08;
const WITHIN = 15;

/** The place of a point mirrored in a line. */
function mirrored([x, y]: Point<'top'>, [[ax, ay], [bx, by]]: Segment<'top'>): Point<'top'> {
  const [dx, dy] = [bx - ax, by - ay];
  const t = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy);
  return [2 * (ax + t * dx) - x, 2 * (ay + t * dy) - y];
}

/** How far the mirror image of one crack lies from another at most, mm, and whether it runs the other way along it. */
function apart(a: Rail, b: Rail, axis: Segment<'top'>): { mm: number; turned: boolean } {
  const image = (i: number) => mirrored(a.part.at((a.part.length * i) / (SAMPLES - 1)), axis);
  const own = (i: number) => b.part.at((b.part.length * i) / (SAMPLES - 1));
  const worst = (of: (i: number) => Point<'top'>) =>
    Math.max(...Array.from({ length: SAMPLES }, (_, i) => distance(image(i), of(i))));
  const [same, other] = [worst(own), worst((i) => own(SAMPLES - 1 - i))];
  return { mm: Math.min(same, other), turned: other < same };
}

/**
 * Rails put together that mirror each other over the seam of a book-matched top, so that they are keyed alike; the others stay by themselves. Leaves of a
 * flitch lie a kerf apart in the log, so a crack and its image are only nearly alike: the second is followed at the same shares of its length.
 */
export function mirroredPairs(rails: readonly Rail[], { mirror, cracks }: KeysInput): [Rail, ...Rail[]][] {
  const left = [...rails];
  const groups: [Rail, ...Rail[]][] = [];
  for (let rail = left.shift(); rail; rail = left.shift()) {
    const own = rail;
    const [nearest] = left
      .filter(
        ({ crack, faces }) =>
          crack !== own.crack && cracks[crack]?.kind !== 'seam' && faces.join() === own.faces.join(),
      )
      .map((other) => ({ other, ...apart(own, other, mirror as Segment<'top'>) }))
      .filter(({ mm }) => mm <= Math.max(WITHIN, WITHIN_SHARE * own.part.length))
      .sort((a, b) => a.mm - b.mm);
    if (!nearest || cracks[own.crack]?.kind === 'seam') {
      groups.push([own]);
      continue;
    }
    left.splice(left.indexOf(nearest.other), 1);
    const { length } = nearest.other.part;
    const scale = length / own.part.length;
    groups.push([own, { ...nearest.other, along: (s) => (nearest.turned ? length - s * scale : s * scale) }]);
  }
  return groups;
}

/** Whether a line is long enough to mirror in. */
export const canMirror = ({ mirror }: KeysInput): boolean =>
  mirror !== undefined && distance(mirror[0], nearestOnSegment(mirror[0], [mirror[1], mirror[1]])) > 1;
