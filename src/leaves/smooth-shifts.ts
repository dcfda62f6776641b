import type { ShiftCosts } from './shift-costs';

/** What a step of the shift from one node to the next costs, for each of `ShiftCosts.step`, and at most. */
const STEP_COST = 0.1;
const MOST = 1;

/**
 * The shift at each node, [column][row], that is cheap there and like its neighbours': costs are gathered along rows and columns, both ways, each step
 * from a neighbour's shift to another being charged (semi-global matching: Hirschmüller 2008), and the cheapest is taken to a fraction of a step.
 */
export function smoothShifts({ columns, rows, shifts, step, costs }: ShiftCosts): Float32Array {
  const total = new Float32Array(costs.length);
  let before = new Float32Array(shifts);
  let here = new Float32Array(shifts);
  const gather = (first: number, by: number, count: number): void => {
    let least = 0;
    for (let t = 0; t < count; t++) {
      const at = (first + t * by) * shifts;
      let cheapest = Infinity;
      for (let k = 0; k < shifts; k++) {
        let way = 0;
        if (t > 0) {
          way = least + MOST;
          for (let d = -2; d <= 2; d++) {
            const from = before[k + d];
            if (from !== undefined) way = Math.min(way, from + Math.abs(d) * STEP_COST);
          }
        }
        const cost = (costs[at + k] as number) + way - least;
        here[k] = cost;
        total[at + k] = (total[at + k] as number) + cost;
        if (cost < cheapest) cheapest = cost;
      }
      least = cheapest;
      [before, here] = [here, before];
    }
  };
  for (let c = 0; c < columns; c++) {
    gather(c * rows, 1, rows);
    gather(c * rows + rows - 1, -1, rows);
  }
  for (let r = 0; r < rows; r++) {
    gather(r, rows, columns);
    gather((columns - 1) * rows + r, -rows, columns);
  }
  return Float32Array.from({ length: columns * rows }, (_, i) => {
    const at = i * shifts;
    let best = 0;
    for (let k = 1; k < shifts; k++) if ((total[at + k] as number) < (total[at + best] as number)) best = k;
    const [low, mid, high] = [best - 1, best, best + 1].map((k) => total[at + k] as number) as [number, number, number];
    const curve = best > 0 && best < shifts - 1 ? low - 2 * mid + high : 0;
    const part = curve > 1e-9 ? Math.max(-0.5, Math.min(0.5, (low - high) / (2 * curve))) : 0;
    return (best + part - (shifts - 1) / 2) * step;
  });
}
