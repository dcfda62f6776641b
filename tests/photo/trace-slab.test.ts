import { beforeAll, describe, expect, it } from 'vitest';
import {
  bounds,
  densify,
  distance,
  distanceToRing,
  type Point,
  type Polygon,
  regionContains,
  ringArea,
} from '../../src/geometry';
import { type Cv, retrace } from '../../src/photo';
import { trace } from '../../src/photo/trace';
import type { Traced, TraceOptions } from '../../src/photo/trace-types';
import { rasterOf } from '../../src/raster';
import { Cancelled, unwatched } from '../../src/search';
import { openCv } from './opencv';
import { drawSlab, type Scene, type SceneWish } from './slab-scene';

/** Slabs drawn from formulas, square from above, so that their edges are known everywhere. Tolerances are two to five times what was reached. */

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

/** What was drawn and traced before is looked at again by other tests. */
const before = new Map<string, Promise<{ scene: Scene; found: Traced }>>();

function traced(wish: SceneWish, also: TraceOptions = {}): Promise<{ scene: Scene; found: Traced }> {
  const key = JSON.stringify([wish, also]);
  const known = before.get(key) ?? tracedAnew(wish, also);
  before.set(key, known);
  return known;
}

async function tracedAnew(wish: SceneWish, also: TraceOptions): Promise<{ scene: Scene; found: Traced }> {
  const scene = drawSlab(wish);
  const laid = scene.cards.map((polygon) => ({ polygon, onWood: true }));
  return { scene, found: await trace(cv, scene.picture, { laid, ...also }) };
}

/** Distances from points to a ring, sorted. */
const off = (points: readonly Point<'face'>[], ring: Polygon<'face'>): number[] =>
  points.map((p) => distanceToRing(p, ring)).sort((a, b) => a - b);

const at = (sorted: readonly number[], share: number): number =>
  sorted[Math.floor(share * (sorted.length - 1))] as number;

const WALNUT = { wood: 'walnut', floor: 'plywood', degrees: 4 } as const;
const ASH = { wood: 'ash', floor: 'concrete', degrees: -7 } as const;

