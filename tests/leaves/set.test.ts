import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bounds } from '../../src/geometry';
import { type Door, defaultDoor, type PanelSet } from '../../src/job';
import { type BenchLeaf, checkSet, frontsOf, layOutSet, prepareBench, setWarnings } from '../../src/leaves';
import { unwatched, WorkBudget } from '../../src/search';
import { runs } from '../support/runs';
import { knotAt, picturedLeaves, plainFace, plainLeaves, RULES } from './bench-leaves';

const door = (id: string, part: Partial<Door> = {}): Door => ({
  ...defaultDoor(id),
  name: id,
  count: 1,
  width: 380,
  trim: 8,
  ...part,
});
async function laid(
  doors: readonly Door[],
  leaves: readonly BenchLeaf[],
  part: Partial<Parameters<typeof layOutSet>[0]> = {},
  heard?: (set: PanelSet) => void,
): Promise<PanelSet> {
  const bench = await prepareBench(leaves, RULES, unwatched());
  const request = { id: 'set', name: 'Set', fronts: frontsOf(doors), ...part };
  return layOutSet(request, bench, unwatched(), heard ? { heard } : {});
}
const faults = (set: PanelSet, doors: readonly Door[], leaves: readonly BenchLeaf[]) =>
  checkSet(set, frontsOf(doors), leaves);
const leavesOf = (set: PanelSet, front: string) => set.fronts[front]?.cells.map(({ leaf }) => leaf);

const MATCHES = [
  'book',
  'slip',
  'reverse slip',
  'slip centre book',
  'random',
  'four-piece',
  'diamond',
  'reverse diamond',
  'radial',
  'herringbone',
] as const;
const FRAME = { stile: 55, topRail: 50, bottomRail: 60, groove: 9, clearance: 1 };
const CORNER: [number, number][] = [
  [0, 0],
  [60, 0],
  [60, 60],
  [0, 60],
];
const anyDoor = (id: string): fc.Arbitrary<Door> =>
  fc
    .record({
      match: fc.constantFrom(...MATCHES),
      width: fc.integer({ min: 180, max: 500 }),
      height: fc.integer({ min: 150, max: 760 }),
      count: fc.integer({ min: 1, max: 2 }),
      backed: fc.boolean(),
      trim: fc.constantFrom(0, 5, 12),
      arrangement: fc.constantFrom(
        'balanced' as const,
        'centred' as const,
        'balanced and centred' as const,
        'running' as const,
      ),
      frame: fc.option(fc.constant(FRAME), { freq: 4 }),
      covered: fc.boolean().map((yes) => (yes ? [CORNER] : [])),
      run: fc.boolean(),
    })
    .map(({ run, ...part }) => door(id, { ...part, run: run ? id : null, ...(run && { match: 'book' as const }) }));
const anyLeaf = fc.record({
  taper: fc.integer({ min: 0, max: 30 }),
  knots: fc.array(fc.tuple(fc.integer({ min: 0, max: 1600 }), fc.integer({ min: 0, max: 240 }), fc.boolean()), {
    maxLength: 2,
  }),
});
const anyLeaves = fc.array(anyLeaf, { minLength: 3, maxLength: 8 }).map((parts) =>
  parts.map(({ taper, knots }, i): BenchLeaf => {
    const outline: [number, number][] = [
      [0, 0],
      [1600, taper],
      [1600, 240],
      [0, 240 - taper],
    ];
    const defects = knots.map(([x, y, hole]) => knotAt(x, y, 9, hole ? 'void' : 'knot'));
    return {
      board: i < 6 ? 'one' : 'two',
      leaf: `leaf-${i + 1}`,
      place: (i % 6) + 1,
      top: { picture: null, outline, defects },
      bottom: null,
    };
  }),
);

