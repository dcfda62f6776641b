import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { draftOf, FIRST_DRAFT, lacking, nextDraft, scaleOf } from '../../src/app/stages/stock/reference/draft';
import { tapedAnew } from '../../src/app/stages/stock/reference/slab-taps';
import { moveSpot, placeSpot, removeSpot, rodSpotId, spotsOf } from '../../src/app/stages/stock/reference/spots';
import { type Calibration, checked, type ReferenceDraft, type Scale, scaleSchema, type Taped } from '../../src/job';

/** What is typed and clicked of a reference becomes the scale that the command line would be given, and comes back from it. */

const mm = fc.double({ min: 0.1, max: 5000, noNaN: true });
const px = fc.tuple(fc.integer({ min: 0, max: 4000 }), fc.integer({ min: 0, max: 3000 }));
const common = { drop: fc.option(mm, { nil: undefined }), cameraHeight: fc.option(mm, { nil: undefined }) };
const bare = (scale: Record<string, unknown>) =>
  Object.fromEntries(Object.entries(scale).filter(([, value]) => value !== undefined)) as unknown as Scale;

const markers = fc
  .record({
    kind: fc.constant('markers'),
    dictionary: fc.constant('4x4_50'),
    side: mm,
    centres: fc.option(fc.constant({ 0: [10, 20], 7: [900, -30] }), { nil: undefined }),
    ...common,
  })
  .map(bare);
const paper = fc.record({ kind: fc.constant('paper'), width: mm, height: mm, ...common }).map(bare);
const points = fc
  .uniqueArray(px, { minLength: 4, maxLength: 8, selector: ([u, v]) => `${Math.floor(u / 9)}/${Math.floor(v / 9)}` })
  .filter((all) => all.every((p, i) => all.every((q, j) => j >= i || Math.hypot(p[0] - q[0], p[1] - q[1]) > 5)))
  .chain((all) =>
    fc.record({
      kind: fc.constant('points'),
      points: fc.constant(all.map((at, i) => ({ px: at, mm: [i * 10.5, i * i] }))),
      ...common,
    }),
  )
  .map(bare);
const rod = fc
  .record({
    px: fc.constant([
      [100, 100],
      [900, 140],
    ]),
    length: fc.constant(1000),
    marks: fc.option(fc.constant([{ px: [200, 105], at: 125 }]), { nil: undefined }),
    corners: fc.option(
      fc.constant([
        [100, 90],
        [100, 110],
        [900, 130],
        [900, 150],
      ]),
      { nil: undefined },
    ),
    width: fc.constant(32),
    above: fc.option(fc.constant(6), { nil: undefined }),
  })
  .map(bare);
const rods = fc
  .record({ kind: fc.constant('rods'), rods: fc.array(rod, { minLength: 2, maxLength: 4 }), ...common })
  .map(bare);

