import { describe, expect, test } from 'vitest';
import { bounds, difference, type Polygon, regionArea, ringArea } from '../../src/geometry';
import { type Leaf, matchPanels } from '../../src/leaves';
import { unwatched } from '../../src/search';
import { leafPictures } from './rendered-leaves';

type Asked = Parameters<typeof matchPanels>[1][number];

const KERF = 1.3;
const DRIFT = [4, 3] as const;
const leaves = leafPictures(6, { length: 800, width: 210, drift: DRIFT });
const door = (id: string, match: Asked['match'], part: Partial<Asked> = {}): Asked => ({
  id,
  width: 380,
  height: 720,
  match,
  ...part,
});
const match = (panels: readonly Asked[], stack: readonly Leaf[] = leaves) =>
  matchPanels(stack, panels, KERF, unwatched());
const corner = (window: Polygon<'face'>) => {
  const { minX, minY } = bounds(window);
  return [minX, minY] as const;
};
const knot = (x: number, y: number, r: number) => ({
  kind: 'knot' as const,
  polygon: [
    [x - r, y - r],
    [x + r, y - r],
    [x + r, y + r],
    [x - r, y + r],
  ] as Polygon<'face'>,
});

describe('matched panels', () => {
  test('a book match mirrors each leaf at the place of its neighbour, the drift of the figure followed to 1 mm', async () => {
    const { panels, short } = await match([door('left', 'book', { width: 360 })]);
    expect(short).toEqual([]);
    const [first, second] = panels[0]?.leaves ?? [];
    expect([first?.leaf, first?.flip, second?.leaf, second?.flip]).toEqual(['leaf-1', 'none', 'leaf-2', 'over']);
    const [a, b] = [corner(first?.window ?? []), corner(second?.window ?? [])];
    expect(Math.abs(b[1] - a[1] - DRIFT[1])).toBeLessThanOrEqual(1);
    // Along the grain figure changes slowly, and is read every 5 mm.
    expect(Math.abs(b[0] - a[0] - DRIFT[0])).toBeLessThanOrEqual(6);
  });

  test('neighbours meet better than leaves of two boards: the higher blend', async () => {
    const stranger = leafPictures(1, { length: 800, width: 210, drift: [0, 0] }, 77)[0] as Leaf;
    const pair = (other: Leaf) => match([door('pair', 'book', { width: 360 })], [leaves[0] as Leaf, other]);
    const own = (await pair(leaves[1] as Leaf)).panels[0]?.blend as number;
    const strange = (await pair({ ...stranger, id: 'stranger' })).panels[0]?.blend as number;
    expect(own).toBeGreaterThan(0.3);
    expect(strange).toBeLessThan(own / 2);
  });

  test.each([
    ['book', ['none', 'over', 'none']],
    ['slip', ['none', 'none', 'none']],
    ['reverse slip', ['none', 'end', 'none']],
    ['random', ['none', 'end', 'none']],
  ] as const)('%s lays its leaves %o, in equal windows that together are the panel', async (kind, flips) => {
    const short = leafPictures(3, { length: 330, width: 210, drift: DRIFT });
    const { panels } = await match([door('wide', kind, { width: 540, height: 310 })], short);
    const used = panels[0]?.leaves ?? [];
    expect(used.map(({ flip }) => flip)).toEqual(flips);
    expect(new Set(used.map(({ leaf }) => leaf)).size).toBe(3);
    for (const { window } of used) {
      const { minX, minY, maxX, maxY } = bounds(window);
      expect(maxX - minX).toBeCloseTo(310, 9);
      expect(maxY - minY).toBeCloseTo(180, 9);
    }
    if (kind !== 'random') expect(used.map(({ leaf }) => leaf)).toEqual(['leaf-1', 'leaf-2', 'leaf-3']);
  });

  test('windows keep inside the wood and off its defects, and no leaf is used twice', async () => {
    const faulty = leaves.map((leaf, k) => ({
      ...leaf,
      outline: [
        [5, 4],
        [795, 9],
        [795, 204],
        [5, 206],
      ] as Polygon<'face'>,
      defects: k === 1 ? [knot(30, 100, 12)] : k === 3 ? [knot(400, 100, 12)] : [],
    }));
    const { panels } = await match([door('a', 'slip', { width: 360 }), door('b', 'slip', { width: 360 })], faulty);
    const used = panels.flatMap((panel) => [...panel.leaves, ...panel.backer]);
    expect(new Set(used.map(({ leaf }) => leaf)).size).toBe(used.length);
    expect(panels.flatMap((panel) => panel.leaves.map(({ leaf }) => leaf))).not.toContain('leaf-4');
    for (const { leaf, window } of used) {
      const { outline } = faulty.find(({ id }) => id === leaf) as Leaf;
      const outside = difference([{ outer: window, holes: [] }], [{ outer: outline, holes: [] }]);
      expect(outside.reduce((sum, region) => sum + regionArea(region), 0)).toBe(0);
    }
    for (const { leaf, window } of panels.flatMap((panel) => panel.leaves)) {
      for (const { polygon } of (faulty.find(({ id }) => id === leaf) as Leaf).defects) {
        const clear = difference([{ outer: polygon as Polygon<'face'>, holes: [] }], [{ outer: window, holes: [] }]);
        expect(clear.reduce((sum, region) => sum + regionArea(region), 0)).toBeCloseTo(
          ringArea(polygon as Polygon<'face'>),
          3,
        );
      }
    }
  });
});

describe('leaves that do not reach', () => {
  test('four doors 720 x 380 from leaves 210 wide take 16 and leave no spare (TRADE 11 c); with 15 one back is short', async () => {
    const small = leafPictures(16, { length: 730, width: 210, drift: [0, 0] });
    const doors = ['a', 'b', 'c', 'd'].map((id) => door(id, 'random'));
    const all = await match(doors, small);
    expect(all.short).toEqual([]);
    expect(new Set(all.panels.flatMap((p) => [...p.leaves, ...p.backer]).map(({ leaf }) => leaf)).size).toBe(16);
    const fewer = await match(doors, small.slice(1));
    expect(fewer.panels).toHaveLength(4);
    expect(fewer.short).toHaveLength(1);
    expect(fewer.short[0]?.reason).toContain('its back wants 2 leaves and 1 will do');
  });

  test.each([
    [door('tall', 'book', { height: 900 }), 'the longest leaf is 800 mm'],
    [door('broad', 'book', { width: 1400 }), '6 of the 6 that are left'],
    [door('whole', 'book', { joints: 0 }), 'wants 1 leaf with a sound window of 720 mm by 380 mm, and 0 of the 6'],
  ])('%o is short: %s', async (panel, why) => {
    const { panels, short } = await match([panel]);
    expect(panels).toEqual([]);
    expect(short[0]?.reason).toContain(why);
  });

  test('no leaves at all', async () => {
    expect((await match([door('a', 'book')], [])).short[0]?.id).toBe('a');
  });
});
