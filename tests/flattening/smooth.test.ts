import { describe, expect, it } from 'vitest';
import { type BlankFlattening, flatten, flattenInput, flattenOutput, thicknessOfBlank } from '../../src/flattening';
import { rectangle } from '../../src/geometry';
import { checked } from '../../src/job';
import { type Spot3, smoothFaces } from '../../src/surface';
import { blankA, mm, shop } from './blanks';

describe('flattening by the model of warp', () => {
  const truth = (x: number, y: number): number => 9 * (x / 1300) ** 2 + 4 * (y / 280) ** 2;
  const at = [-1100, -550, 0, 550, 1100].flatMap((x) => [-220, 0, 220].map((y) => [x, y] as const));
  const top = at.map(([x, y]): Spot3 => [x, y, Math.round(2 * (54 + truth(x, y))) / 2]);
  const bottom = at.map(([x, y]): Spot3 => [x, y, Math.round(2 * truth(x, y)) / 2]);

  it('counts on less than the most likely faces would give, for the wood is rougher than they are', () => {
    const read = (spots: readonly Spot3[]) => spots.map(([x, y, z]) => ({ at: [x, y] as const, z, sigma: 0.2 }));
    const faces = smoothFaces(read(top), read(bottom));
    const { thickest, sigma } = thicknessOfBlank(faces, rectangle(-1125, -280, 1125, 280));
    const exact = 54 - 9 * (1125 / 1300) ** 2 - 4;
    expect(Math.abs(thickest - exact)).toBeLessThan(3 * sigma);
    expect(sigma).toBeLessThan(2);
  });

  it('adds up and reads back like the other', () => {
    const input = { surfaces: { top, bottom }, interpolate: 'smooth', blanks: [{ id: 'a', polygon: blankA }], ...shop };
    const output = flatten(checked(flattenInput, input));
    expect(() => checked(flattenOutput, JSON.parse(JSON.stringify(output)))).not.toThrow();
    const [flat] = output.blanks as [BlankFlattening];
    expect(flat.budget.slice(1).reduce((sum, entry) => sum + entry.mm, 0)).toBeCloseTo(mm(flat, 'rough'), 6);
    expect(output).toEqual(flatten(checked(flattenInput, input)));
  });
});
