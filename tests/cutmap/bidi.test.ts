import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isolated, stretches } from '../../src/cutmap/bidi';

// Letters of Hebrew by their code points, so that no editor turns this file about: alef, bet, gimel.
const [A, B, C] = ['\u05d0', '\u05d1', '\u05d2'];

describe('names that are read from the right', () => {
  it('move no figure that stands beside them: length, width and thickness keep their places', () => {
    expect(stretches(`${A}${B}: 2200 × 613 × 34`)).toEqual([`${A}${B}`, ': 2200 × 613 × 34']);
    expect(stretches(`cut 2 of ${A}${B} 1, 40 over`)).toEqual(['cut 2 of ', `${A}${B}`, ' 1, 40 over']);
  });

  it('are laid by the Unicode rules: words from the right, a number among them from the left, brackets turned', () => {
    // Read: alef-bet, 34, gimel. On the paper from the left: gimel, 34, then alef-bet; each stretch in the order of reading.
    expect(stretches(`${A}${B} 34 ${C}`)).toEqual([` ${C}`, '34', `${A}${B} `]);
    expect(stretches(`${A} (${B}) ${C}`)).toEqual([`${A} )${B}( ${C}`]);
  });

  it('keep both brackets of a pair, the first and the last of a name too, and leave those of what stands around them', () => {
    expect(stretches(`${A} (${B})`)).toEqual([`${A} )${B}(`]);
    expect(stretches(`(${A}) ${B}, 34`)).toEqual([`)${A}( ${B}`, ', 34']);
    expect(stretches(`cut 2 (${A})`)).toEqual(['cut 2 (', A, ')']);
    expect(isolated(`${A} [${B}]: 34`)).toBe(`\u2067${A} [${B}]\u2069: 34`);
  });

  it('lose no letter and add none, and what has none of them is left alone', () => {
    const letter = fc.constantFrom(A!, B!, C!, '\u0627', 'a', 'Z', ' ', '1', '(', ')', '.', '½', '×');
    fc.assert(
      fc.property(fc.string({ unit: letter, maxLength: 30 }), (line) => {
        const sorted = (words: string) => Array.from(words.replaceAll(')', '(')).sort().join('');
        expect(sorted(stretches(line).join(''))).toBe(sorted(line));
        expect(isolated(line).replace(/[\u2067\u2069]/g, '')).toBe(line);
        if (!/[\u0590-\u08ff]/.test(line)) expect(stretches(line)).toEqual([line]);
      }),
    );
  });
});
