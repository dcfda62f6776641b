import { describe, expect, test } from 'vitest';
import { type Door, defaultDoor, type Grade } from '../../src/job';
import { frontsOf, type GradeAsked, gradeReport, layOutSet, prepareBench } from '../../src/leaves';
import { unwatched } from '../../src/search';
import { plainLeaves, RULES } from './bench-leaves';

/** Limits of the Architectural Woodwork Standards, 1st ed. 2009, the section beside each. */
async function report(doors: readonly Door[], asked: Partial<GradeAsked> & { grade: Grade }) {
  const leaves = plainLeaves(8, 1000, 240);
  const bench = await prepareBench(leaves, RULES, unwatched());
  const fronts = frontsOf(doors);
  const set = await layOutSet({ id: 's', name: 'S', fronts }, bench, unwatched());
  expect(set.misses).toEqual([]);
  const lines = gradeReport(set, fronts, leaves, { cut: 'plain', leaf: 2, ...asked });
  return (section: string) => lines.find((line) => line.section.startsWith(section));
}
const door = (id: string, part: Partial<Door>): Door => ({
  ...defaultDoor(id),
  name: id,
  count: 1,
  backed: false,
  ...part,
});

describe('a set held against a grade', () => {
  test('8-7.2.3: 1 1/2 in (38 mm) of grain may be lost at an end-matched joint: a frame loses more, a plain gap less', async () => {
    const stack = (part: Partial<Door>) => [
      door('above', { ...part, height: 300, width: 220, run: 'r', at: [[0, 0]] }),
      door('below', { ...part, height: 300, width: 220, run: 'r', at: [[0, 303]] }),
    ];
    const plain = (await report(stack({ trim: 10 }), { grade: 'custom' }))('8-7.2.3');
    expect(plain).toMatchObject({ limit: 38, holds: true });
    expect(plain?.found).toBeCloseTo(20 + RULES.crosscut, 6);
    const frame = { stile: 40, topRail: 40, bottomRail: 40, groove: 9, clearance: 1 };
    const framed = (await report(stack({ trim: 5, frame }), { grade: 'custom' }))('8-7.2.3');
    expect(framed).toMatchObject({ holds: false, fronts: ['below-1'] });
    // Two rails and the gap, less what stands in the two grooves.
    expect(framed?.found).toBeCloseTo(40 + 40 + 3 - 2 * 8, 6);
  });

  test('p. 84, face grade AA: plain-sliced leaves of 6 in (152 mm), quartered of 3 in (76 mm), the outer ones apart', async () => {
    const doors = [door('a', { width: 500, leaves: 5 })];
    expect((await report(doors, { grade: 'premium' }))('p. 84')).toMatchObject({
      limit: 152,
      holds: false,
      fronts: ['a-1'],
    });
    expect((await report(doors, { grade: 'premium', cut: 'quarter' }))('p. 84')).toMatchObject({
      limit: 76,
      found: 104,
      holds: true,
    });
    expect((await report(doors, { grade: 'custom' }))('p. 84')).toMatchObject({ limit: null, holds: null });
    const two = [door('a', { width: 300, leaves: 2 })];
    expect((await report(two, { grade: 'premium' }))('p. 84')).toMatchObject({ found: null, holds: null });
  });

  test('4-1.2.20.1 to .3: equal widths before trimming, a joint on the middle; 8-4.2.11.4.2.6: 1/50 in thick; a back behind each', async () => {
    const doors = [
      door('a', { width: 560, arrangement: 'balanced and centred' }),
      door('b', { width: 560, match: 'slip centre book' }),
    ];
    const of = await report(doors, { grade: 'premium', leaf: 0.4 });
    expect(of('4-1.2.20.1')).toMatchObject({ holds: true });
    expect(of('4-1.2.20.2')).toMatchObject({ holds: true });
    expect(of('8-7.2.2.1')).toMatchObject({ limit: 5, found: 0, holds: true });
    expect(of('8-4.2.11')).toMatchObject({ limit: 0.5, found: 0.4, holds: false });
    expect(of('balanced construction')).toMatchObject({ found: 0, holds: true });
  });

  test('8-4.4.4.2.3: neighbours are aligned to 1/4 in (custom) or 1/8 in (premium; which is which from memory)', async () => {
    const doors = [0, 1].map((i) => door(`d${i}`, { width: 200, run: 'r', at: [[i * 203, 0]] }));
    for (const [grade, limit] of [
      ['custom', 6.4],
      ['premium', 3.2],
    ] as const)
      expect((await report(doors, { grade }))('8-4.4.4')).toMatchObject({ limit, found: 0, holds: true });
  });
});
