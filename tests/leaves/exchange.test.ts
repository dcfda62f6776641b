import { beforeAll, describe, expect, test } from 'vitest';
import { defaultDoor, type PanelSet } from '../../src/job';
import {
  type Bench,
  type BenchLeaf,
  checkSet,
  exchangeFronts,
  exchangeLeaf,
  frontsOf,
  layOutSet,
  prepareBench,
} from '../../src/leaves';
import { unwatched } from '../../src/search';
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
