import type { Bounds, Frame, Polygon } from '../geometry';
import { common, FreeWood, longestOf, type Spans } from './free-spans';

/**
 * The largest rectangle along the axes in a polygon with holes. Both its upright sides are first known only to a strip of x; what is free over all x between
 * the strips bounds it from above, as wide as the strips' far sides, and from below, as wide as their near ones. The most promising pair of strips is halved
 * again and again, so that what cannot be the largest is never looked at closely (branch and bound).
 */

/** Strips no wider than this are not halved again, mm: the rectangle is true to a millimetre. */
const FINE = 0.5;
/** Width of the strips at the beginning, mm, where the rectangle asked for is not narrower. */
const COARSE = 30;
/** Pairs of strips that are looked at, at most: what then is largest is taken. More than wood of any shape was seen to need. */
const MOST_PAIRS = 30_000;

/** Size that a rectangle must have to be of use: its longer and its shorter side, mm. */
export interface LeastSize {
  readonly long: number;
  readonly short: number;
}

interface Pair {
  /** Strip of the left side and of the right side. */
  readonly left: readonly [number, number];
  readonly right: readonly [number, number];
  /** Free over all x between them. */
  readonly between: Spans;
  readonly atMost: number;
}

const fits = (width: number, height: number, { long, short }: LeastSize): boolean =>
  Math.max(width, height) >= long && Math.min(width, height) >= short;

/** Pairs, the most promising first. */
class Heap {
  readonly #pairs: Pair[] = [];

  push(pair: Pair): void {
    const pairs = this.#pairs;
    let i = pairs.push(pair) - 1;
    while (i > 0) {
      const parent = (i - 1) >> 1;
      if ((pairs[parent] as Pair).atMost >= pair.atMost) break;
      pairs[i] = pairs[parent] as Pair;
      i = parent;
    }
    pairs[i] = pair;
  }

  pop(): Pair | undefined {
    const pairs = this.#pairs;
    const [first, last] = [pairs[0], pairs.pop()];
    if (!last || pairs.length === 0) return first;
    let i = 0;
    for (;;) {
      let child = 2 * i + 1;
      if (child + 1 < pairs.length && (pairs[child + 1] as Pair).atMost > (pairs[child] as Pair).atMost) child++;
      if (child >= pairs.length || (pairs[child] as Pair).atMost <= last.atMost) break;
      pairs[i] = pairs[child] as Pair;
      i = child;
    }
    pairs[i] = last;
    return first;
  }
}

/**
 * The largest rectangle of use inside the rings (pieces and holes alike), to a millimetre.
 * @param beat an area, mm2: only a larger one is asked for
 * @param any whether the first that is found will do
 * @returns null where there is none
 */
export function clearRectangle<F extends Frame>(
  rings: readonly Polygon<F>[],
  least: LeastSize,
  beat = 0,
  any = false,
): Bounds | null {
  if (rings.length === 0) return null;
  const wood = new FreeWood(rings);
  // Narrow enough that whatever is wide enough to be of use holds a strip whole.
  const step = Math.min(COARSE, least.short / 2);
  const count = Math.max(1, Math.ceil((wood.maxX - wood.minX) / step));
  const x = (i: number): number => wood.minX + i * step;
  const strips = Array.from({ length: count }, (_, i) => wood.over(x(i), x(i + 1)));
  const heap = new Heap();
  let best: Bounds | null = null;
  let area = beat;
  const offer = (left: Pair['left'], right: Pair['right'], between: Spans): void => {
    const span = longestOf(between);
    if (!span) return;
    const height = span[1] - span[0];
    const [near, far] = [right[0] - left[1], right[1] - left[0]];
    if (!fits(far, height, least)) return;
    if (near * height > area && fits(near, height, least)) {
      area = near * height;
      best = { minX: left[1], maxX: right[0], minY: span[0], maxY: span[1] };
    }
    // What a millimetre more in length would add is not looked for.
    if (far * height > area + height) heap.push({ left, right, between, atMost: far * height });
  };
  for (let i = 0; i + 2 < count + 1; i++) {
    let between: Spans = [[-Infinity, Infinity]];
    for (let j = i + 2; j <= count; j++) {
      between = common(between, strips[j - 1] as Spans);
      if (between.length === 0) break;
      if (any && best) return best;
      offer([x(i), x(i + 1)], [x(j), x(j + 1)], between);
    }
  }
  for (let looked = 0; looked < MOST_PAIRS && !(any && best); looked++) {
    const pair = heap.pop();
    if (!pair) break;
    const { left, right, between, atMost } = pair;
    const span = longestOf(between) as readonly [number, number];
    if (atMost <= area + (span[1] - span[0])) continue;
    if (left[1] - left[0] <= FINE && right[1] - right[0] <= FINE) continue;
    const [middleLeft, middleRight] = [(left[0] + left[1]) / 2, (right[0] + right[1]) / 2];
    const wider = common(between, wood.over(middleLeft, left[1]));
    const onRight = wood.over(right[0], middleRight);
    offer([middleLeft, left[1]], [right[0], middleRight], between);
    offer([left[0], middleLeft], [right[0], middleRight], wider);
    offer([middleLeft, left[1]], [middleRight, right[1]], common(between, onRight));
    offer([left[0], middleLeft], [middleRight, right[1]], common(wider, onRight));
  }
  return best;
}
