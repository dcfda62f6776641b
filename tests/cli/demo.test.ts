import { readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { intersection, type Polygon, regionArea, regionContains } from '../../src/geometry';
import type { PlanOutput } from '../../src/plan';
import { Bench, type Called, faultsAgainst } from './call';

/** The demo job from its photos to its files, held against the model that its photos were rendered from. */

interface Truth {
  readonly wood_without_bark: readonly [{ readonly outer: Polygon<'face'> }];
  readonly defects: readonly { readonly cls: string; readonly id: string; readonly outer: Polygon<'face'> }[];
}

let bench: Bench;
let called: Called;
let plan: PlanOutput;
const truths = new Map<string, Truth>();

const strips = () => plan.placements.flatMap((placed) => placed.strips);

describe.runIf(process.env.SLOW)('the demo job', () => {
  beforeAll(async () => {
    bench = await Bench.make();
    called = await bench.call(['plan', resolve('demo-images'), '--out', 'out']);
    plan = JSON.parse(await readFile(join(bench.folder, 'out/plan.json'), 'utf8'));
    for (const id of ['slab-2', 'slab-3'])
      truths.set(id, JSON.parse(await readFile(`tests/fixtures/truth/${id}.json`, 'utf8')));
  }, 300_000);
  afterAll(() => bench[Symbol.asyncDispose]());

  it('gives the counter, one seam of two slabs, checked and in the promised shape', async () => {
    expect([called.status, called.told]).toEqual([0, []]);
    expect(plan.misses).toEqual([]);
    expect(plan.verdict).toEqual({ passed: true, faults: [] });
    expect(
      strips()
        .map(({ slab }) => slab)
        .sort(),
    ).toEqual(['slab-2', 'slab-3']);
    expect(plan.joints[0]?.blend).not.toBeNull();
    expect(faultsAgainst(JSON.parse((await bench.call(['schema', 'plan'])).out), plan)).toEqual([]);
    for (const file of ['cutting-map.pdf', 'budget.csv', 'slab-2-top.dxf', 'slab-3-top.dxf', 'top-counter.png'])
      expect(plan.files).toContain(file);
  });

  it('lays every strip on wood that is there: within 4 mm of the true outline, at its live edge too', () => {
    for (const { slab, finished } of strips()) {
      const wood = { outer: truths.get(slab)?.wood_without_bark[0].outer as Polygon<'face'>, holes: [] };
      const out = finished.filter(([x, y]) => {
        const near = [0, 4].flatMap((r) =>
          [0, 90, 180, 270].map((a) => (a * Math.PI) / 180).map((a) => [r, a] as const),
        );
        return !near.some(([r, a]) => regionContains(wood, [x + r * Math.cos(a), y + r * Math.sin(a)]));
      });
      expect(out, slab).toEqual([]);
    }
  });

  it('keeps every strip off the true voids and bark inclusions, but for a sliver', () => {
    for (const { slab, finished } of strips()) {
      for (const { cls, id, outer } of truths.get(slab)?.defects ?? []) {
        if (cls !== 'void' && cls !== 'bark_inclusion') continue;
        const shared = intersection<'face'>([{ outer: finished, holes: [] }], [{ outer, holes: [] }]);
        expect(
          shared.reduce((sum, part) => sum + regionArea(part), 0),
          `${slab} ${id}`,
        ).toBeLessThan(50);
      }
    }
  });

  it('accounts for both slabs to the square millimetre', () => {
    expect(plan.areas).toHaveLength(2);
    for (const { stock, parts, kerf, offcuts, waste } of plan.areas)
      expect(Math.abs(stock - parts - kerf - offcuts - waste)).toBeLessThan(0.01);
  });

  it('finishes every blank at the thickness that the counter wants', () => {
    for (const { budget, wanted } of plan.budgets)
      expect(budget?.find(({ item }) => item === 'finished')?.mm).toBeGreaterThanOrEqual(wanted);
  });
});