describe('a drawn slab', () => {
  it.each([
    WALNUT,
    ...(process.env.SLOW
      ? ([
          ASH,
          { wood: 'cherry', floor: 'concrete', degrees: 11 },
          { wood: 'oak', floor: 'plywood', degrees: 20 },
        ] as const)
      : []),
  ] satisfies SceneWish[])('of $wood on $floor, turned $degrees degrees, is traced to its wood', async (wish) => {
    const { scene, found } = await traced(wish);
    const miss = off(densify(scene.outline, 5), found.outline.outer);
    expect(at(miss, 0.5)).toBeLessThan(0.5);
    expect(at(miss, 0.95)).toBeLessThan(1);
    expect(at(miss, 1)).toBeLessThan(12);
    expect(Math.abs(ringArea(found.outline.outer) / ringArea(scene.outline) - 1)).toBeLessThan(0.002);
    // Honest both ways: most of the edge lies within two sigma, and sigma is not so wide that it says nothing.
    expect(at(miss, 0.95)).toBeLessThan(2 * found.outlineSigma);
    expect(found.outlineSigma).toBeLessThan(1.5);
    expect(found.cutOff).toEqual([]);
    // A crack of 4.4 mm and a knot of 32 mm are seen.
    const cracks = found.defects.flatMap((d) => (d.kind === 'crack' ? [d.line] : []));
    const seen = scene.crack.filter((p) => cracks.some((line) => nearLine(line, p) < 3));
    expect(seen.length / scene.crack.length).toBeGreaterThan(0.9);
    const patches = found.defects.flatMap((d) => (d.kind === 'crack' ? [] : [d.polygon]));
    expect(Math.min(...patches.map((patch) => distance(middle(patch), scene.knot.at)))).toBeLessThan(6);
  });

  it.each([
    { wood: 'walnut', floor: 'sheet', light: 'shadow' } as const,
    ...(process.env.SLOW
      ? ([
          { wood: 'reddish', floor: 'deck', light: 'falling' },
          { wood: 'ash', floor: 'tiles', light: 'even' },
          { wood: 'oak', floor: 'grass', light: 'even' },
          { wood: 'cherry', floor: 'rubber', light: 'falling' },
        ] as const)
      : []),
  ])('of $wood on $floor in $light light is traced to its wood', async (wish) => {
    const { scene, found } = await traced({ ...wish, degrees: 3 });
    const miss = off(densify(scene.outline, 5), found.outline.outer);
    expect(at(miss, 0.5)).toBeLessThan(0.6);
    expect(at(miss, 0.95)).toBeLessThan(3);
    expect(Math.abs(ringArea(found.outline.outer) / ringArea(scene.outline) - 1)).toBeLessThan(0.004);
  });

  it.each(process.env.SLOW ? (['card', 'shoe'] as const) : (['card'] as const))(
    'is not bitten by a %s over its edge',
    async (over) => {
      const { scene, found } = await traced({ wood: 'cherry', floor: 'concrete', over });
      const miss = off(densify(scene.outline, 5), found.outline.outer);
      // Both reach over 40 mm into the wood.
      expect(at(miss, 1)).toBeLessThan(18);
      expect(at(miss, 0.95)).toBeLessThan(1);
      expect(Math.abs(ringArea(found.outline.outer) / ringArea(scene.outline) - 1)).toBeLessThan(0.004);
    },
  );

  it('that runs out of the picture is traced up to where it does, and says where it runs on unseen', async () => {
    const right = 400;
    const frame: Polygon<'face'> = [
      [-920, -470],
      [right, -470],
      [right, 470],
      [-920, 470],
    ];
    const { scene, found } = await traced({ wood: 'walnut', floor: 'plywood', cutOff: 300 }, { frame });
    expect(bounds(found.outline.outer).maxX).toBeCloseTo(right, 3);
    const kept = densify(scene.outline, 5).filter(([x]) => x < right - 10);
    expect(at(off(kept, found.outline.outer), 0.95)).toBeLessThan(1);
    // All of the cut, and nothing of the wood's own edge.
    expect(found.unseen).toHaveLength(1);
    const cut = bounds(found.unseen[0] as Polygon<'face'>);
    expect(cut.minX).toBeGreaterThan(right - 2);
    const whole = scene.outline.filter(([x]) => Math.abs(x - right) < 3).map(([, y]) => y);
    expect(cut.minY).toBeCloseTo(Math.min(...whole), -1);
    expect(cut.maxY).toBeCloseTo(Math.max(...whole), -1);
  });

  it.runIf(process.env.SLOW)('that lies whole within the frame has no unseen edge', async () => {
    const frame: Polygon<'face'> = [
      [-920, -470],
      [920, -470],
      [920, 470],
      [-920, 470],
    ];
    const { found } = await traced({ wood: 'ash', floor: 'concrete' }, { frame });
    expect(found.unseen).toEqual([]);
  });

  it.runIf(process.env.SLOW)('with sawn edges gets straight ones, no sapwood and no bark', async () => {
    const { scene, found } = await traced({ wood: 'oak', floor: 'plywood', side: 'sawn', degrees: 5 });
    expect(at(off(densify(scene.outline, 5), found.outline.outer), 0.98)).toBeLessThan(0.6);
    expect(found.sapwood).toEqual([]);
    expect(found.sapwoodTold).toBe(false);
    expect(found.bark).toBeNull();
  });

  it('shows its sapwood where that is lighter, and its bark', async () => {
    const { scene, found } = await traced(WALNUT);
    expect(found.sapwood).toHaveLength(2);
    expect(found.sapwoodTold).toBe(true);
    for (const line of scene.heart) {
      const inner = line.filter((_, i) => i > 10 && i < line.length - 10);
      expect(Math.min(...found.sapwood.map((ring) => at(off(inner, ring), 0.9)))).toBeLessThan(1.5);
    }
    expect(ringArea(found.bark ?? [])).toBeGreaterThan(ringArea(found.outline.outer));
    expect(at(off(densify(found.bark ?? [], 5), scene.outline), 0.9)).toBeLessThan(20);
  });

  it.runIf(process.env.SLOW)('of one pale colour shows no sapwood, and says so', async () => {
    const { found } = await traced(ASH);
    expect(found.sapwood).toEqual([]);
    expect(found.sapwoodTold).toBe(false);
  });
});

describe('two slabs in one picture', () => {
  it.runIf(process.env.SLOW)('are told apart by the marks, and the other one is shown', async () => {
    const { scene, found } = await traced({ wood: 'oak', floor: 'concrete', second: true });
    expect(at(off(densify(scene.outline, 5), found.outline.outer), 0.95)).toBeLessThan(1);
    expect(found.others).toHaveLength(1);
    const other = bounds(found.others[0] as Polygon<'face'>);
    const about = (value: number, from: number) => expect(Math.abs(value - from)).toBeLessThan(25);
    about(other.minX, -600);
    about(other.maxX, 600);
    about(other.minY, 275);
    about(other.maxY, 460);
  });

  it.runIf(process.env.SLOW)('are asked about where nothing tells which is meant, and a stroke tells', async () => {
    const { picture } = drawSlab({ wood: 'oak', floor: 'concrete', second: true, bare: true });
    const points: Point<'face'>[] = [
      [-500, -100],
      [500, -100],
      [500, 430],
      [-500, 430],
    ];
    await expect(trace(cv, picture, { points })).rejects.toMatchObject({
      name: 'InputProblem',
      message: expect.stringMatching(/2 pieces/),
      mend: expect.stringMatching(/stroke/),
    });
    const line = [[-500, 370] as const, [500, 370] as const];
    const found = await trace(cv, picture, { points, strokes: [{ kind: 'wood', line }] });
    const { minY } = bounds(found.outline.outer);
    expect(Math.abs(minY - 275)).toBeLessThan(2);
    expect(found.others).toHaveLength(1);
  });

  it.runIf(process.env.SLOW)('are not seen where there is one', async () => {
    const { found } = await traced(ASH);
    expect(found.others).toEqual([]);
  });
});