describe('a laid set', () => {
  test('holds by the checker, whatever is wanted of whatever leaves', async () => {
    await fc.assert(
      fc.asyncProperty(fc.tuple(anyDoor('a'), anyDoor('b')), anyLeaves, async (doors, leaves) => {
        const set = await laid(doors, leaves);
        expect(faults(set, doors, leaves)).toEqual([]);
        for (const { reason, mend } of set.misses) expect(Math.min(reason.length, mend.length)).toBeGreaterThan(20);
      }),
      { numRuns: runs(5), seed: 7 },
    );
  });

  test('the checker finds what is wrong with a set', async () => {
    const doors = [door('a'), door('b', { match: 'slip' })];
    const leaves = plainLeaves(9, 800, 215);
    const set = await laid(doors, leaves);
    expect(faults(set, doors, leaves)).toEqual([]);
    const [a, b] = [set.fronts['a-1'] as PanelSet['fronts'][string], set.fronts['b-1'] as PanelSet['fronts'][string]];
    const [first, second] = a.cells as [(typeof a.cells)[0], (typeof a.cells)[0]];
    const broken = (front: Partial<typeof a>, of = a) =>
      faults({ ...set, fronts: { ...set.fronts, [`${of.door}-1`]: { ...of, ...front } } }, doors, leaves).join(' ');
    expect(broken({ cells: b.cells })).toContain('used twice');
    expect(broken({ cells: [second, first] })).toContain('was sawn before it');
    expect(broken({ cells: [{ ...first, face: 'bottom' }, second] })).toContain('laid the other way up');
    expect(broken({ cells: [first] })).toContain('mm2');
    expect(broken({ pressed: { width: 390, height: 736 } })).toContain('pressed');
    expect(broken({ backer: [] })).toContain('no back');
    expect(broken({ cells: a.cells, sequence: 2 })).toContain('one number');
    const late = { ...set, fronts: { 'a-1': { ...a, sequence: 2 }, 'b-1': { ...b, sequence: 1 } } };
    expect(faults(late, doors, leaves).join(' ')).toContain('comes before');
    expect(faults({ ...set, fronts: {} }, doors, leaves)).toHaveLength(2);
    const knotty = leaves.map((leaf) => ({ ...leaf, top: plainFace(800, 215, [knotAt(400, 107, 10)]) }));
    expect(faults(set, doors, knotty).join(' ')).toContain('a knot of leaf');
    expect(faults({ ...set, without: ['board leaf-1'] }, doors, leaves).join(' ')).toContain('left out');
  });
});

