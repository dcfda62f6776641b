import { expect, it } from 'vitest';
import { firstToSee, type KeyBench, whyNone } from '../../src/app/stages/keys/bench';

/** Three cracks: the first misses its keys for a reason, the second needs none, the third has one. */
const REFUSED = [{ crack: 0, reason: 'It is too short for a key.' }];
const onThird = [{ crack: 2 }];
const bench = (own: { set: boolean; keys: readonly { crack: number }[] }): KeyBench =>
  ({
    ...own,
    top: { cracks: [{}, {}, {}] },
    proposed: { keys: onThird, refused: REFUSED },
    given: { keys: own.keys, refused: own.set ? [] : REFUSED },
  }) as unknown as KeyBench;

it('looks first at a crack with keys, else at the first that misses one', () => {
  expect(firstToSee(bench({ set: false, keys: onThird }))).toBe(2);
  expect(firstToSee(bench({ set: false, keys: [] }))).toBe(0);
  expect(firstToSee(bench({ set: true, keys: [{ crack: 1 }] }))).toBe(1);
});

it('says why a crack has no key: the rules, or the maker', () => {
  const proposed = bench({ set: false, keys: onThird });
  expect(whyNone(proposed, 0)).toEqual(['It is too short for a key.']);
  expect(whyNone(proposed, 1)).toEqual(['By the rules below it needs none.']);
  expect(whyNone(proposed, 2)).toEqual([]);
  expect(whyNone(bench({ set: true, keys: [] }), 2)).toEqual(['You set it without keys.']);
});