describe('strokes by hand', () => {
  it.runIf(process.env.SLOW)('tell wood from floor where no mark does', async () => {
    const scene = drawSlab({ wood: 'oak', floor: 'plywood', bare: true });
    const wood = { kind: 'wood' as const, line: [[-600, 20] as const, [620, -10] as const] };
    const floor = { kind: 'not wood' as const, line: [[-800, -380] as const, [800, -380] as const] };
    const found = await trace(cv, scene.picture, { strokes: [wood, floor] });
    expect(at(off(densify(scene.outline, 5), found.outline.outer), 0.95)).toBeLessThan(1);
  });
});

describe('tracing again after a stroke', () => {
  // Half of the slab was missed, and a piece of the floor was taken for wood.
  const scene = drawSlab({ wood: 'oak', floor: 'plywood' });
  const wrong: Polygon<'face'> = [
    [-690, -170],
    [0, -170],
    [0, -330],
    [100, -330],
    [100, 170],
    [-690, 170],
  ];
  const strokes = [
    { kind: 'wood', line: [[-500, 0] as const, [650, 0] as const] },
    { kind: 'not wood', line: [[50, -320] as const, [50, -230] as const] },
  ] as const;

  it('finds the whole wood and leaves the floor', () => {
    const outline = { outer: wrong, holes: [] };
    const again = retrace(cv, scene.picture, { outline, strokes, hidden: scene.cards });
    expect(at(off(densify(scene.outline, 5), again.outline.outer), 0.95)).toBeLessThan(1);
    expect(Math.abs(ringArea(again.outline.outer) / ringArea(scene.outline) - 1)).toBeLessThan(0.004);
  });

  it('keeps to strokes even where every colour speaks against them', () => {
    // Along the front edge, from -300 to 300: one stroke out in the bark, one within the heart.
    const along = (inwards: number) =>
      [-300, -200, -100].map((s): Point<'face'> => {
        const edge = Math.max(...scene.outline.filter(([x]) => Math.abs(x - s) < 6).map(([, y]) => y));
        return [s, edge - inwards];
      });
    const [bark, heart] = [along(-7), along(12).map(([s, t]): Point<'face'> => [s + 400, t])];
    const again = retrace(cv, scene.picture, {
      outline: { outer: scene.outline, holes: [] },
      strokes: [
        { kind: 'wood', line: bark },
        { kind: 'not wood', line: heart },
      ],
      hidden: scene.cards,
    });
    for (const p of bark) expect(regionContains(again.outline, p)).toBe(true);
    for (const p of heart) expect(regionContains(again.outline, p)).toBe(false);
    // What no stroke speaks of is traced as before.
    expect(at(off(densify(scene.outline, 5), again.outline.outer), 0.7)).toBeLessThan(1);
  });
});

describe('tracing', () => {
  it('refuses a picture of floor alone, and says the way on', async () => {
    const grey = rasterOf(500, 400, 4, new Uint8ClampedArray(500 * 400 * 4).fill(160));
    await expect(trace(cv, { raster: grey, mmPerPx: 2, x0: 0, y0: 0 }, {})).rejects.toMatchObject({
      name: 'InputProblem',
      mend: expect.stringMatching(/by hand/),
    });
  });

  it.runIf(process.env.SLOW)(
    'can be called off, and frees what it used: the same again needs no more memory',
    async () => {
      const { picture, cards } = drawSlab({ wood: 'walnut', floor: 'plywood' });
      const laid = cards.map((polygon) => ({ polygon, onWood: true }));
      const heap = () => {
        const one = new cv.Mat(1, 1, cv.CV_8UC1);
        const { byteLength } = one.data.buffer;
        one.delete();
        return byteLength;
      };
      const stopped = { ...unwatched(), cancelled: () => true };
      await expect(trace(cv, picture, { laid, control: stopped })).rejects.toBeInstanceOf(Cancelled);
      const told: number[] = [];
      const control = { ...unwatched(), progress: (share: number) => told.push(share) };
      const first = await trace(cv, picture, { laid, control });
      const used = heap();
      const again = await trace(cv, picture, { laid });
      await trace(cv, picture, { laid });
      expect(heap()).toBe(used);
      expect(again).toEqual(first);
      expect(told).toEqual([...told].sort((a, b) => a - b));
      expect(told.length).toBeGreaterThan(2);
    },
  );
});

const middle = (ring: Polygon<'face'>): Point<'face'> => [
  ring.reduce((sum, p) => sum + p[0], 0) / ring.length,
  ring.reduce((sum, p) => sum + p[1], 0) / ring.length,
];

const nearLine = (line: readonly (readonly number[])[], p: Point<'face'>): number =>
  distanceToRing(
    p,
    [...line, ...line.toReversed()].map((q): Point<'face'> => [q[0] as number, q[1] as number]),
  );
