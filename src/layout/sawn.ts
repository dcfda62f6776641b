import type { Point, Polygon } from '../geometry';
import type { Top } from '../job';

/**
 * What of a top leaves the shop: its finished size with the wood that is kept for scribing, its ends at their angles, its shape. In the
 * top's frame, where x = 0 and x = length are the finished ends and y = 0 the foremost point of the front.
 */

/** Farther than any slab reaches, mm. */
export const FAR = 1e5;
/** A live front begins at y = 0, once it is measured; this much room is left before it until then, mm. */
const BEFORE = 50;
/** Most that a chord may stand off a round edge, mm: finer than any saw follows. */
const CHORD = 0.02;

/** Wood behind a straight finished back edge, for the scribe and the wall's bow, mm. */
export const keptBehind = ({ back, scribe, wallBow }: Pick<Top, 'back' | 'scribe' | 'wallBow'>): number =>
  back === 'live' ? 0 : scribe.back + wallBow;

/** Whether a top is the plain rectangle that its length and depth say. */
export function isPlain(top: Top): boolean {
  const { ends, scribe, shape } = top;
  const square = ends.right.degrees === 90 && ends.left.degrees === 90;
  return shape === null && square && keptBehind(top) === 0 && scribe.right === 0 && scribe.left === 0;
}

/** A top as places and seams are searched for: the box that must be found in the wood, scribe and all, its own x = 0 at that box's end. */
export function searchedTop(top: Top): Top {
  if (isPlain(top)) return top;
  const { scribe, depth, length } = top;
  const behind = keptBehind(top);
  const moved = <T extends { polygon: Polygon<'top'> }>(zones: Record<string, T>): Record<string, T> =>
    Object.fromEntries(
      Object.entries(zones).map(([id, zone]) => [
        id,
        { ...zone, polygon: zone.polygon.map(([x, y]): Point<'top'> => [x + scribe.right, y]) },
      ]),
    );
  return {
    ...top,
    length: length + scribe.right + scribe.left,
    depth: [depth[0] + behind, depth[1] + behind],
    covered: moved(top.covered),
    noSeam: moved(top.noSeam),
    cutOuts: moved(top.cutOuts),
  };
}

/** How far an end at an angle stands in from the end of the box at `y`, mm; the box is as long as the top's longer side. */
function standsIn(degrees: number, y: number, back: number): number {
  if (degrees === 90) return 0;
  const cot = 1 / Math.tan((degrees * Math.PI) / 180);
  return degrees < 90 ? y * cot : (y - back) * cot;
}

/** An ellipse in its box as a ring whose chords stand off it by no more than `CHORD`. */
function ellipse(length: number, depth: number): Polygon<'top'> {
  const [a, b] = [length / 2, depth / 2];
  const count = 4 * Math.ceil(Math.PI / 4 / Math.acos(1 - Math.min(1, CHORD / Math.max(a, b))));
  return Array.from({ length: count }, (_, i): Point<'top'> => {
    const t = (2 * Math.PI * i) / count;
    return [a + a * Math.cos(t), b + b * Math.sin(t)];
  });
}

/** The ring of a top that is no rectangle, in its box. */
function shapeRing({ shape, length, depth }: Top): Polygon<'top'> | null {
  if (shape === null) return null;
  if (shape.kind === 'polygon') return shape.outline;
  return ellipse(length, depth[1]);
}

/**
 * The limits within which the finished wood lies: a ring that the top fills, but at its live edges, where it is wider than any slab.
 * @param depth the finished depth where the top is deepest, scribe left out
 */
export function limitsOf(top: Top, depth: number): Polygon<'top'> {
  const ring = shapeRing(top);
  if (ring) return ring;
  const { scribe, ends, length } = top;
  const finishedBack = depth + keptBehind(top);
  const [front, back] = [top.front === 'live' ? -BEFORE : 0, top.back === 'live' ? FAR : finishedBack];
  const right = (y: number): number =>
    ends.right.edge === 'live' ? -FAR : -scribe.right + standsIn(ends.right.degrees, y, finishedBack);
  const left = (y: number): number =>
    ends.left.edge === 'live' ? FAR : length + scribe.left - standsIn(ends.left.degrees, y, finishedBack);
  return [
    [right(front), front],
    [left(front), front],
    [left(back), back],
    [right(back), back],
  ];
}
