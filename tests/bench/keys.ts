import { performance } from 'node:perf_hooks';
import { checked } from '../../src/job';
import { keysInput, placeKeys } from '../../src/keys';
import { bestRow, type Candidate } from '../../src/keys/search-row';
import { seededRandom } from '../../src/search';
import { everyRow } from '../support/brute-row';

/**
 * Keys of twenty cracks from four sizes, of one size a crack and mixed (to reach: 200 ms); and how much longer it takes only to go through every row
 * of a few places than to find the best of many.
 */

const FLARE = Math.tan((14.5 * Math.PI) / 180);
const sizes = [40, 55, 70, 90].map((length) => ({
  id: `k${length}`,
  length,
  waist: 0.3 * length,
  end: length * (0.3 + FLARE),
  depths: [12, 14, 16],
}));

/** A wide top of 3 m with a live front and back, twenty cracks of half a metre that waver, and fifteen knots. */
function twentyCracks(rules: object) {
  const random = seededRandom(1).next;
  const edge = (y: number) => Array.from({ length: 101 }, (_, i) => [i * 30, y + 10 * Math.sin(i + y)]);
  const cracks = Array.from({ length: 20 }, (_, k) => {
    const [x, y] = [80 + (k % 4) * 740 + 60 * random(), 120 + Math.floor(k / 4) * 190 + 20 * random()];
    const long = 500 + 150 * random();
    const line = Array.from({ length: 12 }, (_, i) => [
      x + (long * i) / 11,
      y + 8 * Math.sin(i + k),
      (1 + 18 * random()) * Math.sin((Math.PI * (i + 0.5)) / 12),
    ]);
    return { line, faces: k % 2 ? 'top' : 'both' };
  });
  const defects = Array.from({ length: 15 }, () => {
    const [x, y, r] = [3000 * random(), 1000 * random(), 8 + 20 * random()];
    const turn = (i: number) => (i * Math.PI) / 10;
    const polygon = Array.from({ length: 20 }, (_, i) => [x + r * Math.cos(turn(i)), y + r * Math.sin(turn(i))]);
    return { kind: 'knot', polygon };
  });
  const outline = [...edge(0), ...edge(1000).reverse()];
  return checked(keysInput, {
    top: { outline, thickness: 40 },
    cracks,
    defects,
    sizes,
    species: 'walnut_black',
    rules,
  });
}

/** The shortest of some runs, ms: what others on the machine take does not count. */
function shortest(runs: number, run: () => unknown): number {
  return Math.min(
    ...Array.from({ length: runs }, () => {
      const begun = performance.now();
      run();
      return performance.now() - begun;
    }),
  );
}

for (const [name, rules] of [
  ['one size a crack', {}],
  ['sizes mixed', { mixed: true }],
  ['sizes mixed, an odd number', { mixed: true, rhythm: 'odd' }],
] as const) {
  const input = twentyCracks(rules);
  const { keys } = placeKeys(input);
  console.log(
    `twenty cracks, four sizes, ${name}: ${keys.length} keys in ${shortest(9, () => placeKeys(input)).toFixed(0)} ms (to reach: 200)`,
  );
}

const rules = {
  length: 600,
  tip: [70],
  mostToTip: [175],
  least: () => 70,
  most: () => 210,
  apart: () => true,
  odd: false,
};
const row = (step: number): Candidate[] =>
  Array.from({ length: Math.floor(460 / step) + 1 }, (_, i) => ({
    s: 70 + i * step,
    u: 70 + i * step,
    size: 0,
    misfit: 0,
  }));
const [few, many] = [row(20), row(1)];
const every = shortest(5, () => everyRow(few, rules));
const best = shortest(20, () => bestRow(many, rules));
console.log(
  `one crack: all ${everyRow(few, rules).rows} rows of ${few.length} places take ${(every / best).toFixed(1)} times as long as the best of ${many.length} places`,
);
