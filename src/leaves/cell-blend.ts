import { type Affine, affine, apply, centroid, invert, type Point, type Segment } from '../geometry';
import type { Cell, SetFront, SetJoint } from '../job';
import { type EndEdge, endGapBlend } from './end-gap';
import type { Bench } from './set-bench';
import type { SlotJoint } from './set-slots';

/** Blend of joints between pieces as they lie on their panels, by whatever way they came there: laid out, or exchanged by hand. */

/** A piece of a leaf, and the line at which it meets another, on its own panel. */
export interface CellEdge {
  readonly cell: Cell;
  readonly line: Segment<'panel'>;
}

/** Blend of two pieces along lines of one length, begun at the same end; null without pictures (DESIGN 5.3). */
export function cellBlend(bench: Bench, one: CellEdge, other: CellEdge): number | null {
  const [p, q] = [sideOf(bench, one), sideOf(bench, other)];
  if (p.leaf < 0 || q.leaf < 0 || !bench.meter.knows(p.leaf, q.leaf)) return null;
  const joint: Pick<SlotJoint, 'lines' | 'left'> = { lines: [p.line, q.line], left: [p.left, q.left] };
  const at: Point<'face'> = [0, 0];
  return bench.meter.blend(joint, [p.face, q.face], { leaf: p.leaf, at }, { leaf: q.leaf, at });
}

/** Blend over the gap between two fronts; null where one of them is not laid, and for a set of before its lines were kept. */
export function gapBlend(
  bench: Bench,
  frontOf: (id: string) => SetFront | undefined,
  { from, to, kind, lost, lines }: Omit<SetJoint, 'blend'>,
): number | null {
  const [a, b] = [from, to].map(({ front, cell }) => frontOf(front)?.cells[cell]);
  if (!a || !b || !lines) return null;
  const [one, other] = [
    { cell: a, line: lines[0] },
    { cell: b, line: lines[1] },
  ];
  return kind === 'end' ? endBlend(bench, one, other, lost) : cellBlend(bench, one, other);
}

/** Blend along the grain, where one leaf runs on from front to front, or another stands in its place. */
function endBlend(bench: Bench, one: CellEdge, other: CellEdge, lost: number): number | null {
  const [a, b] = [one, other].map((edge): EndEdge | null => {
    const { leaf, line, left, face } = sideOf(bench, edge);
    const own = bench.leaves[leaf];
    const figure = own ? (bench.meter.linesOf(leaf, face) ?? own.figure(face)) : null;
    // Left of a line that runs toward more y lies less x.
    return figure ? { figure, line, keepsMore: left !== line[1][1] > line[0][1] } : null;
  });
  return a && b ? endGapBlend(a, b, lost) : null;
}

/** A joint's line on a piece's leaf, and on which side of it the wood is kept. */
function sideOf(bench: Bench, { cell, line: [p, q] }: CellEdge) {
  const back: Affine<'panel', 'face'> = invert(affine<'face', 'panel'>(...cell.toPanel));
  const line: Segment<'face'> = [apply(back, p), apply(back, q)];
  const [[ax, ay], [bx, by]] = line;
  const [mx, my] = centroid(cell.window);
  const leaf = bench.leaves.findIndex(({ name }) => name === `${cell.board} ${cell.leaf}`);
  return { leaf, line, left: (bx - ax) * (my - ay) - (by - ay) * (mx - ax) > 0, face: cell.face };
}
