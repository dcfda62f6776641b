import { wanderMap } from '../grain';
import { type Control, pause } from '../search';
import { type Followed, Follower, turnedMap } from './seam-follow';
import { type Pair, type SeamBench, stripDepths } from './seam-pair';
import { spread } from './spread';

/** Steps of the slide, and of the joint's middle along the front slab, mm. */
const SLIDE = 30;
const MIDDLES = 400;
/** Room is asked for at rows so far apart, mm, and lines may run so far beyond what level ones leave. */
const ROWS = 6;
const BEYOND = 12;

/**
 * The third sieve: pairs of lines, each at its own angle, over which single lines of the figure can be followed from one slab into the other, the
 * best first. It finds what the second, whose lines are all at one angle and weighed together, passes over, and the other way round. The place is
 * the same whichever strips are kept, so each is given with every way of keeping them that fits.
 * @param turned -1 with the slab behind turned end for end
 */
export async function wanderPairs(bench: SeamBench, turned: 1 | -1, control: Control): Promise<Pair[]> {
  const { front, back, limits, length } = bench;
  const [inFront, behind] = [wanderMap(front.features), wanderMap(back.features)];
  const [first, last] = [front.room.minX + length / 2, front.room.maxX - length / 2];
  const slides = spread(-limits.slide, limits.slide, SLIDE);
  const middles = middlesOf(first, last);
  const pairs: { readonly match: number; readonly pair: Pair }[] = [];
  for (const [i, x] of middles.entries()) {
    const backs = slides.map((slide) => back.middle + turned * (x - front.middle - slide));
    const rows = [rowsOf(bench, 'front', x), rowsOf(bench, 'back', backs[backs.length >> 1] as number)] as const;
    if (!rows[0] || !rows[1]) continue;
    const follower = new Follower(inFront, turned === 1 ? behind : turnedMap(behind), {
      length,
      x,
      backs: backs.map((backX) => turned * backX),
      degrees: limits.degrees,
      rows: [rows[0], turned === 1 ? rows[1] : [-rows[1][1], -rows[1][0]]],
    });
    for (const [k] of backs.entries()) {
      if (control.budget.left === 0 && pairs.length > 0) break;
      await pause(control, (i + k / backs.length) / middles.length);
      follower.look(k);
    }
    for (const found of follower.best()) {
      for (const way of [1, -1] as const) {
        const pair = pairOf(found, turned, way);
        if (bench.fits(pair)) pairs.push({ match: found.match, pair });
      }
    }
  }
  return pairs.sort((a, b) => b.match - a.match).map(({ pair }) => pair);
}

function pairOf({ front, back }: Followed, turned: 1 | -1, way: 1 | -1): Pair {
  return {
    front: { ...front, way },
    back: { x: turned * back.x, y: turned * back.y, degrees: back.degrees, way: turned === way ? 1 : -1 },
  };
}

/** Middles of equal parts, none longer than MIDDLES. */
function middlesOf(first: number, last: number): number[] {
  if (last < first) return [];
  const parts = Math.max(1, Math.ceil((last - first) / MIDDLES));
  return Array.from({ length: parts }, (_, i) => first + ((i + 0.5) * (last - first)) / parts);
}

/** Where level lines with their middle at x leave wood for a strip on either side. */
function rowsOf(bench: SeamBench, side: 'front' | 'back', x: number): readonly [number, number] | null {
  const { room } = bench[side];
  let [from, to] = [Infinity, -Infinity];
  for (let y = room.minY; y <= room.maxY; y += ROWS) {
    for (const way of [1, -1] as const) {
      const place = { x, y, degrees: 0, way };
      if (!stripDepths(bench[side], side, place)) continue;
      from = Math.min(from, y);
      to = Math.max(to, y);
    }
  }
  return to >= from ? [from - BEYOND, to + BEYOND] : null;
}
