import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatLength, formatPlusMinus, InputProblem, parseLength } from '../../src/units';

const inch = 25.4;

describe('a length as people type it', () => {
  test.each([
    ['5\' 3 1/2"', 63.5 * inch],
    ["5'3-1/2", 63.5 * inch],
    ['5′ 3½″', 63.5 * inch],
    ['5 ft 3 1/2 in.', 63.5 * inch],
    ['5 feet 3 1/2 inches', 63.5 * inch],
    ["5'3", 63 * inch],
    ["5'", 60 * inch],
    ["3''", 3 * inch],
    ['63 1/2', 63.5 * inch],
    ['63-1/2"', 63.5 * inch],
    ['63½', 63.5 * inch],
    ['63 ½ "', 63.5 * inch],
    ['63⅝', 63.625 * inch],
    ['86 ³⁄₁₆"', 86.1875 * inch],
    ['5/8', 0.625 * inch],
    ['11/8"', 1.375 * inch],
    ['.5', 0.5 * inch],
    ['63.5', 63.5 * inch],
    ['63,5', 63.5 * inch],
    ['0', 0],
    ['-1/4"', -0.25 * inch],
    ['−5\' 3"', -63 * inch],
    ['+2', 2 * inch],
    ['0,375', 0.375 * inch],
    ['1613 mm', 1613],
    ['1,613.5 mm', 1613.5],
  ])('%s in a shop of inches', (text, mm) => {
    expect(parseLength(text, 'in')).toBeCloseTo(mm, 9);
  });

  test.each([
    ['1613', 1613],
    ['1613.4', 1613.4],
    ['161,3 cm', 1613],
    ['1.6 m', 1600],
    ['1,613 m', 1613],
    ['1.613M', 1613],
    ['1 m 61.3 cm', 1613],
    ['1 m 61 cm 3 mm', 1613],
    ['2 metres', 2000],
    ['63 1/2"', 63.5 * inch],
    ['63 1/2', 63.5],
    ['-6.5', -6.5],
    ['1,613,000.5 mm', Number.NaN],
  ])('%s in a shop of millimetres', (text, mm) => {
    if (Number.isNaN(mm)) expect(() => parseLength(text, 'mm')).toThrow('over 100 m');
    else expect(parseLength(text, 'mm')).toBeCloseTo(mm, 9);
  });

  test.each([
    ['', 'no length'],
    ['   ', 'no length'],
    ['-', 'no length'],
    ['long', 'not a length'],
    ['12 cubits', 'not a unit'],
    ['1/0', 'divides by nothing'],
    ['3 5/4"', 'fraction of one or more'],
    ['1.2.3', 'not a number'],
    ['1.5/2', 'not a length'],
    ['3" 5\'', 'mixes its units'],
    ["5' 30 mm", 'mixes its units'],
    ['1 m 60', 'does not say'],
    ['12 13', 'does not say'],
    ['1,613', 'can be read as'],
    ['3 - 4', 'not a length'],
    ['--4', 'not a length'],
    ['1e3', 'not a unit'],
    ['Infinity', 'not a length'],
    ['5000 m', 'over 100 m'],
    ['3² mm', 'not a length'],
    ['٣٤', 'not a length'],
    ['9'.repeat(150), 'over 100 m'],
    ['⁰'.repeat(10_000), 'not a length'],
  ])('"%s" is refused: %s', (text, why) => {
    try {
      parseLength(text, 'mm', '/top/length');
      expect.unreachable();
    } catch (problem) {
      expect(problem).toBeInstanceOf(InputProblem);
      expect((problem as InputProblem).message).toContain(why);
      expect((problem as InputProblem).where).toBe('/top/length');
      expect((problem as InputProblem).mend).toMatch(/\.$/);
    }
  });

  test('a text without end is quoted by its beginning', () => {
    expect(() => parseLength('a'.repeat(9000), 'mm')).toThrow(/^"a{60}…" is not a length\.$/);
  });

  test('never yields anything but a finite number or a sentence', () => {
    const scraps = fc.array(fc.constantFrom(...'0123456789 /-.,\'"½⅝⁄', 'mm', 'ft', 'in', 'm', ' '), { maxLength: 10 });
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          scraps.map((s) => s.join('')),
        ),
        fc.constantFrom('mm', 'in'),
        (text, system) => {
          try {
            expect(Number.isFinite(parseLength(text, system))).toBe(true);
          } catch (problem) {
            if (!(problem instanceof InputProblem)) throw problem;
          }
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe('a length as people read it', () => {
  test.each([
    [2200, 'mm', {}, '2200'],
    [37.64, 'mm', { unit: true }, '37.6\u00a0mm'],
    [-0.02, 'mm', {}, '0'],
    [-6.5, 'mm', {}, '−6.5'],
    [-6.5, 'mm', { as: 'typed' }, '-6.5'],
    [86.625 * inch, 'in', {}, '86\u00a0⅝"'],
    [86.625 * inch, 'in', { as: 'typed' }, '86 5/8"'],
    [86.1875 * inch, 'in', {}, '86\u00a0³⁄₁₆"'],
    [86.1875 * inch, 'in', { as: 'typed' }, '86 3/16"'],
    [(1 / 32) * inch, 'in', { denominator: 32 }, '¹⁄₃₂"'],
    [(31 / 32) * inch, 'in', { denominator: 16 }, '1"'],
    [-0.25 * inch, 'in', {}, '−¼"'],
    [-0.2, 'in', {}, '0"'],
    [0, 'in', {}, '0"'],
  ] as const)('%d in %s, %o: %s', (mm, system, style, text) => {
    expect(formatLength(mm, system, style)).toBe(text);
  });

  test('is read back within half of the last step, set or typed, in either system', () => {
    const style = fc.record({
      denominator: fc.constantFrom(16 as const, 32 as const),
      decimals: fc.integer({ min: 0, max: 3 }),
      unit: fc.boolean(),
      as: fc.constantFrom('set' as const, 'typed' as const),
    });
    const mm = fc.double({ min: -9e4, max: 9e4, noNaN: true });
    fc.assert(
      fc.property(mm, fc.constantFrom('mm' as const, 'in' as const), style, (length, system, how) => {
        const step = system === 'mm' ? 10 ** -how.decimals : inch / how.denominator;
        const back = parseLength(formatLength(length, system, how), system);
        expect(Math.abs(back - length)).toBeLessThanOrEqual(step / 2 + 1e-9);
      }),
      { numRuns: 2000 },
    );
  });

  test('a fraction of the ruler is exact: sixteenths and thirty-seconds survive being printed and read', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), (parts) => {
        const mm = (parts / 32) * inch;
        expect(parseLength(formatLength(mm, 'in', { denominator: 32 }), 'in')).toBeCloseTo(mm, 9);
      }),
    );
  });

  test('a doubt is never printed as nothing', () => {
    expect(formatPlusMinus(0.004, 'mm')).toBe('±0.1');
    expect(formatPlusMinus(0.04, 'in', { denominator: 32 })).toBe('±¹⁄₃₂"');
    expect(formatPlusMinus(0.83, 'mm')).toBe('±0.8');
  });
});
