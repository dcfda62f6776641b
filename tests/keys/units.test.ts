import { expect, test } from 'vitest';
import { type KeysOutput, keysByHand, placeKeys } from '../../src/keys';
import { runs } from '../support/runs';
import { randomTop } from './random-tops';

const sentences = ({ hold, refused, cracks, notes }: KeysOutput): string[] => [
  hold.note,
  ...refused.map(({ reason }) => reason),
  ...cracks.flatMap((crack) => crack.notes),
  ...notes,
];

test('in inches every sentence names its lengths in inches, and no figure differs', () => {
  let lengths = 0;
  for (let seed = 0; seed < runs(6); seed++) {
    const input = randomTop(seed);
    // A key that is set too near to its tip is judged in words as well.
    const set = [{ crack: 0, along: 3, size: input.sizes[0]!.id, face: 'top', turn: 0 }] as const;
    for (const of of [placeKeys, (given: typeof input) => keysByHand(given, set)]) {
      const [metric, inches] = [of(input), of({ ...input, units: 'in' })];
      expect(inches.keys).toEqual(metric.keys);
      const [theirs, ours] = [sentences(metric), sentences(inches)];
      expect(ours.filter((words) => /\bmm\b/.test(words))).toEqual([]);
      theirs.forEach((words, i) => {
        const count = words.match(/\d\smm\b/g)?.length ?? 0;
        expect(ours[i]!.match(/[\d¼½¾⅛⅜⅝⅞]"/g)?.length ?? 0).toBe(count);
        lengths += count;
      });
    }
  }
  expect(lengths).toBeGreaterThan(12);
});
