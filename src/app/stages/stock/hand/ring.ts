import { distance, largestRing, nearestOnSegment, ringArea, union } from '../../../../geometry';
import type { XY } from '../../../canvas/items';

/** Places along the edge of the wood and stretches of it, mm on the face. */

export type Ring = readonly XY[];

/** A place on a ring, on the edge that begins at point `edge`. */
export interface RingPlace {
  readonly edge: number;
  readonly at: XY;
}

/** Points of a ring from `first` on, in its direction, to `last`: one point when they are the same. */
export interface Run {
  readonly first: number;
  readonly last: number;
}

/** Points closer than this are one, mm. */
const SAME = 1e-6;
/** The outside of a ring comes rounded to 0.001 mm: one that differs in area by more than so many mm for each mm around crosses itself. */
const ROUNDED = 0.002;

const same = (a: XY, b: XY) => distance<'face'>(a, b) < SAME;
const at = (ring: Ring, i: number): XY => ring[((i % ring.length) + ring.length) % ring.length] as XY;

/** The place of a ring that lies nearest, and how far off it is. */
export function nearestPlace(ring: Ring, to: XY): RingPlace & { readonly off: number } {
  let best = { edge: 0, at: at(ring, 0), off: Infinity };
  for (let edge = 0; edge < ring.length; edge++) {
    const near = nearestOnSegment<'face'>(to, [at(ring, edge), at(ring, edge + 1)]);
    const off = distance<'face'>(near, to);
    if (off < best.off) best = { edge, at: near, off };
  }
  return best;
}

/** The ring from one place to another, in its direction, both ends included. */
export function stretch(ring: Ring, from: RingPlace, to: RingPlace): XY[] {
  const start = at(ring, from.edge);
  const onward = from.edge === to.edge && distance<'face'>(start, from.at) <= distance<'face'>(start, to.at);
  const line: XY[] = [from.at];
  if (!onward) {
    const steps = (to.edge - from.edge + ring.length) % ring.length || ring.length;
    for (let i = 1; i <= steps; i++) line.push(at(ring, from.edge + i));
  }
  line.push(to.at);
  return line.filter((p, i) => i === 0 || !same(p, line[i - 1] as XY));
}

/** The place that lies so far along the ring from another, mm; back where negative. */
export function along(ring: Ring, { edge, at: from }: RingPlace, by: number): RingPlace {
  let [here, left, k] = [from, Math.abs(by), edge];
  for (let steps = 0; steps <= ring.length; steps++) {
    const next = at(ring, by < 0 ? k : k + 1);
    const step = distance<'face'>(here, next);
    if (step >= left) {
      const t = step === 0 ? 0 : left / step;
      return {
        edge: ((k % ring.length) + ring.length) % ring.length,
        at: [here[0] + t * (next[0] - here[0]), here[1] + t * (next[1] - here[1])],
      };
    }
    [here, left] = [next, left - step];
    k += by < 0 ? -1 : 1;
  }
  return { edge, at: from };
}

/** Length of the way around, mm. */
export const lengthAround = (ring: Ring): number =>
  ring.reduce((sum, p, i) => sum + distance<'face'>(p, at(ring, i + 1)), 0);

/** The points between two, the shorter way around, both included. */
export function runBetween(ring: Ring, a: number, b: number): Run {
  const way = (first: number, last: number) => {
    let sum = 0;
    for (let i = first; i !== last; i = (i + 1) % ring.length) sum += distance<'face'>(at(ring, i), at(ring, i + 1));
    return sum;
  };
  return way(a, b) <= way(b, a) ? { first: a, last: b } : { first: b, last: a };
}

/** How many points a run has. */
export const countOf = ({ first, last }: Run, points: number): number => ((last - first + points) % points) + 1;

/** Whether a run holds a point of its ring. */
export const holds = (run: Run, points: number, i: number): boolean =>
  (i - run.first + points) % points < countOf(run, points);

/** The points of a run, in order. */
export const pointsOf = (ring: Ring, run: Run): XY[] =>
  Array.from({ length: countOf(run, ring.length) }, (_, i) => at(ring, run.first + i));

/**
 * The ring with a line in the place of the stretch between two of its places. Of the two stretches between them that one goes which leaves
 * the area more as it was. Where the line crosses what is left, the outside of both counts. The ring's first point stays the first while it
 * is there.
 */
export function replaced(ring: Ring, from: RingPlace, line: Ring, to: RingPlace): XY[] {
  const onward = closed([...line, ...stretch(ring, to, from)]);
  const back = closed([...line, ...stretch(ring, from, to).reverse()]).reverse();
  const area = ringArea(ring);
  const off = (next: Ring) => (next.length < 3 ? Infinity : Math.abs(ringArea(next) - area));
  return withFirst(uncrossed(off(onward) <= off(back) ? onward : back), at(ring, 0));
}

/** A ring without points that are twice there. */
const closed = (ring: Ring): XY[] => ring.filter((p, i) => !same(p, at(ring, i - 1)));

function uncrossed(ring: XY[]): XY[] {
  const pieces = union<'face'>([{ outer: ring, holes: [] }]);
  const largest = largestRing(pieces) ?? [];
  return pieces.length === 1 && Math.abs(ringArea(largest) - ringArea(ring)) < ROUNDED * lengthAround(ring)
    ? ring
    : [...largest];
}

function withFirst(ring: XY[], first: XY): XY[] {
  const place = ring.findIndex((p) => same(p, first));
  return place < 0 ? ring : [...ring.slice(place), ...ring.slice(0, place)];
}
