import fc from 'fast-check';
import { expect, test } from 'vitest';
import { taping } from '../../src/plan/taping';

const line = [
  [0, 0],
  [1, 0],
] as const;
const joint = (a: number, b: number, kind: 'side' | 'end' | 'slant') => ({
  cells: [a, b] as [number, number],
  kind,
  line: [[...line[0]], [...line[1]]] as never,
  blend: null,
});

test('taping makes one face of all pieces, each step joining two that were apart and meet, edge joints before end joints', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 8 }), fc.integer({ min: 1, max: 3 }), (columns, rows) => {
      const at = (r: number, c: number) => r * columns + c;
      const joints = [];
      for (let r = 0; r < rows; r++)
        for (let c = 0; c < columns; c++) {
          if (c + 1 < columns) joints.push(joint(at(r, c), at(r, c + 1), 'side'));
          if (r + 1 < rows) joints.push(joint(at(r, c), at(r + 1, c), 'end'));
        }
      const steps = taping(columns * rows, joints);
      expect(steps).toHaveLength(columns * rows - 1);
      let faces = Array.from({ length: columns * rows }, (_, i) => [i + 1]);
      for (const { one, other } of steps) {
        const sorted = (list: readonly number[]) => [...list].sort((a, b) => a - b).join();
        const [a, b] = [one, other].map((list) => faces.find((face) => sorted(face) === sorted(list)));
        expect(a && b && a !== b).toBe(true);
        expect(
          joints.some(
            ({ cells: [p, q] }) =>
              (a!.includes(p + 1) && b!.includes(q + 1)) || (b!.includes(p + 1) && a!.includes(q + 1)),
          ),
        ).toBe(true);
        faces = [...faces.filter((face) => face !== a && face !== b), [...a!, ...b!]];
      }
      const firstEnd = steps.findIndex(({ ends }) => ends);
      if (firstEnd >= 0) expect(steps.slice(firstEnd).every(({ ends }) => ends)).toBe(true);
    }),
  );
});

test('eight wedges of a circle become pairs, quarters, two halves, and one straight joint', () => {
  const joints = Array.from({ length: 8 }, (_, i) => joint(i, (i + 1) % 8, 'slant'));
  const steps = taping(8, joints);
  expect(steps.map(({ one, other }) => [one.length, other.length])).toEqual([
    [1, 1],
    [1, 1],
    [1, 1],
    [1, 1],
    [2, 2],
    [2, 2],
    [4, 4],
  ]);
});