describe('what hangs together', () => {
  test('drawers over a pair of doors: one leaf goes on down each column, the doors mirror about their meeting stile, the lost figure is told', async () => {
    const doors = [
      door('drawer', { width: 403, height: 150, at: [[0, 0]], run: 'bank' }),
      door('left', { width: 200, height: 400, at: [[0, 153]], run: 'bank' }),
      door('right', { width: 200, height: 400, at: [[203, 153]], run: 'bank' }),
    ];
    const leaves = plainLeaves(6, 700, 240);
    const set = await laid(doors, leaves);
    expect(faults(set, doors, leaves)).toEqual([]);
    const [one, other] = [leavesOf(set, 'left-1'), leavesOf(set, 'right-1')];
    expect(leavesOf(set, 'drawer-1')).toEqual([...(one ?? []), ...(other ?? [])]);
    expect(set.fronts['left-1']?.cells[0]?.face).not.toBe(set.fronts['right-1']?.cells[0]?.face);
    const gap = set.joints.find(({ kind }) => kind === 'side');
    expect(gap?.mirrored).toBe(true);
    expect(gap?.lost).toBeCloseTo(3, 9);
    // Two trims of 8 mm and the saw are more than the gap of 3 mm: that much of the figure is lost down the column.
    for (const { lost, mirrored } of set.joints.filter(({ kind }) => kind === 'end')) {
      expect(lost).toBeCloseTo(2 * 8 + RULES.crosscut, 9);
      expect(mirrored).toBe(false);
    }
    // The axis of the pair lies in the middle of the gap: both windows begin as far from it.
    const edge = (front: string) => {
      const { minY, maxY } = bounds(set.fronts[front]?.cells[0]?.window ?? []);
      return [minY, maxY];
    };
    expect(edge('left-1')).toEqual(edge('right-1'));
  });

  test('strips that show their faces by turns, and figure that rails take, are warned of', async () => {
    const frame = { ...FRAME, clearance: 1 };
    const doors = [
      door('above', { height: 300, width: 380, run: 'r', frame, at: [[0, 0]] }),
      door('below', { height: 300, width: 380, run: 'r', frame, at: [[0, 303]] }),
    ];
    const set = await laid(doors, plainLeaves(6, 700, 190));
    const byId = Object.fromEntries(doors.map((one) => [one.id, one]));
    const said = setWarnings(set, byId, null, 'mm').join(' ');
    expect(said).toContain('barber-pole');
    // Two rails of 50 and 60 mm and the gap, less what stands in the grooves.
    expect(said).toMatch(/97\s*mm of the figure/);
    expect(setWarnings(set, byId, 'bottom', 'mm').join(' ')).toContain('loose faces');
    const slipped = await laid([door('a', { match: 'slip' })], plainLeaves(6, 800, 215));
    expect(setWarnings(slipped, {}, null, 'mm')).toEqual([]);
  });

  test('a locked front keeps its leaves while the rest is laid out anew without one; fronts of one flitch share a board', async () => {
    const doors = [door('a', { flitch: 'f' }), door('b', { flitch: 'f' }), door('c', { backed: false })];
    const leaves = [...plainLeaves(8, 800, 215, 'one'), ...plainLeaves(8, 800, 215, 'two')];
    const set = await laid(doors, leaves);
    const boards = new Set(['a-1', 'b-1'].flatMap((id) => set.fronts[id]?.cells.map(({ board }) => board)));
    expect(boards.size).toBe(1);
    const gone = set.fronts['a-1']?.cells[0] as { board: string; leaf: string };
    const without = [`${gone.board} ${gone.leaf}`];
    const again = await laid(doors, leaves, { before: { ...set, locked: ['b-1'] }, without });
    expect(again.fronts['b-1']?.cells).toEqual(set.fronts['b-1']?.cells);
    expect(again.misses).toEqual([]);
    expect(faults(again, doors, leaves)).toEqual([]);
    expect(again.without).toEqual(without);
  });

  test('backs come from the poorer leaves and spares are named', async () => {
    const leaves = plainLeaves(6, 780, 215).map((leaf, i) =>
      i === 1 || i === 3 ? { ...leaf, top: plainFace(780, 215, [knotAt(390, 107, 30)]) } : leaf,
    );
    const set = await laid([door('a')], leaves);
    expect(set.fronts['a-1']?.backer.map(({ leaf }) => leaf)).toEqual(['leaf-2', 'leaf-4']);
    expect(set.spares.map(({ leaf }) => leaf)).toHaveLength(2);
    const hidden = await laid([door('a', { covered: [bounded(0, 0, 380, 720)], backed: false })], leaves);
    expect(leavesOf(hidden, 'a-1')).toEqual(['leaf-1', 'leaf-2']);
  });
});

const bounded = (x0: number, y0: number, x1: number, y1: number): [number, number][] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

