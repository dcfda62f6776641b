import { describe, expect, test } from 'vitest';
import { bounds, difference, type Polygon, regionArea, ringArea } from '../../src/geometry';
import { type Leaf, matchPanels } from '../../src/leaves';
import { unwatched } from '../../src/search';
import { leafPictures } from './rendered-leaves';

type Asked = Parameters<typeof matchPanels>[1][number];

const KERF = 1.3;
const DRIFT = [4, 3] as const;
const leaves = leafPictures(6, { length: 400, width: 130, drift: DRIFT });
const door = (id: string, match: Asked['match'], part: Partial<Asked> = {}): Asked => ({
  id,
  width: 230,
  height: 340,
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
  test('neighbours meet better than leaves of two boards: the higher blend', async () => {
    const size = { length: 330, width: 120, drift: DRIFT };
    const [first, second] = leafPictures(2, size) as [Leaf, Leaf];
    const [stranger] = leafPictures(1, size, 77) as [Leaf];
    const pair = (other: Leaf) => match([door('pair', 'book', { width: 200, height: 310 })], [first, other]);
    const own = (await pair(second)).panels[0]?.blend as number;
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
    const short = leafPictures(3, { length: 330, width: 130, drift: DRIFT });
    const { panels } = await match([door('wide', kind, { width: 330, height: 310 })], short);
    const used = panels[0]?.leaves ?? [];
    expect(used.map(({ flip }) => flip)).toEqual(flips);
    expect(new Set(used.map(({ leaf }) => leaf)).size).toBe(3);
    for (const { window } of used) {
      const { minX, minY, maxX, maxY } = bounds(window);
      expect(maxX - minX).toBeCloseTo(310, 9);
      expect(maxY - minY).toBeCloseTo(110, 9);
    }
    if (kind !== 'random') expect(used.map(({ leaf }) => leaf)).toEqual(['leaf-1', 'leaf-2', 'leaf-3']);
  });

  test('windows keep inside the wood and off its defects, and no leaf is used twice', async () => {
    const faulty = leaves.map((leaf, k) => ({
      ...leaf,
      outline: [
        [5, 4],
        [395, 9],
        [395, 124],
        [5, 126],
      ] as Polygon<'face'>,
      defects: k === 1 ? [knot(25, 60, 12)] : k === 3 ? [knot(200, 60, 12)] : [],
    }));
    const { panels } = await match([door('a', 'slip', { width: 200 }), door('b', 'slip', { width: 200 })], faulty);
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

describe('joints whose best place is known by construction', () => {
  const SIZE = { length: 330, width: 120 };
  const [along, across] = [306, 90];
  const ask = async (kind: Asked['match'], pair: readonly Leaf[]) => {
    const { panels } = await match([door('two', kind, { width: 2 * across, height: along, joints: 1 })], pair);
    return panels[0]?.leaves.map(({ window }) => corner(window)) as (readonly [number, number])[];
  };
  const drifts = [
    [0, -6],
    [4, 9],
    // As over kerf and leaf, where rings lie flat.
    [0, 14],
  ] as const;

  test.each(drifts)(
    'a drawn leaf mirrored, its figure moved by %i along and %i across: the axis lies there within 1 mm',
    async (du, dv) => {
      const [a, b] = (await ask('book', leafPictures(2, { ...SIZE, drift: [du, dv] }, 3))) as [Spot, Spot];
      // The figure along a joint is the same on both leaves, each the other's mirror image, where their edges lie `dv` apart.
      expect(Math.abs(b[1] - a[1] - dv)).toBeLessThanOrEqual(1);
      expect(Math.abs(b[0] - a[0] - du)).toBeLessThanOrEqual(6);
    },
  );
});

type Spot = readonly [number, number];

describe('leaves that do not reach', () => {
  test('four doors 720 x 380 from leaves 210 wide take 16 and leave no spare (TRADE 11 c); with 15 one back is short', async () => {
    const small = leafPictures(16, { length: 730, width: 210, drift: [0, 0] });
    const doors = ['a', 'b', 'c', 'd'].map((id) => door(id, 'random', { width: 380, height: 720 }));
    const all = await match(doors, small);
    expect(all.short).toEqual([]);
    expect(new Set(all.panels.flatMap((p) => [...p.leaves, ...p.backer]).map(({ leaf }) => leaf)).size).toBe(16);
    const fewer = await match(doors, small.slice(1));
    expect(fewer.panels).toHaveLength(4);
    expect(fewer.short).toHaveLength(1);
    expect(fewer.short[0]?.reason).toContain('its back wants 2 leaves and 1 will do');
  });

  test.each([
    [door('tall', 'book', { height: 500 }), 'the longest leaf is 400 mm'],
    [door('broad', 'book', { width: 860 }), 'there are 6: 1 leaf short. Saw another board at least 340 mm long and'],
    [
      door('whole', 'book', { joints: 0 }),
      'wants leaves 230 mm wide, edges to be jointed among it, and the widest is 130 mm',
    ],
  ])('%o is short: %s', async (panel, why) => {
    const { panels, short } = await match([panel]);
    expect(panels).toEqual([]);
    expect(short[0]?.reason).toContain(why);
  });

  test('no leaves at all; one name twice', async () => {
    expect((await match([door('a', 'book')], [])).short).toMatchObject([
      { id: 'a', reason: expect.stringMatching(/no leaf to lay it on/) },
    ]);
    await expect(match([door('a', 'book'), door('a', 'slip')])).rejects.toMatchObject({ where: '/panels/1/id' });
  });

  test('more joints than leaves, in a panel of a few mm', async () => {
    const { panels, short } = await match([
      door('a', 'book', { width: 2, height: 20, joints: 1 }),
      door('b', 'slip', { width: 10, joints: 31 }),
    ]);
    expect(panels.map(({ id, leaves: used }) => [id, used.length])).toEqual([['a', 2]]);
    expect(short).toMatchObject([
      { id: 'b', reason: expect.stringMatching(/wants 32 leaves .* there are 6: 26 leaves short/) },
    ]);
  });

  test('a panel that finds no leaves behind those before it takes earlier ones', async () => {
    const stack = leaves.map((leaf, k) => (k < 4 ? { ...leaf, defects: [knot(350, 60, 20)] } : leaf));
    const { panels } = await match(
      [door('tall', 'random'), door('low', 'slip', { height: 250 }), door('last', 'slip')],
      stack,
    );
    expect(panels.map(({ id }) => id)).toContain('low');
    const low = panels.find(({ id }) => id === 'low')?.leaves.map(({ leaf }) => Number(leaf.slice(5)));
    expect(Math.max(...(low ?? [9]))).toBeLessThanOrEqual(4);
  });
});
