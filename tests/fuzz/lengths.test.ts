import fc from 'fast-check';
import { expect, test } from 'vitest';
import { formatLength, parseLength } from '../../src/units';
import { LONG, metWith, RUNS } from './runs';

/** The reader of lengths, against whatever fingers, clipboards and other alphabets put into a field. */

const scraps = [
  ...'0123456789 /-.,\'"½⅝⁄⁰³₈²₂+−–′″“´e°٣۵३５，／＂\u202e\u200b\u00a0\u2028\0',
  'mm',
  'cm',
  'm',
  'ft',
  'in.',
  'feet',
  'K',
  'İ',
  '1e9',
  'Infinity',
  'NaN',
  '1/0',
  '0/0',
  '3 1/2"',
  "5' ",
  '1,613',
  '0x10',
  '__proto__',
  'constructor',
  '<img src=x>',
  '🪵',
];

const text = fc.oneof(
  fc.array(fc.constantFrom(...scraps), { maxLength: 12 }).map((parts) => parts.join('')),
  fc.string({ unit: 'binary' }),
  fc.string({ unit: 'grapheme', maxLength: 40 }),
  // One scrap without end: 10,000 characters of it.
  fc.constantFrom(...scraps).map((scrap) => scrap.repeat(Math.ceil(10_000 / scrap.length))),
  fc
    .tuple(fc.constantFrom(...scraps), fc.constantFrom('/', ' ', '.', ',', "'"), fc.constantFrom(...scraps))
    .map(([one, between, other]) => one.repeat(40) + between + other.repeat(40)),
);

/** What a length may be written with, whatever the keyboard. */
const KNOWN = /^[\d\s/⁄∕.,+\-−–‒—'"′’‘´`″“”½¼¾⅓⅔⅛⅜⅝⅞⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉a-z]*$/i;

test(
  'whatever is typed as a length is a length of this world, which reads back the same, or gets a sentence',
  LONG,
  async () => {
    await fc.assert(
      fc.asyncProperty(text, fc.constantFrom('mm' as const, 'in' as const), async (typed, system) => {
        const mm = await metWith(() => parseLength(typed, system));
        if (mm === null) return;
        expect(Math.abs(mm)).toBeLessThanOrEqual(100_000);
        // No character that the reader does not know was passed over.
        expect(typed).toMatch(KNOWN);
        const shown = formatLength(mm, system, { decimals: 3, denominator: 32, as: 'typed' });
        expect(Math.abs(parseLength(shown, system) - mm)).toBeLessThanOrEqual(system === 'mm' ? 0.00051 : 25.4 / 63.9);
        // A sign stands in front of all of it and turns it round.
        if (/^\d/.test(typed)) expect(parseLength(`-${typed}`, system)).toBe(mm === 0 ? 0 : -mm);
      }),
      { numRuns: RUNS },
    );
  },
);
