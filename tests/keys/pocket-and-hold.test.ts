import { describe, expect, test } from 'vitest';
import { offset, ringArea } from '../../src/geometry';
import { hankinson } from '../../src/keys/hold';
import { base, crack, FLARE, medium, outline, outside, place, type Ring } from './top';

describe('the pocket that a bit clears', () => {
  test('is the outline but for its four corners, which keep the radius of the bit', () => {
    const { keys } = place({ router: { bushing: 30, bit: 10 } });
    const { outline: ring, pocket } = keys[0] as { outline: Ring; pocket: Ring };
    // Each corner keeps r2 (1 / tan(c/2) - (pi - c)/2) of wood, c being the corner's angle, 90 less the flare.
    const c = Math.PI / 2 - Math.atan(FLARE);
    const left = 4 * 25 * (1 / Math.tan(c / 2) - (Math.PI - c) / 2);
    expect(ringArea(ring) - ringArea(pocket)).toBeCloseTo(left, 0);
    // A second way: what a disc of the bit can reach is the outline shrunk and grown by its radius.
    const shrunk = offset([{ outer: ring, holes: [] }], -5);
    const reached = offset(shrunk, 5)[0]?.outer as Ring;
    expect(outside(reached, pocket) + outside(pocket, reached)).toBeLessThan(1);
  });

  test('without a router it is chopped to the outline and there is no template', () => {
    const key = place().keys[0];
    expect(key?.pocket).toEqual(key?.outline);
    expect(key?.template).toBeNull();
  });
});

describe('hold', () => {
  const MPa = 0.006894757293168;

  test('walnut keys in walnut: wings shear before the waist tears, and the wood behind the ends is the weak link', () => {
    const { hold } = place();
    expect(hold.keys).toBeCloseTo(4 * 1370 * MPa * 70 * 14, 6);
    expect(hold.wood).toBeCloseTo(4 * 690 * MPa * medium.end * 14, 6);
    expect(hold.ratio).toBeGreaterThan(1);
    expect(hold.note).toContain('no load that anyone may rely on');
  });

  test('a species without a tabled strength is said, not guessed', () => {
    expect(place({ species: 'maple_sugar', keySpecies: 'walnut_black' }).hold).toMatchObject({
      wood: null,
      ratio: null,
    });
    const cedar = place({ keySpecies: 'redcedar_eastern' }).hold;
    expect(cedar).toMatchObject({ keys: null, ratio: null });
    expect(cedar.note).toContain('Eastern redcedar');
  });

  test('flanks crush where the softer wood meets them: Hankinson on the key, nearly across its grain (Wood Handbook ch. 5)', () => {
    // The handbook's own form, n 2: P Q / (P sin2 + Q cos2). Along and across it gives the two strengths themselves.
    expect(hankinson(50, 7, 0)).toBeCloseTo(50, 9);
    expect(hankinson(50, 7, Math.PI / 2)).toBeCloseTo(7, 9);
    const { hold } = place();
    const [P, Q, flank] = [7580 * MPa, 1010 * MPa, (75.5 * Math.PI) / 180];
    const crushed = (P * Q) / (P * Math.sin(flank) ** 2 + Q * Math.cos(flank) ** 2);
    expect(hold.bearing).toBeCloseTo(4 * crushed * (medium.end - medium.waist) * 14, 6);
    expect(hold.weakest).toBe('bearing');
    // A harder key bears more, and then the wood behind it is the weak link, as TRADE 6 has it.
    expect(place({ keySpecies: 'hickory_shagbark' }).hold.weakest).toBe('wood');
  });

  test('one in twenty holds less, by 1.645 coefficients of variation: 14 % in shear, 25 % across the grain (Table 5-6, from memory)', () => {
    const { hold } = place();
    expect((hold.low.keys as number) / (hold.keys as number)).toBeCloseTo(1 - 1.645 * 0.14, 9);
    expect((hold.low.wood as number) / (hold.wood as number)).toBeCloseTo(1 - 1.645 * 0.25, 9);
  });

  test('against whole wood: 600 x 38 mm2 of walnut hold 690 psi across the grain, and more keys give more of it back', () => {
    const few = place({ cracks: [{ ...base.cracks[0], depth: 'through' }] }).hold;
    expect(few.unbroken).toBeCloseTo(690 * MPa * 600 * 38, 3);
    expect(few.share).toBeCloseTo((few.wood as number) / (few.unbroken as number), 9);
    const many = place({ rules: { spacing: 1.7 } }).hold;
    expect((many.share as number) / (few.share as number)).toBeCloseTo(5 / 4, 9);
    expect(place({ cracks: [{ ...base.cracks[0], depth: 'surface' }] }).hold).toMatchObject({
      unbroken: 0,
      share: null,
    });
  });

  test('each crack is weighed by itself, and together they are the whole', () => {
    const { cracks, hold } = place({ cracks: [...base.cracks, crack([1300, 200, 2], [2000, 200, 2])] });
    const sum = (of: 'keys' | 'wood' | 'bearing') => cracks.reduce((total, each) => total + (each.hold[of] ?? 0), 0);
    for (const of of ['keys', 'wood', 'bearing'] as const) expect(sum(of)).toBeCloseTo(hold[of] as number, 6);
  });

  test('no keys hold nothing, against which nothing can be weighed', () => {
    expect(place({ cracks: [] }).hold).toMatchObject({ keys: 0, wood: 0, ratio: null });
  });
});

describe('bad input', () => {
  test.each([
    [{ cracks: [crack([500, 300, 2], [500, 300, 2])] }, '/cracks/0/line'],
    [{ cracks: [crack([500, 300, 2])] }, '/cracks/0/line'],
    [{ cracks: [crack([500, 300, -2], [600, 300, 2])] }, '/cracks/0/line/0/2'],
    [{ species: 'granite' }, '/species'],
    [{ keySpecies: 'granite' }, '/keySpecies'],
    [{ sizes: [{ ...medium, waist: 80 }] }, '/sizes/0/waist'],
    [{ sizes: [] }, '/sizes'],
    [{ router: { bushing: 10, bit: 10 } }, '/router'],
    [{ top: { outline } }, '/top/thickness'],
    [
      {
        top: {
          outline: [
            [0, 0],
            [10, 0],
            [20, 0],
          ],
          thickness: 38,
        },
      },
      '/top/outline',
    ],
    [{ rules: { space: 3 } }, '/rules/space'],
    [{ rules: { depth: { least: 0.6 } } }, '/rules/depth'],
    [{ rules: { leastSpacing: 4 } }, '/rules'],
  ])('%# is refused at %s', (part, where) => {
    expect(() => place(part)).toThrow(expect.objectContaining({ where }));
  });
});
