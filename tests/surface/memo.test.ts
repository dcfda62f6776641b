import { describe, expect, it } from 'vitest';
import { flattenBlank } from '../../src/flattening';
import { rectangle } from '../../src/geometry';
import { seededRandom } from '../../src/search';
import { Memo, type Reading, smoothFaces } from '../../src/surface';
import { runs } from '../support/runs';

/** What is kept from one reckoning to the next changes no result: the same readings give the same, whatever was read before them. */
const blank = { id: 'a', polygon: rectangle<'face'>(150, 60, 2250, 420), finished: 34 };
const shop = {
  sled: { bit: 50, depth: 3, stepover: 0.5, feed: 75, lowest: 0 },
  sanding: 1,
  reserve: { second: 3, level: 1 },
};

describe('what is kept between reckonings', () => {
  it('gives to the last digit what is reckoned anew, after readings were changed, moved, added and taken out', () => {
    const { next, normal } = seededRandom(7);
    const read = (level: number): Reading[] =>
      [0.05, 0.3, 0.55, 0.8, 0.95].flatMap((a) =>
        [0.1, 0.5, 0.9].map((c) => ({
          at: [a * 2400, c * 480] as const,
          z: level + 6 * (2 * a - 1) ** 2 + 2 * (2 * c - 1) ** 2 + 0.5 * normal(),
          sigma: 0.2,
        })),
      );
    const memo = new Memo();
    let [top, bottom] = [read(54), read(0)];
    for (let round = 0; round < runs(8); round++) {
      const place = Math.floor(next() * top.length);
      const change = Math.floor(next() * 4);
      const own = top[place] as Reading;
      if (change === 0) top = top.with(place, { ...own, z: own.z + 2 * normal() });
      if (change === 1) top = top.with(place, { ...own, at: [own.at[0] + 20 * normal(), own.at[1]] });
      if (change === 2) top = [...top, { at: [2400 * next(), 480 * next()], z: 57, sigma: 0.2 }];
      if (change === 3) bottom = bottom.filter((_, i) => i !== place % bottom.length);
      const kept = flattenBlank(smoothFaces(top, bottom, memo), blank, shop);
      expect(kept).toEqual(flattenBlank(smoothFaces(top, bottom), blank, shop));
      expect(flattenBlank(smoothFaces(top, bottom, memo), blank, shop)).toEqual(kept);
    }
  });

  it('is given up, the longest unused first, once it is too much; and is made again', () => {
    const memo = new Memo(25);
    let made = 0;
    const ask = (name: string) =>
      memo.get(name, () => {
        made++;
        return new Float64Array(10).fill(name.length);
      });
    ask('a');
    ask('bb');
    ask('a');
    expect(made).toBe(2);
    ask('ccc');
    ask('a');
    expect(made).toBe(3);
    expect(ask('bb')).toEqual(new Float64Array(10).fill(2));
    expect(made).toBe(4);
  });
});
