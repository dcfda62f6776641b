import { type Control, pause } from '../search';
import type { Steps } from './seam-climb';
import type { Pair, Scored, SeamBench } from './seam-pair';
import type { LinePlace } from './seam-room';

/**
 * A line of one slab that goes on in the other's does so on a ridge: move or turn the one, and the other must move, turn and slide with it. So all
 * freedoms are tried at once, every line in front with every line behind. A line is read once for all its pairs, and a pair is then soon told.
 */

/** How many steps to either side are tried. */
type Reach = Steps;
const NEXT: Reach = { rows: 1, degrees: 1, slide: 1 };

const around = (reach: number): number[] => Array.from({ length: 2 * reach + 1 }, (_, i) => i - reach);

/** Lines about one, moved across and turned by whole steps, and along where `reach.slide` says so. */
function linesAbout(line: LinePlace, steps: Steps, reach: Reach): LinePlace[] {
  return around(reach.slide).flatMap((along) =>
    around(reach.degrees).flatMap((turn) =>
      around(reach.rows).map((row) => ({
        ...line,
        x: line.x - line.way * along * steps.slide,
        y: line.y + row * steps.rows,
        degrees: line.degrees + turn * steps.degrees,
      })),
    ),
  );
}

/** Both lines farther on along the joint: another piece of the same seam. */
const shifted = ({ front, back }: Pair, by: number): Pair => ({
  front: { ...front, x: front.x + front.way * by },
  back: { ...back, x: back.x + back.way * by },
});

/** Goes downhill until nothing within reach is better, `rounds` times at most. */
function downhill(
  bench: SeamBench,
  start: Scored,
  steps: Steps,
  reach: Reach,
  rounds: number,
  control: Control,
): Scored {
  let best = start;
  for (let round = 0; round < rounds && control.budget.left > 0; round++) {
    const before = best.cost;
    const done = bench.evaluated;
    best = bench.best(linesAbout(best.front, steps, { ...reach, slide: 0 }), linesAbout(best.back, steps, reach), best);
    for (const by of [-2, 2]) {
      const along = shifted(best, by * steps.slide);
      best = bench.best([along.front], [along.back], best);
    }
    control.budget.spend(bench.evaluated - done);
    if (best.cost >= before - 1e-6) break;
  }
  return best;
}

/** The last millimetres, where the lines over both edges are sharpest. */
export async function polish(bench: SeamBench, start: Scored, control: Control): Promise<Scored> {
  await pause(control, 0);
  const wide = downhill(
    bench,
    start,
    { rows: 1, degrees: 0.12, slide: 8 },
    { rows: 4, degrees: 3, slide: 2 },
    2,
    control,
  );
  await pause(control, 0.5);
  const near = downhill(bench, wide, { rows: 0.5, degrees: 0.05, slide: 3 }, NEXT, 4, control);
  return downhill(bench, near, { rows: 0.2, degrees: 0.02, slide: 1 }, NEXT, 4, control);
}
