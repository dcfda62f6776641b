import { intersection, type Point, type Region, union } from '../../../geometry';
import type { Ruler } from '../../../photo';

/** A ± of more than this, mm, is shaded (issue: photos that measure). */
export const WIDE = 2;
/** Nodes at which the ± is taken are so far apart, mm: it changes slowly. */
const STEP = 40;

/**
 * Where on the wood the ± (two sigma) is over `limit`, or where nothing was measured. The ± is taken at the nodes of a grid and runs straight
 * between them; each half of a cell is cut where it crosses the limit (marching triangles).
 */
export function doubtful(
  outline: Region<'face'>,
  { sigma }: Pick<Ruler, 'sigma'>,
  limit = WIDE,
): readonly Region<'face'>[] {
  const xs = outline.outer.map(([x]) => x);
  const ys = outline.outer.map(([, y]) => y);
  const [x0, y0] = [Math.min(...xs), Math.min(...ys)];
  const columns = Math.max(1, Math.ceil((Math.max(...xs) - x0) / STEP));
  const rows = Math.max(1, Math.ceil((Math.max(...ys) - y0) / STEP));
  const node = (i: number, j: number): Node => {
    const at: Point<'face'> = [x0 + i * STEP, y0 + j * STEP];
    // Far over the limit rather than without end, so that there is a place between where it is crossed.
    return { at, over: Math.min(2 * (sigma(at) ?? Infinity), 3 * limit) - limit };
  };
  const nodes = Array.from({ length: (columns + 1) * (rows + 1) }, (_, k) =>
    node(k % (columns + 1), Math.floor(k / (columns + 1))),
  );
  const pieces: Region<'face'>[] = [];
  for (let j = 0; j < rows; j++)
    for (let i = 0; i < columns; i++) {
      const k = j * (columns + 1) + i;
      const [a, b, c, d] = [k, k + 1, k + columns + 2, k + columns + 1].map((n) => nodes[n] as Node) as [
        Node,
        Node,
        Node,
        Node,
      ];
      for (const corners of [
        [a, b, c],
        [a, c, d],
      ]) {
        const outer = over(corners);
        if (outer.length > 2) pieces.push({ outer, holes: [] });
      }
    }
  return pieces.length > 0 ? intersection(union(pieces), [outline]) : [];
}

interface Node {
  readonly at: Point<'face'>;
  /** How far the ± is over the limit, mm. */
  readonly over: number;
}

/** The part of a triangle that is over the limit. */
function over(corners: readonly Node[]): Point<'face'>[] {
  return corners.flatMap((here, i) => {
    const next = corners[(i + 1) % corners.length] as Node;
    const kept = here.over > 0 ? [here.at] : [];
    if (here.over > 0 === next.over > 0) return kept;
    const t = here.over / (here.over - next.over);
    const crossing: Point<'face'> = [
      here.at[0] + t * (next.at[0] - here.at[0]),
      here.at[1] + t * (next.at[1] - here.at[1]),
    ];
    return [...kept, crossing];
  });
}
