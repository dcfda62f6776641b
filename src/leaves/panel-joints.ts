import type { Point, Polygon, Segment } from '../geometry';

/** Shorter than this two cells touch at a corner, mm. */
const LEAST = 2;
/** Edges closer than this are one line, mm: booleans round to a micrometre. */
const NEAR = 0.01;

/** A line along which two cells of a panel meet. */
export interface Meeting {
  readonly cells: readonly [number, number];
  readonly line: Segment<'panel'>;
}

/** Every joint of a panel's cells, found from their edges; a pair of cells that meets twice has two. */
export function meetings(cells: readonly Polygon<'panel'>[]): Meeting[] {
  const found: Meeting[] = [];
  for (let i = 0; i < cells.length; i++) {
    for (let j = i + 1; j < cells.length; j++) {
      for (const line of sharedEdges(cells[i] as Polygon<'panel'>, cells[j] as Polygon<'panel'>))
        found.push({ cells: [i, j], line });
    }
  }
  return found;
}

const edges = (ring: Polygon<'panel'>): Segment<'panel'>[] =>
  ring.map((p, i) => [p, ring[(i + 1) % ring.length] as Point<'panel'>]);

function sharedEdges(a: Polygon<'panel'>, b: Polygon<'panel'>): Segment<'panel'>[] {
  return edges(a).flatMap((e) => edges(b).flatMap((f) => shared(e, f)));
}

/** The stretch that two edges have in common, along the first. */
function shared([p, q]: Segment<'panel'>, [r, s]: Segment<'panel'>): Segment<'panel'>[] {
  const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
  const length = Math.hypot(dx, dy);
  if (length < LEAST) return [];
  const along = ([x, y]: Point<'panel'>) => ((x - p[0]) * dx + (y - p[1]) * dy) / length;
  const off = ([x, y]: Point<'panel'>) => Math.abs((x - p[0]) * dy - (y - p[1]) * dx) / length;
  if (off(r) > NEAR || off(s) > NEAR) return [];
  const from = Math.max(0, Math.min(along(r), along(s)));
  const to = Math.min(length, Math.max(along(r), along(s)));
  if (to - from < LEAST) return [];
  const at = (t: number): Point<'panel'> => [p[0] + (dx * t) / length, p[1] + (dy * t) / length];
  return [[at(from), at(to)]];
}
