import { beforeAll, describe, expect, test } from 'vitest';
import { defaultDoor, type PanelSet } from '../../src/job';
import {
  type Bench,
  type BenchLeaf,
  checkSet,
  exchangeBacks,
  exchangeFronts,
  exchangeLeaf,
  frontsOf,
  layOutSet,
  prepareBench,
} from '../../src/leaves';
import { unwatched } from '../../src/search';
import { knotAt, plainFace, plainLeaves } from './bench-leaves';
import { leafPictures } from './rendered-leaves';

const RULES = { kerf: 2, crosscut: 2, jointing: 1, loose: null };
const FRONTS = frontsOf([{ ...defaultDoor('door'), width: 150, height: 240, count: 2, trim: 5, backed: false }]);

let leaves: BenchLeaf[];
let bench: Bench;
let set: PanelSet;

beforeAll(async () => {
  leaves = leafPictures(7, { length: 300, width: 100, drift: [0, 7] }).map(({ id, picture, outline, defects }, i) => ({
    board: 'board',
    leaf: id,
    place: i + 1,
    top: { picture, outline, defects },
    bottom: null,
  }));
  bench = await prepareBench(leaves, RULES, unwatched());
  set = await layOutSet({ id: 'set', name: 'Set', fronts: FRONTS }, bench, unwatched());
});

const used = ({ fronts }: PanelSet) => Object.values(fronts).flatMap(({ cells }) => cells.map(({ leaf }) => leaf));
/** All that the independent check says but for the order of sawing, which an exchange by hand may leave. */
const faultsOf = (of: PanelSet) => checkSet(of, FRONTS, leaves).filter((words) => !/sawn|do not meet/.test(words));
const at = (front: string, cell: number) => ({ front, side: 'face' as const, cell });

describe('a leaf exchanged by hand', () => {
  test('a spare leaf takes the place of one that comes free; nothing else moves, and every window is its leaf’s own wood', () => {
    const spare = leaves.find(({ leaf }) => !used(set).includes(leaf))!;
    const before = set.fronts['door-1']!.cells[0]!.leaf;
    const made = exchangeLeaf(bench, set, at('door-1', 0), `board ${spare.leaf}`)!;
    expect(made.faults).toEqual([]);
    expect(used(made.set).sort()).toEqual([...used(set).filter((leaf) => leaf !== before), spare.leaf].sort());
    expect(made.set.fronts['door-2']).toEqual(set.fronts['door-2']);
    expect(faultsOf(made.set)).toEqual([]);
  });

  test('a leaf that another front has changes places with it, so that each is still used once', () => {
    const other = set.fronts['door-2']!.cells[1]!.leaf;
    const own = set.fronts['door-1']!.cells[0]!.leaf;
    const made = exchangeLeaf(bench, set, at('door-1', 0), `board ${other}`)!;
    expect(made.set.fronts['door-1']!.cells[0]!.leaf).toBe(other);
    expect(made.set.fronts['door-2']!.cells[1]!.leaf).toBe(own);
    expect(used(made.set).sort()).toEqual(used(set).sort());
    expect(faultsOf(made.set)).toEqual([]);
  });

  test('there and back again is what it was, joints measured as the layout measured them', () => {
    const own = set.fronts['door-1']!.cells[0]!.leaf;
    const spare = leaves.find(({ leaf }) => !used(set).includes(leaf))!;
    const there = exchangeLeaf(bench, set, at('door-1', 0), `board ${spare.leaf}`)!.set;
    const back = exchangeLeaf(bench, there, at('door-1', 0), `board ${own}`)!.set;
    const [was, is] = [set, back].map(({ fronts }) => fronts['door-1']!);
    expect(is!.cells).toEqual(was!.cells);
    expect(back.spares).toEqual(set.spares);
    expect(there.spares.map(({ leaf }) => leaf)).toContain(own);
    expect(is!.joints.map(({ blend }) => blend)).toEqual(was!.joints.map(({ blend }) => expect.closeTo(blend!, 6)));
    expect(there.fronts['door-1']!.joints[0]!.blend).not.toBe(was!.joints[0]!.blend);
  });

  test('what is not there, and a leaf for itself, change nothing', () => {
    expect(exchangeLeaf(bench, set, at('door-9', 0), 'board leaf-1')).toBeNull();
    expect(exchangeLeaf(bench, set, at('door-1', 0), 'board leaf-99')).toBeNull();
    const own = set.fronts['door-1']!.cells[0]!.leaf;
    expect(exchangeLeaf(bench, set, at('door-1', 0), `board ${own}`)!.set).toBe(set);
  });
});

describe('two fronts that change their leaves', () => {
  test('have each other’s pieces and joints, and again are as they were', () => {
    const made = exchangeFronts(bench, set, 'door-1', 'door-2')!;
    expect(made.set.fronts['door-1']!.cells).toEqual(set.fronts['door-2']!.cells);
    expect(made.set.fronts['door-1']!.blend).toBe(set.fronts['door-2']!.blend);
    expect(made.set.fronts['door-1']!.sequence).toBe(set.fronts['door-1']!.sequence);
    expect(faultsOf(made.set)).toEqual([]);
    expect(exchangeFronts(bench, made.set, 'door-1', 'door-2')!.set.fronts).toEqual(set.fronts);
    expect(exchangeFronts(bench, set, 'door-1', 'door-1')!.set.fronts).toEqual(set.fronts);
    expect(exchangeFronts(bench, set, 'door-1', 'door-7')).toBeNull();
  });
});