describe('what lies on the slab', () => {
  test('a scale that is typed on and left as it is comes back as it was, whatever was typed before', () => {
    fc.assert(
      fc.property(fc.oneof(markers, paper, points, rods), fc.oneof(markers, paper), (scale, before) => {
        const draft = draftOf(scale, draftOf(before));
        expect(lacking(draft)).toEqual([]);
        const back = scaleOf(draft, {});
        expect(back).toEqual(scale);
        expect(() => checked(scaleSchema, back)).not.toThrow();
      }),
    );
  });

  test('tape checks and the lens stay with it', () => {
    const kept = {
      distances: [{ px: [[1, 2] as const, [900, 4] as const] as [never, never], length: 1234 }],
      lens: { focal: 0.7, k1: -0.1 },
    };
    expect(scaleOf(FIRST_DRAFT, kept)).toMatchObject(kept);
  });

  test('who looks at another kind and comes back finds all as it was', () => {
    const draft: ReferenceDraft = { ...FIRST_DRAFT, kind: 'points', points: [{ px: [5, 5], mm: [1, null] }] };
    const away: ReferenceDraft = { ...draft, kind: 'paper' };
    expect(scaleOf(away, {})).toEqual({ kind: 'paper', width: 297, height: 210 });
    expect({ ...away, kind: 'points' }).toEqual(draft);
  });

  test('the next photo begins with the same kind and sizes, and nothing clicked', () => {
    const draft = draftOf({ kind: 'paper', width: 279.4, height: 215.9, drop: 20 });
    expect(scaleOf(nextDraft(draft), {})).toEqual({ kind: 'paper', width: 279.4, height: 215.9, drop: 20 });
    expect(nextDraft({ ...FIRST_DRAFT, kind: 'points', points: [{ px: [1, 1], mm: [0, 0] }] }).points).toEqual([]);
  });

  test.each<[string, Partial<ReferenceDraft>, RegExp]>([
    ['no rod', { kind: 'rods' }, /Tap both ends/],
    ['one end', { kind: 'rods', rods: [rodOf({ ends: [[1, 1]] })] }, /other end of rod 1/],
    ['no length', { kind: 'rods', rods: [rodOf({ length: null }), rodOf()] }, /how long rod 1 is/],
    [
      'ends that coincide',
      {
        kind: 'rods',
        rods: [
          rodOf({
            ends: [
              [1, 1],
              [9, 9],
            ],
          }),
          rodOf(),
        ],
      },
      /same spot/,
    ],
    ['one rod alone', { kind: 'rods', rods: [rodOf()] }, /second one lying another way/],
    [
      'three corners',
      {
        kind: 'rods',
        rods: [
          rodOf({
            corners: [
              [1, 1],
              [2, 2],
              [3, 3],
            ],
            width: 30,
          }),
          rodOf(),
        ],
      },
      /all four corners/,
    ],
    [
      'corners without a width',
      {
        kind: 'rods',
        rods: [
          rodOf({
            corners: [
              [1, 1],
              [2, 2],
              [3, 3],
              [4, 4],
            ],
          }),
        ],
      },
      /how wide/,
    ],
    [
      'a mark beyond the rod',
      { kind: 'rods', rods: [rodOf({ marks: [{ px: [5, 5], at: 2000 }] }), rodOf()] },
      /beyond its ends/,
    ],
    [
      'three points',
      { kind: 'points', points: [0, 1, 2].map((i) => ({ px: [i * 50, 0], mm: [i, 0] })) },
      /3 of 4 points/,
    ],
    [
      'points that coincide in the photo',
      { kind: 'points', points: fourPoints([0, 0], [1, 1]) },
      /same spot of the photo/,
    ],
    [
      'points that coincide on the slab',
      { kind: 'points', points: fourPoints([0, 0], [90, 90], [7, 7]) },
      /same measures/,
    ],
    ['a card that is not', { centres: [{ card: 50, at: [0, 0] }] }, /no card 50/],
    ['a card twice', { centres: [3, 3].map((card, i) => ({ card, at: [i, 0] })) }, /there twice/],
    ['half a place', { centres: [{ card: 3, at: [4, null] }] }, /middle of card 3/],
  ])('%s is said, and nothing is measured by it', (_, change, sentence) => {
    const draft = { ...FIRST_DRAFT, ...change };
    expect(lacking(draft).join(' ')).toMatch(sentence);
    expect(scaleOf(draft, {})).toBeNull();
  });
});

function rodOf(change: Partial<ReferenceDraft['rods'][number]> = {}): ReferenceDraft['rods'][number] {
  const ends: ReferenceDraft['rods'][number]['ends'] = [
    [0, 0],
    [800, 10],
  ];
  return { ends, length: 1000, marks: [], corners: [], width: null, above: 0, ...change };
}

function fourPoints(
  first: readonly [number, number],
  second: readonly [number, number],
  same?: [number, number],
): ReferenceDraft['points'] {
  return [first, second, [500, 0] as const, [0, 500] as const].map((at, i) => ({
    px: at,
    mm: same && i < 2 ? same : [100 * i, i * i],
  }));
}

/** A slab as it was taped, and its eight taps. */
const TAPED: Taped = { length: 2600, widths: [480, 490, 470], thicknesses: [null, null, null, null] };
const EIGHT = [0, 1, 2, 3, 4, 5, 6, 7].map((i): [number, number] => [100 * i, 40 * (i % 2)]);

