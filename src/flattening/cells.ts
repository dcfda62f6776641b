import { bounds, crossingsAtX, type Region } from '../geometry';

/** A small piece of a blank, told by its middle. */
export interface Cell {
  readonly at: readonly [x: number, y: number];
  /** mm2 */
  readonly area: number;
}

/**
 * A blank cut into about `count` pieces, in columns whose ends lie on its edge: sums over them are integrals over the blank, good to
 * the square of the pieces' size.
 */
export function cellsOf({ outer, holes }: Region<'face'>, count: number): Cell[] {
  const { minX, maxX, minY, maxY } = bounds(outer);
  const side = Math.sqrt(((maxX - minX) * (maxY - minY)) / count);
  const columns = Math.max(1, Math.round((maxX - minX) / side));
  const width = (maxX - minX) / columns;
  const cells: Cell[] = [];
  for (let c = 0; c < columns; c++) {
    const x = minX + (c + 0.5) * width;
    const ys = [outer, ...holes].flatMap((ring) => crossingsAtX(ring, x)).sort((a, b) => a - b);
    for (let k = 0; k + 1 < ys.length; k += 2) {
      const [from, to] = [ys[k] as number, ys[k + 1] as number];
      const rows = Math.max(1, Math.round((to - from) / side));
      const height = (to - from) / rows;
      for (let r = 0; r < rows; r++) cells.push({ at: [x, from + (r + 0.5) * height], area: width * height });
    }
  }
  return cells;
}

/** Share of the cells' area that `which` holds for. */
export function areaShare(cells: readonly Cell[], which: (cell: Cell, index: number) => boolean): number {
  let [all, some] = [0, 0];
  cells.forEach((cell, i) => {
    all += cell.area;
    if (which(cell, i)) some += cell.area;
  });
  return all === 0 ? 0 : some / all;
}
