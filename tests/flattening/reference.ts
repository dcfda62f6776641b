import type { Highs } from 'highs';
import type { Spot3 } from '../../src/surface';

/**
 * The upright program as a general solver sees it, row by row: the reference for our own.
 * @returns upright thickness and the underside
 */
export function referenceBoard(highs: Highs, top: readonly Spot3[], bottom: readonly Spot3[], mostTilt = 0.2) {
  const rows = [...top.map(([x, y]) => [x, y, 1, 1]), ...bottom.map(([x, y]) => [x, y, 1, 0])];
  const values = rows.flat();
  const infinity = highs.infinity;
  return highs.withModel(
    {
      numCols: 4,
      numRows: rows.length,
      sense: highs.constants.objectiveSense.maximize,
      colCost: [0, 0, 0, 1],
      colLower: [-mostTilt, -mostTilt, -infinity, -infinity],
      colUpper: [mostTilt, mostTilt, infinity, infinity],
      rowLower: [...top.map(() => -infinity), ...bottom.map(([, , z]) => z)],
      rowUpper: [...top.map(([, , z]) => z), ...bottom.map(() => infinity)],
      matrix: {
        format: 'csr',
        numRows: rows.length,
        numCols: 4,
        starts: rows.map((_, i) => 4 * i).concat(4 * rows.length),
        indices: rows.flatMap(() => [0, 1, 2, 3]),
        values,
      },
    },
    (model) => {
      model.options.set({ output_flag: false, primal_feasibility_tolerance: 1e-9, dual_feasibility_tolerance: 1e-9 });
      model.run();
      const [a, b, c, thickness] = model.getSolution().colValue as unknown as [number, number, number, number];
      return { a, b, c, thickness };
    },
  );
}