describe('a slab measured by itself', () => {
  const tapped = (): ReferenceDraft => {
    const draft: ReferenceDraft = { ...structuredClone(FIRST_DRAFT), kind: 'slab', drop: 30 };
    for (const at of EIGHT) placeSpot(draft, null, at);
    return draft;
  };

  test('is eight taps in turn and what the tape says now; a tap that is taken out is asked for again', () => {
    const draft = tapped();
    expect(placeSpot(draft, null, [1, 1])).toBeNull();
    const scale = scaleOf(draft, {}, TAPED) as Extract<Scale, { kind: 'slab' }>;
    expect([scale.length, ...scale.widths].map(({ mm: said }) => said)).toEqual([2600, 480, 490, 470]);
    expect([scale.length, ...scale.widths].flatMap(({ px: at }) => at)).toEqual(EIGHT);
    // Cards of an earlier photo lay on the bench: the slab's own measures do not.
    expect(scale.drop).toBeUndefined();
    expect(() => checked(scaleSchema, scale)).not.toThrow();
    expect(scaleOf(draftOf(scale), {}, TAPED)).toEqual(scale);
    expect(scaleOf(draft, {}, { ...TAPED, length: 2700 })).toMatchObject({ length: { mm: 2700 } });

    const third = spotsOf(draft)[2]?.id ?? '';
    moveSpot(draft, third, [7, 8]);
    expect(spotsOf(draft).map(({ px: at }) => at)).toEqual(EIGHT.with(2, [7, 8]));
    removeSpot(draft, third);
    expect(lacking(draft, TAPED)).toEqual(['Tap one edge of the wood where you taped the left width.']);
    placeSpot(draft, null, EIGHT[2] as [number, number]);
    expect(scaleOf(draft, {}, TAPED)).toEqual(scale);
    expect(nextDraft(draft).slab).toBeUndefined();
  });

  test('says which of its measures was not taped', () => {
    const taped: Taped = { ...TAPED, length: null, widths: [480, null, 470] };
    expect(lacking(tapped(), taped)).toEqual(['Tape and type the length and middle width.']);
    expect(lacking(tapped())).toEqual(['Tape and type the length, left width, middle width and right width.']);
    expect(scaleOf(tapped(), {}, taped)).toBeNull();
  });

  test('is measured again once the tape says something else', () => {
    const photo = { scale: scaleOf(tapped(), {}, TAPED) as Scale, calibration: {} as Calibration };
    expect(tapedAnew(photo, TAPED)).toBe(false);
    expect(tapedAnew(photo, { ...TAPED, widths: [480, 495, 470] })).toBe(true);
  });
});

describe('spots on the photo', () => {
  test('taps fill one rod after the other; a new one is as long as the last', () => {
    const draft: ReferenceDraft = { ...structuredClone(FIRST_DRAFT), kind: 'rods' };
    for (const at of [
      [10, 10],
      [500, 20],
      [700, 10],
    ] as const)
      placeSpot(draft, null, at);
    expect(draft.rods.map(({ ends }) => ends.length)).toEqual([2, 1]);
    draft.rods[0]!.length = 600;
    placeSpot(draft, null, [700, 400]);
    placeSpot(draft, null, [5, 5]);
    expect(draft.rods[2]?.length).toBe(draft.rods[1]?.length);
    expect(placeSpot(draft, { rod: 0, part: 'mark' }, [100, 12])).toBe(rodSpotId(0, 'mark', 0));
    expect(spotsOf(draft)).toHaveLength(6);
  });

  test('every spot can be moved and taken out by its id, and no other is touched', () => {
    const draft: ReferenceDraft = {
      ...structuredClone(FIRST_DRAFT),
      kind: 'rods',
      rods: [rodOf({ marks: [{ px: [9, 9], at: 40 }], corners: [[1, 2]] }), rodOf()],
    };
    for (const { id } of spotsOf(draft)) {
      const own = structuredClone(draft);
      const before = spotsOf(own);
      moveSpot(own, id, [77, 88]);
      const after = spotsOf(own);
      expect(after.map(({ px: at }, i) => at.join() !== before[i]!.px.join())).toEqual(
        before.map((spot) => spot.id === id),
      );
      removeSpot(own, id);
      // A rod goes with either end.
      const gone = id.includes('/end#') ? before.filter((spot) => spot.id.startsWith(id.split('/')[0]!)).length : 1;
      expect(spotsOf(own)).toHaveLength(before.length - gone);
    }
  });

  test('cards and a sheet take no taps', () => {
    expect(placeSpot(structuredClone(FIRST_DRAFT), null, [5, 5])).toBeNull();
  });
});
