import loadHighs from 'highs';
import { thickestBoard } from '../../src/flattening';
import { seededRandom } from '../../src/search';
import type { Spot3 } from '../../src/surface';
import { referenceBoard } from '../flattening/reference';

/**
 * How many times faster our thickest board is than a general solver on the same spots, upright program only on its side.
 * Run: npx tsx tests/bench/board.ts. Ratios, not times: the machine is shared.
 */

const highs = await loadHighs();
const random = seededRandom(11);

const spots = (count: number, level: number): Spot3[] =>
  Array.from({ length: count }, () => {
    const [x, y] = [2600 * random.next() - 1300, 560 * random.next() - 280];
    return [x, y, level + 9 * (x / 1300) ** 2 + 4 * (y / 280) ** 2 + 0.5 * random.normal()];
  });

/** Median time of a call, ms, once it is warm. */
function median(calls: number, call: () => unknown): number {
  for (let i = 0; i < calls; i++) call();
  const times = Array.from({ length: calls }, () => {
    const start = performance.now();
    call();
    return performance.now() - start;
  });
  return times.sort((a, b) => a - b)[Math.floor(calls / 2)] as number;
}

console.log('spots a face    ours ms    general ms    times faster    upright difference mm');
for (const count of [100, 1_000, 10_000]) {
  const [top, bottom] = [spots(count, 54), spots(count, 0)];
  const ours = median(count < 5_000 ? 100 : 15, () => thickestBoard(top, bottom));
  const general = median(3, () => referenceBoard(highs, top, bottom));
  const reference = referenceBoard(highs, top, bottom);
  const difference = reference.thickness - thickestBoard(top, bottom).thickness;
  const row = [count, ours.toFixed(3), general.toFixed(1), (general / ours).toFixed(0), difference.toFixed(6)];
  console.log(row.map((cell) => String(cell).padStart(12)).join('  '));
}
