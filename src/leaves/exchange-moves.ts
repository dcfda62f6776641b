import { type Bounds, bounds } from '../geometry';
import type { Cell, PanelSet, SetFront } from '../job';
import { WoodLeft } from './backer';
import type { Bench, ReadyLeaf } from './set-bench';

/** Where a piece goes on another leaf when it is exchanged by hand, and what wood is left after that. */

/** Which piece of a set. */
export interface CellName {
  readonly front: string;
  readonly side: 'face' | 'back';
  readonly cell: number;
}

/** A piece and its name. */
export interface NamedCell {
  readonly name: CellName;
  readonly cell: Cell;
}

/** How far a window is moved to find good wood on another leaf, mm, and in what steps. */
const REACH = 120;
const STEP = 2;

export const leafName = ({ board, leaf }: Pick<Cell, 'board' | 'leaf'>): string => `${board} ${leaf}`;
export const leafOf = (bench: Bench, name: string): ReadyLeaf | undefined =>
  bench.leaves.find((leaf) => leaf.name === name);
export const cellsOf = (front: SetFront, side: CellName['side']): readonly Cell[] =>
  side === 'face' ? front.cells : front.backer;

const sameCell = (a: CellName, b: CellName): boolean => a.front === b.front && a.side === b.side && a.cell === b.cell;

/** All pieces that are cut from a leaf, but for some. */
export function piecesOf({ fronts }: Pick<PanelSet, 'fronts'>, leaf: string, but: readonly CellName[]): NamedCell[] {
  return Object.entries(fronts).flatMap(([front, laid]) =>
    (['face', 'back'] as const).flatMap((side) =>
      cellsOf(laid, side).flatMap((cell, i): NamedCell[] => {
        const name = { front, side, cell: i };
        return leafName(cell) === leaf && !but.some((one) => sameCell(one, name)) ? [{ name, cell }] : [];
      }),
    ),
  );
}

/** Whether two pieces of one leaf take wood of each other. */
export function overlap(a: Cell, b: Cell): boolean {
  const [p, q] = [bounds(a.window), bounds(b.window)];
  const common = (low: number, high: number) => high - low > 1e-6;
  return (
    common(Math.max(p.minX, q.minX), Math.min(p.maxX, q.maxX)) &&
    common(Math.max(p.minY, q.minY), Math.min(p.maxY, q.maxY))
  );
}

/**
 * A piece cut from another leaf instead, at the same place of it or the nearest that is good wood and free: on a face what is seen must be sound, on a back it
 * must be wood. Where none is near it is cut at that same place, and what speaks against it is for the caller to say.
 * @param others pieces that stay on that leaf
 */
export function movedTo(
  bench: Bench,
  { cell, name: { side } }: NamedCell,
  target: ReadyLeaf,
  others: readonly Cell[],
): Cell {
  const from = leafOf(bench, leafName(cell))?.origin ?? target.origin;
  const first = [target.origin[0] - from[0], target.origin[1] - from[1]] as const;
  const { crosscut } = bench.rules;
  const taken = others.map(({ window }): Bounds => {
    const { minX, maxX, minY, maxY } = bounds(window);
    return { minX: minX - crosscut, maxX: maxX + crosscut, minY, maxY };
  });
  const [sx, sy] = nearestGood(target, cell, side, first, taken);
  const [a, b, c, d, e, f] = cell.toPanel;
  return {
    ...cell,
    board: target.leaf.board,
    leaf: target.leaf.leaf,
    window: cell.window.map(([x, y]) => [x + sx, y + sy] as const),
    toPanel: [a, b, c, d, e - a * sx - c * sy, f - b * sx - d * sy],
  };
}

/** The least move about `first` at which the window's box is good and free wood; `first` itself where none is near. */
function nearestGood(
  { sound, wood, origin }: ReadyLeaf,
  cell: Cell,
  side: CellName['side'],
  first: readonly [number, number],
  taken: readonly Bounds[],
): readonly [number, number] {
  const { minX, maxX, minY, maxY } = bounds(cell.window);
  const good = side === 'face' ? [sound[cell.face], ...wood] : wood;
  const fits = (x: number, y: number): boolean =>
    taken.every(
      (box) => box.minX >= maxX + x || box.maxX <= minX + x || box.minY >= maxY + y || box.maxY <= minY + y,
    ) && good.every((of) => of.fits(minX + x - origin[0], minY + y - origin[1], maxX - minX, maxY - minY));
  for (let reach = 0; reach <= REACH; reach += STEP) {
    const steps = reach === 0 ? [0] : [-reach, reach];
    for (const across of steps) if (fits(first[0], first[1] + across)) return [first[0], first[1] + across];
    for (const along of steps)
      for (let across = -reach; across <= reach; across += STEP)
        if (fits(first[0] + along, first[1] + across)) return [first[0] + along, first[1] + across];
  }
  return first;
}

/** What is left of the leaves of a bench beside the pieces of a set; leaves that the set does without are not among it. */
export function woodLeftBy(bench: Bench, { fronts, without }: Pick<PanelSet, 'fronts' | 'without'>): WoodLeft {
  const out = new Set(without);
  const left = new WoodLeft(
    bench,
    bench.leaves.flatMap(({ name }, k) => (out.has(name) ? [] : [k])),
  );
  const place = new Map(bench.leaves.map(({ name }, k) => [name, k]));
  for (const { cells, backer } of Object.values(fronts)) {
    for (const cell of [...cells, ...backer]) {
      const leaf = place.get(leafName(cell));
      if (leaf !== undefined) left.take(leaf, cell.window);
    }
  }
  return left;
}
