import { describe, expect, it } from 'vitest';
import { cutFirstRows, helpWords, ruledWords, skipWords } from '../../src/plan';

/** The same words stand on the screen and on the sheets; each figure must be the one that was computed, in the job's units. */
describe('what is said of a thickness', () => {
  it('names the face, its share and the gain, a share under one in a hundred to the tenth', () => {
    expect(skipWords('top', 0.02, 3.5, 'mm')).toMatch(/^leave 2\s?% of the upper face low and gain 3\.5\s?mm$/);
    expect(skipWords('bottom', 0.004, 25.4, 'in')).toMatch(/^leave 0\.4\s?% of the underside low and gain 1\s?(in|")$/);
  });

  it('says each help once, and that nothing helps where nothing does', () => {
    const none = helpWords({ length: null, skip: null, slabs: [] }, 'mm');
    expect(none).toEqual([expect.stringContaining('Nothing that was tried')]);
    const words = helpWords(
      {
        length: 640,
        skip: { face: 'bottom', share: 0.03, gain: 2 },
        slabs: [{ name: 'Slab 4', finished: 41.2 }],
      } as never,
      'mm',
    );
    expect(words).toHaveLength(3);
    for (const [i, figure] of [/640\s?mm/, /3\s?%.*underside/, /Slab 4.*41\.2\s?mm/].entries())
      expect(words[i]).toMatch(figure);
  });

  it('says which half rules and what the other gives up', () => {
    expect(ruledWords({ name: 'Slab 2', finished: 36.4, loses: 5.1 } as never, 'mm')).toMatch(
      /^Slab 2 rules: it gives 36\.4\s?mm at most, so this one gives up 5\.1\s?mm\.$/,
    );
  });

  it('tells the ways to cut first in one order, gains counted from flattening whole', () => {
    const rows = cutFirstRows({ whole: 36, crosscut: 40.5, ripped: 37, both: 41 } as never, 'mm');
    expect(rows.map(({ way }) => way)).toEqual([
      'flattened whole',
      'crosscut first',
      'ripped first',
      'both first, as planned',
    ]);
    expect(rows.map(({ finished }) => finished)).toEqual(
      ['36', '40.5', '37', '41'].map((mm) => expect.stringContaining(mm)),
    );
    expect(rows.slice(1).map(({ gain }) => gain)).toEqual(['4.5', '1', '5'].map((mm) => expect.stringContaining(mm)));
  });
});
