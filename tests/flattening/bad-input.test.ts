import { describe, expect, it } from 'vitest';
import { type FlattenInput, flatten, flattenInput } from '../../src/flattening';
import { rectangle } from '../../src/geometry';
import { checked } from '../../src/job';
import type { Spot3 } from '../../src/surface';
import { InputProblem } from '../../src/units';
import { blankA, run, shop } from './blanks';

describe('bad input', () => {
  const good = (): Record<string, unknown> => ({
    surfaces: {
      top: [
        [-1200, -300, 54],
        [1200, -300, 54],
        [1200, 300, 54],
        [-1200, 300, 54],
      ],
      bottom: [
        [-1200, -300, 0],
        [1200, -300, 0],
        [1200, 300, 0],
        [-1200, 300, 0],
      ],
    },
    blanks: [{ id: 'a', polygon: blankA }],
    ...shop,
  });
  const surfaces = good().surfaces as FlattenInput['surfaces'] & object;
  const cases: readonly [name: string, input: object, where: string][] = [
    ['nothing tells the faces', { surfaces: undefined }, '/surfaces'],
    ['both forms', { warp: { length: 2600, width: 560, thickness: 54, bow: 9, cup: 4, twist: 3 } }, '/warp'],
    ['two readings', { surfaces: { ...surfaces, bottom: surfaces.bottom.slice(0, 2) } }, '/surfaces/bottom'],
    [
      'one line',
      {
        surfaces: {
          ...surfaces,
          top: [
            [0, 0, 54],
            [1, 1, 54],
            [2, 2, 55],
            [9, 9, 54],
          ],
        },
      },
      '/surfaces/top',
    ],
    [
      'bottom over top',
      { surfaces: { ...surfaces, bottom: surfaces.bottom.map(([x, y, z], i) => [x, y, i === 2 ? 57 : z]) } },
      '/surfaces/bottom/2',
    ],
    [
      'two heights at one place',
      { surfaces: { ...surfaces, top: [...surfaces.top, [1200, 300, 51]] } },
      '/surfaces/top/4',
    ],
    ['not a number', { surfaces: { ...surfaces, top: [[0, 0, null], ...surfaces.top] } }, '/surfaces/top/0/2'],
    [
      'a bow tie',
      {
        blanks: [
          {
            id: 'a',
            polygon: [
              [0, 0],
              [100, 100],
              [100, 0],
              [0, 100],
            ],
          },
        ],
      },
      '/blanks/0/polygon',
    ],
    [
      'two corners',
      {
        blanks: [
          {
            id: 'a',
            polygon: [
              [0, 0],
              [100, 100],
            ],
          },
        ],
      },
      '/blanks/0/polygon',
    ],
    [
      'no area',
      {
        blanks: [
          {
            id: 'a',
            polygon: [
              [0, 0],
              [100, 100],
              [200, 200],
            ],
          },
        ],
      },
      '/blanks/0/polygon',
    ],
    ['closed ring', { blanks: [{ id: 'a', polygon: [...blankA, blankA[0]] }] }, '/blanks/0/polygon/4'],
    [
      'one name twice',
      {
        blanks: [
          { id: 'a', polygon: blankA },
          { id: 'a', polygon: blankA },
        ],
      },
      '/blanks/1/id',
    ],
    ['far from the readings', { blanks: [{ id: 'a', polygon: rectangle(9000, 0, 9500, 100) }] }, '/blanks/0/polygon'],
    ['a board thinner than the bit reaches down to', { sled: { ...shop.sled, lowest: 60 } }, '/sled/lowest'],
    ['a sled without depth', { sled: { ...shop.sled, depth: 0 } }, '/sled/depth'],
    ['an unknown key', { blanks: [{ id: 'a', polygon: blankA, finish: 38 }] }, '/blanks/0/finish'],
    ['an unknown species', { drying: { species: 'unobtainium', from: 12, to: 8 } }, '/drying/species'],
  ];
  for (const [name, change, where] of cases) {
    it(`is refused with its place and the mend: ${name}`, () => {
      const input = { ...good(), ...change };
      let problem: unknown;
      try {
        flatten(checked(flattenInput, JSON.parse(JSON.stringify(input))));
      } catch (thrown) {
        problem = thrown;
      }
      expect(problem).toBeInstanceOf(InputProblem);
      expect((problem as InputProblem).where).toBe(where);
      expect((problem as InputProblem).mend).not.toBe('');
    });
  }

  it('is refused where a blank leaves a slab that is told by its warp', () => {
    const warp = { length: 2000, width: 560, thickness: 54, bow: 9, cup: 4, twist: 3 };
    const polygon = rectangle(-1125, -100, 1000, 100);
    expect(() => flatten(checked(flattenInput, { warp, blanks: [{ id: 'a', polygon }] }))).toThrow(/outside the slab/);
  });

  it('is none of: a blank that reaches past the readings, which is told as a share that is a guess', () => {
    const wide = rectangle<'face'>(-1400, -200, 1000, 200);
    const { top, bottom } = surfaces;
    expect(run(top as Spot3[], bottom as Spot3[], wide).beyond).toBeCloseTo(200 / 2400, 2);
  });
});
