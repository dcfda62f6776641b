import { describe, expect, test } from 'vitest';
import { checked } from '../../src/job';
import { checkKeys, type Key, keysInput, keysOutput, placeKeys } from '../../src/keys';
import { randomTop } from './random-tops';
import { base, crack } from './top';

const TOPS = process.env.SLOW ? 1000 : 8;

describe('the independent check', () => {
  test(`finds no rule broken by a tenth of a millimetre on ${TOPS} tops drawn by chance`, { timeout: 600_000 }, () => {
    let keys = 0;
    for (let seed = 1; seed <= TOPS; seed++) {
      const input = randomTop(seed);
      const found = placeKeys(input);
      checked(keysOutput, JSON.parse(JSON.stringify(found)));
      expect({ seed, faults: checkKeys(input, found) }).toEqual({ seed, faults: [] });
      keys += found.keys.length;
    }
    expect(keys).toBeGreaterThan(2 * TOPS);
  });

  const moved = (key: Key, dx: number, dy: number): Key => ({
    ...key,
    at: [key.at[0] + dx, key.at[1] + dy],
    outline: key.outline.map(([x, y]) => [x + dx, y + dy] as const),
  });
  const square = (x: number, y: number, half: number) => [
    [x - half, y - half],
    [x + half, y - half],
    [x + half, y + half],
    [x - half, y + half],
  ];
  // The second key of TRADE 11 d stands at x = 723.33, 19.6 mm wide to either side; a layout made without the hindrance is checked with it.
  test.each([
    ['knot', { defects: [{ kind: 'knot', polygon: square(723, 345, 0.2) }] }],
    ['clear', { avoid: [square(723 + 19.6 + 12, 332, 2.2)] }],
    ['hardware', { keepOff: [{ kind: 'hardware', polygon: square(723, 352, 2) }], rules: { hardware: 16 } }],
    ['crack', { cracks: [...base.cracks, crack([700, 340, 1], [760, 340, 1])] }],
    ['edge', { rules: { edge: 265.2 } }],
    ['end', { rules: { end: 7.87 } }],
    ['turn', { top: { ...base.top, grain: 70 } }],
    ['tip', { rules: { tip: 1.01 } }],
    ['leastSpacing', { rules: { leastSpacing: 2.2 } }],
    ['key', { rules: { key: 115 } }],
    ['width', { rules: { width: 25 } }],
    ['longest', { rules: { longest: 69 } }],
    ['depth', { rules: { depth: { least: 0.4, wanted: 0.45 } } }],
    ['floor', { rules: { depth: { floor: 25 } } }],
    ['spacing', { rules: { spacing: 2.15 } }],
  ])('tells a layout made without the rule "%s"', (rule, asked) => {
    const found = placeKeys(checked(keysInput, base));
    const faults = checkKeys(checked(keysInput, { ...base, ...asked }), found);
    expect([...new Set(faults.map((fault) => fault.rule))]).toEqual([rule]);
  });

  test('tells a key off its crack, out of square, of another shape, or over another', () => {
    const input = checked(keysInput, base);
    const { keys, refused } = placeKeys(input);
    const [first, second, third, last] = keys as [Key, Key, Key, Key];
    const rules = (changed: Key[]) => new Set(checkKeys(input, { keys: changed, refused }).map(({ rule }) => rule));
    expect(rules([first, moved(second, 0, 0.2), third, last])).toEqual(new Set(['waist']));
    expect(rules([{ ...first, angle: 89 }, second, third, last])).toEqual(new Set(['shape', 'square']));
    expect(rules([moved(first, 120, 0), second, third, last])).toEqual(new Set(['key', 'leastSpacing']));
    expect(rules([first, second, { ...third, size: 'none' }, last])).toContain('size');
    expect(rules([first, second, last])).toEqual(new Set(['spacing']));
  });
});
