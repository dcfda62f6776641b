import { type Control, pause } from '../search';
import type { Pair, Scored, SeamBench } from './seam-pair';

/** A step in each of the five freedoms (and the place along the front slab, which moves both lines alike). */
export interface Steps {
  readonly rows: number;
  readonly degrees: number;
  readonly slide: number;
}

/** A pair moved by whole steps. */
function moved({ front, back }: Pair, steps: Steps, by: readonly number[]): Pair {
  const [rowF = 0, rowB = 0, turnF = 0, turnB = 0, slide = 0, along = 0] = by;
  const shift = along * 2 * steps.slide;
  return {
    front: {
      ...front,
      x: front.x + front.way * shift,
      y: front.y + rowF * steps.rows,
      degrees: front.degrees + turnF * steps.degrees,
    },
    back: {
      ...back,
      x: back.x + back.way * (shift - slide * steps.slide),
      y: back.y + rowB * steps.rows,
      degrees: back.degrees + turnB * steps.degrees,
    },
  };
}

/** Freedoms that pull on each other and are moved together: both offsets, both angles, slide and the offset behind, the place along. */
const BLOCKS: readonly (readonly number[])[] = [[0, 1], [2, 3], [4, 1], [2, 0], [3, 1], [5]];

/** Goes downhill from a pair, block by block within `reach` steps, until no block helps. */
function downhill(
  bench: SeamBench,
  start: Scored,
  steps: Steps,
  reach: number,
  rounds: number,
  control: Control,
): Scored {
  let best = start;
  for (let round = 0; round < rounds; round++) {
    const before = best.cost;
    for (const block of BLOCKS) {
      const from = best;
      for (let i = -reach; i <= reach; i++) {
        for (let j = block.length > 1 ? -reach : 0; j <= (block.length > 1 ? reach : 0); j++) {
          if (i === 0 && j === 0) continue;
          if (control.budget.left === 0) return best;
          const by = [0, 0, 0, 0, 0, 0];
          by[block[0] as number] = i;
          if (block[1] !== undefined) by[block[1]] = j;
          const pair = moved(from, steps, by);
          const done = bench.evaluated;
          const cost = bench.cost(pair);
          control.budget.spend(bench.evaluated - done);
          if (cost < best.cost - 1e-9) best = { ...pair, cost };
        }
      }
    }
    if (best.cost >= before - 1e-6) break;
  }
  return best;
}

/** From a place where the lines wander alike to the best near it. */
export async function settle(bench: SeamBench, start: Pair, control: Control): Promise<Scored> {
  await pause(control, 0);
  return downhill(bench, { ...start, cost: bench.cost(start) }, { rows: 1, degrees: 0.1, slide: 10 }, 1, 4, control);
}

/** From the grid of the first sieve to the nearest good place. */
export async function climb(bench: SeamBench, start: Pair, control: Control): Promise<Scored> {
  await pause(control, 0);
  const first: Scored = { ...start, cost: bench.cost(start) };
  const near = downhill(bench, first, { rows: 4, degrees: 0.5, slide: 10 }, 1, 2, control);
  return downhill(bench, near, { rows: 2, degrees: 0.25, slide: 5 }, 1, 3, control);
}
