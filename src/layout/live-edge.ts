import { crossingsAtX, type Point, type Polygon } from '../geometry';

/** A live edge of a finished piece, as its y over x. */
export type EdgeLine = readonly Point<'top'>[];

/** Beside a corner an edge is looked at this far to either side, mm: it may step there. */
const BESIDE = 1e-6;

/**
 * The foremost (`side` -1) or rearmost (1) edge of a piece over x, at every corner of it: straight between the points given, so that what is
 * said of the points is true of every millimetre.
 */
export function edgeOver(ring: Polygon<'top'>, side: -1 | 1): EdgeLine {
  const xs = [...new Set(ring.flatMap(([x]) => [x - BESIDE, x + BESIDE]))].sort((a, b) => a - b);
  return xs.flatMap((x): Point<'top'>[] => {
    const ys = crossingsAtX(ring, x);
    const y = side === -1 ? ys[0] : ys.at(-1);
    return y === undefined ? [] : [[x, y]];
  });
}

/**
 * The most that an edge swings, highest less lowest, within any stretch of `within` mm. Exact for a line of straight pieces: the two places that
 * differ most are corners, or stand the whole stretch apart with a corner at one end.
 */
export function swingOf(edge: EdgeLine, within: number): number {
  if (edge.length === 0) return 0;
  const xs = edge.flatMap(([x]) => [x, x - within, x + within]).sort((a, b) => a - b);
  const [first, last] = [(edge[0] as Point<'top'>)[0], (edge.at(-1) as Point<'top'>)[0]];
  let k = 0;
  const line = xs.flatMap((x): Point<'top'>[] => {
    if (x < first || x > last) return [];
    while (k + 2 < edge.length && (edge[k + 1] as Point<'top'>)[0] < x) k++;
    const [p, q] = [edge[k] as Point<'top'>, edge[Math.min(k + 1, edge.length - 1)] as Point<'top'>];
    const y = q[0] === p[0] ? p[1] : p[1] + ((x - p[0]) / (q[0] - p[0])) * (q[1] - p[1]);
    return [[x, y]];
  });
  // Indices whose y fall (rise) from the front of the queue on: the queue's first is the highest (lowest) of the stretch.
  const queues = [1, -1].map((sign) => ({ sign, held: [] as number[] }));
  let [from, most] = [0, 0];
  line.forEach(([x, y], i) => {
    while (x - (line[from] as Point<'top'>)[0] > within + 1e-9) from++;
    let span = 0;
    for (const { sign, held } of queues) {
      while (held.length > 0 && sign * (line[held.at(-1) as number] as Point<'top'>)[1] <= sign * y) held.pop();
      held.push(i);
      while ((held[0] as number) < from) held.shift();
      span += sign * (line[held[0] as number] as Point<'top'>)[1];
    }
    most = Math.max(most, span);
  });
  return most;
}

/**
 * Whether an edge that is looked at in even steps swings by more than a limit, highest less lowest, within some stretch of `reach` steps. Between the
 * steps it may swing more, never less.
 */
export function swingsOver(heights: ArrayLike<number>, reach: number, limit: number): boolean {
  const queues = [1, -1].map((sign) => ({ sign, held: new Int32Array(heights.length), from: 0, to: 0 }));
  for (let i = 0; i < heights.length; i++) {
    let span = 0;
    for (const queue of queues) {
      const { sign, held } = queue;
      const y = heights[i] as number;
      while (queue.to > queue.from && sign * (heights[held[queue.to - 1] as number] as number) <= sign * y) queue.to--;
      held[queue.to++] = i;
      if (i - (held[queue.from] as number) > reach) queue.from++;
      span += sign * (heights[held[queue.from] as number] as number);
    }
    if (span > limit) return true;
  }
  return false;
}