describe('a back exchanged by hand', () => {
  const fronts = frontsOf([{ ...defaultDoor('door'), width: 380, height: 500, count: 2, trim: 5, backed: true }]);
  // Leaf 9 has a knot, leaf 10 a hole, everywhere that a strip of a back could lie.
  const stock = plainLeaves(10, 560, 215).map((leaf, i) => {
    const fault = i === 8 ? [knotAt(280, 107, 60)] : i === 9 ? [knotAt(280, 107, 60, 'void')] : [];
    return { ...leaf, top: plainFace(560, 215, fault) };
  });
  const whole = async () => {
    const own = await prepareBench(stock, RULES, unwatched());
    return { own, laid: await layOutSet({ id: 'set', name: 'Set', fronts }, own, unwatched()) };
  };
  const faults = (of: PanelSet) => checkSet(of, fronts, stock).filter((words) => !/sawn|do not meet/.test(words));
  const back = (front: string, cell: number) => ({ front, side: 'back' as const, cell });

  test('may have a knot and no hole; a leaf of a face goes where the back’s own comes free', async () => {
    const { own, laid } = await whole();
    expect(laid.misses).toEqual([]);
    const sound = laid.fronts['door-1']!.cells[0]!.leaf;
    const other = laid.fronts['door-2']!.backer.findIndex(({ leaf }) => leaf !== 'leaf-9');
    // The poorest leaf backs already; a spoilt one is taken, and its hole said.
    expect(used(laid)).not.toContain('leaf-9');
    const holed = exchangeLeaf(own, laid, back('door-2', other), 'board leaf-10')!;
    expect(holed.faults.join(' ')).toContain('hole');
    const gone = laid.fronts['door-2']!.backer[other]!.leaf;
    const swapped = exchangeLeaf(own, laid, back('door-2', other), `board ${sound}`)!;
    expect(swapped.faults).toEqual([]);
    expect(swapped.set.fronts['door-1']!.cells[0]!.leaf).toBe(gone);
    expect(swapped.set.fronts['door-2']!.backer[other]!.leaf).toBe(sound);
    expect(faults(swapped.set)).toEqual([]);
    const knotty = Object.entries(laid.fronts).flatMap(([front, { backer }]) =>
      backer.flatMap(({ leaf }, cell) => (leaf === 'leaf-9' ? [back(front, cell)] : [])),
    )[0]!;
    const seen = exchangeLeaf(own, laid, knotty, `board ${sound}`)!;
    expect(seen.faults.join(' ')).toContain('a knot of leaf leaf-9');
  });

  test('goes from front to front, and what is missed of it goes along', async () => {
    const { own, laid } = await whole();
    const made = exchangeBacks(own, laid, 'door-1', 'door-2')!;
    expect(made.set.fronts['door-1']!.backer).toEqual(laid.fronts['door-2']!.backer);
    expect(made.set.fronts['door-1']!.cells).toEqual(laid.fronts['door-1']!.cells);
    expect(made.faults).toEqual([]);
    expect(exchangeBacks(own, laid, 'door-1', 'door-7')).toBeNull();
    const bare: PanelSet = {
      ...laid,
      fronts: { ...laid.fronts, 'door-2': { ...laid.fronts['door-2']!, backer: [] } },
      misses: [{ front: 'door-2', what: 'back', reason: 'spoilt', mend: 'saw another' }],
    };
    expect(faults(bare)).toEqual([]);
    const moved = exchangeBacks(own, bare, 'door-1', 'door-2')!.set;
    expect(moved.misses.map(({ front }) => front)).toEqual(['door-1']);
    expect(faults(moved)).toEqual([]);
    const turned = exchangeFronts(own, bare, 'door-1', 'door-2')!.set;
    expect(faults(turned)).toEqual([]);
  });
});

describe('grain that runs on over gaps', () => {
  const part = { ...defaultDoor('upper'), width: 92, height: 110, count: 1, trim: 3, backed: false, run: 'bank' };
  const bank = frontsOf([
    { ...part, id: 'upper', at: [[0, 0]] },
    { ...part, id: 'lower', at: [[0, 113]] },
    { ...part, id: 'beside', at: [[95, 0]] },
  ]);

  test('has its blend when it is laid, and after an exchange by hand', async () => {
    const laid = await layOutSet({ id: 'set', name: 'Set', fronts: bank }, bench, unwatched());
    expect(laid.misses).toEqual([]);
    const blends = ({ joints }: PanelSet, kind: 'side' | 'end') =>
      joints.flatMap((joint) => (joint.kind === kind ? [joint.blend!] : []));
    // One leaf goes on from the upper into the lower front.
    expect(laid.fronts['upper-1']!.cells[0]!.leaf).toBe(laid.fronts['lower-1']!.cells[0]!.leaf);
    for (const { blend } of laid.joints) expect(blend).toBeGreaterThan(0);
    const own = laid.fronts['lower-1']!.cells[0]!.leaf;
    const others = leaves
      .filter(({ leaf }) => !used(laid).includes(leaf))
      .map(({ leaf }) => exchangeLeaf(bench, laid, at('lower-1', 0), `board ${leaf}`)!.set);
    for (const other of others) expect(blends(other, 'side')).toEqual(blends(laid, 'side'));
    // Leaves of figure that drifts: the one that runs on does so better than most others would.
    const worse = others.filter((other) => blends(other, 'end')[0]! < blends(laid, 'end')[0]!);
    expect(worse.length).toBeGreaterThan(others.length / 2);
    const again = exchangeLeaf(bench, others[0]!, at('lower-1', 0), `board ${own}`)!.set;
    expect(again.joints).toEqual(laid.joints);
    const bent = laid.joints.map((joint) => ({ ...joint, lost: joint.lost + 1 }));
    expect(checkSet({ ...laid, joints: bent }, bank, leaves).join(' ')).toContain('another length is lost');
    expect(checkSet(laid, bank, leaves)).toEqual([]);
  });
});
