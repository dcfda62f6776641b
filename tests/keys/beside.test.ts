import { describe, expect, test } from 'vitest';
import { alongOf, base, checkedPlace, crack, place, size } from './top';

describe('keys beside keys of other lines', () => {
  test('keys of the two faces do not keep off each other where wood enough is left between their pockets', () => {
    const { line } = crack([500, 300, 3], [1100, 300, 1]);
    const far = line.map(([x, y, w]) => [x, y + 9, w]);
    const sizes = [size('m', 70, [12, 14])];
    const { keys } = checkedPlace({ cracks: [{ line, far, faces: 'both' }], sizes });
    expect(alongOf(keys, 0, 'bottom')).toEqual(alongOf(keys));
    // A deep pocket of another crack above leaves too little over one from below: there they keep clear.
    const above = crack([500, 360, 1], [1100, 360, 1]);
    const deep = checkedPlace({
      cracks: [{ line, far, faces: 'both' }, above],
      sizes: [size('m', 70, [14, 19])],
      rules: { depth: { least: 0.3, wanted: 0.5, floor: 10 } },
    });
    const upper = deep.keys.filter((key) => key.crack === 1);
    const lower = deep.keys.filter(({ face }) => face === 'bottom');
    expect([upper.length > 0, lower.length > 0]).toEqual([true, true]);
    for (const a of upper)
      for (const b of lower)
        expect(Math.abs(a.at[0] - b.at[0]) > 30 || a.depth + b.depth + 10 <= 38 || b.at[1] + 70 < a.at[1]).toBe(true);
  });

  test('a seam is decorated with keys that hold nothing, though the seam is to be kept clear of', () => {
    const seam = [
      [0, 330],
      [2200, 330],
      [2200, 330.1],
      [0, 330.1],
    ];
    const joint = {
      line: [
        [0, 330, 0],
        [2200, 330, 0],
      ],
      faces: 'top',
      kind: 'seam',
    };
    const { keys, hold } = checkedPlace({ cracks: [joint], keepOff: [{ kind: 'seam', polygon: seam }] });
    expect(keys.length).toBeGreaterThan(8);
    expect(hold).toMatchObject({ keys: 0, wood: 0, ratio: null, unbroken: 0 });
    // A crack that lies along it is another matter.
    const beside = place({ keepOff: [{ kind: 'seam', polygon: seam }] });
    expect(beside.keys).toEqual([]);
    expect(beside.refused[0]?.reason).toContain('a seam');
  });

  test('a seam that is decorated takes no place of a key that holds', () => {
    const joint = { line: [[0, 380, 0] as const, [2200, 380, 0] as const], faces: 'top', kind: 'seam' };
    const own = base.cracks[0];
    const alone = checkedPlace({ cracks: [own] });
    const both = checkedPlace({ cracks: [joint, own], rules: { seam: 0 } });
    expect(both.keys.filter((key) => key.crack === 1).map(({ at }) => at)).toEqual(alone.keys.map(({ at }) => at));
    expect(both.keys.filter((key) => key.crack === 0).length).toBeGreaterThan(4);
    expect(both.hold.keys).toBeCloseTo(alone.hold.keys as number, 6);
  });
});
