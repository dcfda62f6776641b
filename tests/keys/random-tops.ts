/** Tops drawn by chance, with cracks, knots, cut-outs and rules of all kinds: the same of the same seed. */

import { checked } from '../../src/job';
import { type KeysInput, keysInput } from '../../src/keys';
import { seededRandom } from '../../src/search';
import { size } from './top';

const SIZES = [size('s', 45, [8, 10, 12, 14]), size('m', 65, [10, 12, 14]), size('l', 90, [12, 14, 16, 18])];

/** A top of about 2 m with a live front, up to four cracks that bend, run out, cross, or go through, and things to keep off. */
export function randomTop(seed: number): KeysInput {
  const random = seededRandom(seed).next;
  const from = (least: number, most: number) => least + (most - least) * random();
  const chance = (share: number) => random() < share;
  const one = <T>(of: readonly T[]): T => of[Math.floor(random() * of.length)] as T;
  const some = <T>(most: number, make: (i: number) => T): T[] =>
    Array.from({ length: Math.floor(random() * (most + 1)) }, (_, i) => make(i));
  const [length, depth] = [from(900, 2400), from(350, 800)];
  const [swing, turns] = [from(0, 25), from(1, 4)];
  const front = Array.from({ length: 21 }, (_, i) => [
    (length * i) / 20,
    swing * Math.sin((turns * Math.PI * i) / 20) + from(-2, 2),
  ]);
  const outline = [...front, [length, depth], [0, depth]];
  const crackLine = (): [number, number, number][] => {
    const [x, y, long] = [from(-100, length), from(30, depth - 30), from(60, 900)];
    const heading = chance(0.8) ? from(-0.3, 0.3) : from(-1.6, 1.6);
    const bend = from(-0.25, 0.25);
    const widest = from(0.5, 14);
    let at: [number, number] = [x, y];
    return Array.from({ length: 8 }, (_, i) => {
      const t = heading + bend * i * 0.3;
      if (i > 0) at = [at[0] + (long / 7) * Math.cos(t), at[1] + (long / 7) * Math.sin(t)];
      return [...at, chance(0.5) ? (widest * (7 - i)) / 7 : widest * (1 - Math.abs(i - 3.5) / 3.6)] as [
        number,
        number,
        number,
      ];
    });
  };
  const cracks = [0, ...some(3, (i) => i)].map(() => {
    const line = crackLine();
    const faces = one(['top', 'top', 'both'] as const);
    return {
      line,
      faces,
      ...(faces === 'both' && chance(0.4) ? { far: line.map(([x, y, w]) => [x + from(0, 1), y + 8, w]) } : {}),
      ...(chance(0.3) ? { grain: from(-10, 10) } : {}),
    };
  });
  const round = (r: number): [number, number][] => {
    const [x, y] = [from(0, length), from(0, depth)];
    return Array.from({ length: 16 }, (_, i) => [
      x + r * Math.cos((i * Math.PI) / 8),
      y + r * Math.sin((i * Math.PI) / 8),
    ]);
  };
  const square = (): [number, number][] => {
    const [x, y, w, h] = [from(0, length), from(0, depth), from(20, 300), from(20, 200)];
    return [
      [x, y],
      [x + w, y],
      [x + w, y + h],
      [x, y + h],
    ];
  };
  const seam = from(0.3, 0.7) * depth;
  return checked(keysInput, {
    top: { outline, thickness: from(22, 60) },
    cracks,
    defects: [
      ...some(4, () => ({ kind: one(['knot', 'void', 'bark inclusion', 'pith']), polygon: round(from(4, 40)) })),
      ...some(1, () => ({ kind: 'shake', line: crackLine() })),
    ],
    avoid: some(1, square),
    keepOff: [
      ...some(1, () => ({ kind: 'cut-out', polygon: square() })),
      ...(chance(0.3)
        ? [
            {
              kind: 'seam',
              polygon: [
                [0, seam],
                [length, seam],
                [length, seam + 0.1],
                [0, seam + 0.1],
              ],
            },
          ]
        : []),
      ...some(3, () => ({ kind: 'hardware', polygon: round(4) })),
    ],
    sizes: SIZES.filter(() => chance(0.8))
      .concat(SIZES.slice(0, 1))
      .filter((s, i, all) => all.indexOf(s) === i),
    rules: {
      rhythm: one(['even', 'even', 'graded', 'odd']),
      mixed: chance(0.4),
      ...(chance(0.3) ? { edge: from(0, 45), end: from(0, 1.5), clear: from(0, 25) } : {}),
      ...(chance(0.3) ? { knot: from(0, 30), hardware: from(5, 30), cutOut: from(10, 60), crack: from(0, 20) } : {}),
      ...(chance(0.3)
        ? { key: from(0, 60), leastSpacing: from(0.3, 1.5), spacing: from(1.6, 4), tip: from(0.3, 2) }
        : {}),
    },
    species: 'walnut_black',
  });
}