describe('what cannot be had', () => {
  test.each([
    ['taller than the leaves', [door('a', { height: 900 })], 4, /longest leaf is 800 mm/, /end match/],
    ['narrow leaves', [door('a', { leaves: 1 })], 4, /wants leaves 396 mm wide/, /more leaves/],
    [
      'more panels than leaves',
      [door('a', { count: 3, backed: false })],
      5,
      /1 leaf short/,
      /another board at least 736 mm long and/,
    ],
    ['no leaf for a back', [door('a')], 3, /back wants 2 leaves and 1 will do/, /bought veneer/],
  ] as const)('%s', async (_, doors, count, reason, mend) => {
    const set = await laid(doors, plainLeaves(count, 800, 215));
    expect(set.misses).toHaveLength(1);
    expect(set.misses[0]?.reason).toMatch(reason);
    expect(set.misses[0]?.mend).toMatch(mend);
  });

  test('four doors 720 x 380 from eight leaves 1,650 long take 16 lengths and leave none to spare (worked example, TRADE 11 c); of seven one back is short', async () => {
    const doors = [door('a', { count: 4, height: 720, trim: 0 })];
    const leaves = plainLeaves(8, 1650, 210);
    const set = await laid(doors, leaves);
    expect([set.misses, set.spares]).toEqual([[], []]);
    const pieces = Object.values(set.fronts).flatMap(({ cells, backer }) => [...cells, ...backer]);
    expect(pieces).toHaveLength(16);
    const fewer = await laid(doors, leaves.slice(1));
    expect(fewer.misses.map(({ what }) => what)).toEqual(['back']);
    expect(fewer.misses[0]?.reason).toContain('wants 2 leaves and 0 will do');
  });

  test('an end match makes a panel, and its back, taller than the leaves', async () => {
    const doors = [door('a', { height: 1200, ends: { match: 'book', rows: 2 } })];
    const leaves = plainLeaves(8, 800, 215);
    const set = await laid(doors, leaves);
    expect(set.misses).toEqual([]);
    expect(faults(set, doors, leaves)).toEqual([]);
    expect(set.fronts['a-1']?.backer).toHaveLength(4);
    expect(set.fronts['a-1']?.joints.map(({ kind }) => kind).sort()).toEqual(['end', 'end', 'side', 'side']);
  });

  test('two leaves of one number, and a run of unlike fronts, are refused', async () => {
    const [one, two] = plainLeaves(2, 800, 215) as [BenchLeaf, BenchLeaf];
    await expect(prepareBench([one, { ...two, place: 1 }], RULES, unwatched())).rejects.toThrow('number 1');
    const doors = [door('a', { run: 'r' }), door('b', { run: 'r', match: 'slip' })];
    await expect(laid(doors, [one, two])).rejects.toThrow('carry their grain on');
  });
});

describe('leaves that match', () => {
  const leaves = picturedLeaves(4, { length: 330, width: 120, drift: [3, 2] });

  test('a book match takes neighbours whose figure goes on, its axis within 1 mm of the drift; sets get better as they are heard', async () => {
    const doors = [door('a', { width: 190, height: 290, trim: 0, backed: false })];
    const costs: number[] = [];
    const set = await laid(doors, leaves, {}, ({ cost }) => costs.push(cost));
    expect(faults(set, doors, leaves)).toEqual([]);
    expect(set.gap).toBe(0);
    expect([...costs].sort((x, y) => y - x)).toEqual(costs);
    const [first, second] = (set.fronts['a-1']?.cells ?? []).map(({ window, leaf }) => ({ at: bounds(window), leaf }));
    const step = Number(second?.leaf.slice(5)) - Number(first?.leaf.slice(5));
    expect(step).toBe(1);
    expect(Math.abs((second?.at.minY ?? 0) - (first?.at.minY ?? 0) - 2)).toBeLessThanOrEqual(1);
  });

  test('stopped by its budget it gives what it has, with the gap that is left', async () => {
    const bench = await prepareBench(leaves, RULES, unwatched());
    const fronts = frontsOf([door('a', { width: 190, height: 290, trim: 0, backed: false })]);
    const set = await layOutSet({ id: 's', name: 'S', fronts }, bench, unwatched(new WorkBudget(1)));
    expect(Object.keys(set.fronts)).toEqual(['a-1']);
    expect(set.gap).toBeGreaterThanOrEqual(0);
  });
});
