import { bounds, type Point, type Polygon } from '../geometry';
import type { Board, Cell, Job } from '../job';
import type { OnLeaf, PieceReport, Towards } from './set-types';

/** Corners of a piece off its box by less than this, mm, are square to a saw. */
const SQUARE = 0.05;

/** The outline of a leaf in the frame of its top face; of one of which only the far face was read, that one mirrored. Null where nothing is known. */
export function leafOutline(board: Board | undefined, leaf: string): Polygon<'face'> | null {
  const faces = board?.leaves[leaf]?.faces;
  if (faces?.top.outline) return faces.top.outline.outer;
  const far = faces?.bottom.outline?.outer;
  if (!far) return null;
  const { minY, maxY } = bounds(far);
  return far.map(([x, y]) => [x, minY + maxY - y] as const);
}

/** A piece as it is marked out on its leaf and as it lies in its panel. */
export function pieceReport(job: Job, cell: Cell, number: number): PieceReport {
  const board = job.boards[cell.board];
  const outline = leafOutline(board, cell.leaf) ?? cell.window;
  const { minX, minY } = bounds(outline);
  const box = bounds(cell.window);
  const corners = cell.window.map(([x, y]): OnLeaf => ({ along: x - minX, inward: y - minY }));
  const [a, b, c, d] = cell.toPanel;
  return {
    number,
    board: cell.board,
    boardName: board?.name ?? cell.board,
    leaf: cell.leaf,
    place: board?.leaves[cell.leaf]?.place ?? null,
    face: cell.face,
    flip: cell.flip,
    end: towards([-a, -b]),
    edge: towards([-c, -d]),
    along: [box.minX - minX, box.maxX - minX],
    inward: [box.minY - minY, box.maxY - minY],
    corners,
    isRectangle: cell.window.length === 4 && cell.window.every((p) => isCornerOf(p, box)),
    cell: cell.cell,
    toPanel: cell.toPanel,
    window: cell.window,
    outline,
  };
}

const isCornerOf = ([x, y]: Point<'face'>, { minX, minY, maxX, maxY }: ReturnType<typeof bounds>): boolean =>
  Math.min(x - minX, maxX - x) < SQUARE && Math.min(y - minY, maxY - y) < SQUARE;

/** The side of the panel that a direction in it points at. */
function towards([x, y]: readonly [number, number]): Towards {
  return Math.abs(y) >= Math.abs(x) ? (y < 0 ? 'up' : 'down') : x < 0 ? 'left' : 'right';
}
