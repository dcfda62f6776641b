import { describe, expect, it } from 'vitest';
import { runs, wrap, wrapAtMost } from '../../src/cutmap/text';
import { typeface } from './invented';

describe('text of the sheets', () => {
  it('sets a fraction as a fraction, however it was written; a slash between other figures stays one', () => {
    for (const line of ['1 ²¹⁄₃₂"', '1 21⁄32"', '1 21/32"'])
      expect(runs(line).map(({ text, scale }) => [text.trim(), scale < 1])).toEqual([
        ['1', false],
        ['21', true],
        ['⁄', false],
        ['32', true],
        ['"', false],
      ]);
    expect(runs('page 1/3')).toEqual([{ text: 'page 1/3', scale: 1, rise: 0 }]);
  });

  it('cuts what has no end after so many lines, each within its column, and leaves alone what fits', async () => {
    const face = await typeface();
    const fits = (line: string) => face.measure(line, 2.5, false) <= 40;
    for (const words of ['A very long name that goes on and on. '.repeat(9), 'W'.repeat(90), '1 ½ '.repeat(80)]) {
      const lines = wrapAtMost(3, words, 40, 2.5, false, face);
      expect(lines).toHaveLength(3);
      expect(lines.every(fits)).toBe(true);
      expect(lines[2]).toMatch(/…$/);
      const whole = wrap(words, 40, 2.5, false, face);
      expect(wrapAtMost(whole.length, words, 40, 2.5, false, face)).toEqual(whole);
    }
  });
});
