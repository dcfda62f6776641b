import loadHighs from 'highs';
import { describe, expect, it } from 'vitest';
import { type Affine, apply, bounds, invert, type Point, type Polygon, type Segment } from '../../src/geometry';
import { faceKey, type Job, type Plan } from '../../src/job';
import { proposePlans, stripInTop } from '../../src/layout';
import { mirrorOf } from '../../src/layout/mirror';
import { prepareStock } from '../../src/layout/stock';
import { checkPlan } from '../../src/plan';
import { type FacePicture, rasterOf, sample } from '../../src/raster';
import { unwatched } from '../../src/search';
import { helixFace } from '../support/helix-log';
import { wavyJob } from '../support/wavy-slabs';

const SIZE = { width: 1000, height: 260, y0: 40 };
const under = helixFace(-40, SIZE);

/** A mirror with a small turn, so that nothing falls on whole pixels. From the upper face onto the one under the saw cut. */
function mirror(degrees: number, dx: number, dy: number): Affine<'face', 'face'> {
  const t = (degrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(t), Math.sin(t)];
  return { m: [cos, sin, sin, -cos, dx, dy + SIZE.height] };
}

/** What a face shows that is the mirror image of another. */
function mirroredPicture(face: FacePicture, map: Affine<'face', 'face'>, width: number, height: number): FacePicture {
  const data = new Uint8Array(3 * width * height);
  const out = [0, 0, 0];
  for (let r = 0; r < height; r++)
    for (let c = 0; c < width; c++) {
      const [x, y] = apply(map, [c + 0.5, r + 0.5]);
      sample(face.raster, x - 0.5, y - 0.5, out);
      data.set(out, 3 * (r * width + c));
    }
  return { raster: rasterOf(width, height, 3, data), mmPerPx: 1, x0: 0, y0: 0 };
}

const box: Polygon<'face'> = [
  [0, 0],
  [SIZE.width, 0],
  [SIZE.width, SIZE.height],
  [0, SIZE.height],
];

/** Two neighbouring slabs, the underside of the first and the upper face of the second mirror images of each other. */
function facing(map: Affine<'face', 'face'>) {
  const job = wavyJob(
    [0, 1].map(() => ({ length: SIZE.width, width: SIZE.height, swing: 0 })),
    { length: 700, depth: [200, 240], front: 'straight', seams: 1, leastStrip: 60, bookMatched: true },
  );
  const [first, second] = ['slab-1', 'slab-2'].map((id) => job.flitches.log?.slabs[id]);
  if (!first || !second) throw new Error('There are two.');
  first.faces.bottom = { ...first.faces.top };
  first.faces.top = { ...first.faces.top, outline: null };
  // The second's outline as the mirror lays it, so that it does not give the answer away to the millimetre.
  second.faces.top = { ...second.faces.top, outline: { outer: box, holes: [] } };
  first.tie = null;
  job.shop.seam = { slide: 60, angle: 1, ends: 'same' };
  const pictures = new Map([
    [faceKey('log', 'slab-1', 'bottom'), under],
    [faceKey('log', 'slab-2', 'top'), mirroredPicture(under, map, SIZE.width, SIZE.height)],
  ]);
  return { job, pictures };
}

const MIRRORS: readonly (readonly [degrees: number, dx: number, dy: number])[] = [
  [0, 0, 0],
  [0.6, 13.3, -8.4],
  [-0.9, -31, 11.7],
];

/** How far a point lies from where it should, along the grain and across it. */
const off = ([x, y]: Point<'face'>, [u, v]: Point<'face'>) => ({ along: Math.abs(x - u), across: Math.abs(y - v) });

/** The figure of this log moves by a tenth of a millimetre across it for every one along: along the grain there is little to go by. */
const CLOSE = { along: 3, across: 0.5 };

describe('the mirror of two faces that one saw cut parted', () => {
  it.each(MIRRORS)(
    'is found within half a millimetre where it turns by %f degrees and shifts by %f and %f mm',
    (...of) => {
      const map = mirror(...of);
      const { job, pictures } = facing(map);
      const stock = prepareStock(job, pictures);
      const [a, b] = [stock.find(({ face }) => face === 'bottom'), stock.find(({ face }) => face === 'top')];
      if (!a || !b) throw new Error('Both faces have outlines.');
      const found = mirrorOf(a, b);
      expect(found.match).toBeGreaterThan(0.8);
      for (const p of [
        [150, 50],
        [850, 50],
        [850, 210],
        [150, 210],
      ] as const) {
        const { along, across } = off(apply(found.map, p), apply(map, p));
        expect(along).toBeLessThan(CLOSE.along);
        expect(across).toBeLessThan(CLOSE.across);
      }
    },
  );
});

describe('a top opened like a book', () => {
  it('has its joint on a mirror line of both halves within 1 mm, and both equally deep', async () => {
    const map = mirror(0.6, 13.3, -8.4);
    const { job, pictures } = facing(map);
    const plans: Plan[] = await proposePlans(job, pictures, await loadHighs(), unwatched());
    const placed = plans.flatMap(({ placements }) => placements.counter ?? []);
    expect(placed.length).toBeGreaterThan(0);
    for (const { strips, joints } of placed) {
      expect(joints.map(({ made }) => made)).toEqual(['book']);
      const [front, back] = strips;
      if (!front?.jointBack || !back?.jointFront) throw new Error('They meet on a line.');
      const [p, q]: Segment<'face'> = front.jointBack;
      const [r, s]: Segment<'face'> = back.jointFront;
      const onto = back.face === 'top' ? map : invert(map);
      for (const [carried, end] of [
        [apply(onto, r), p],
        [apply(onto, s), q],
      ] as const) {
        expect(off(carried, end).across).toBeLessThan(1);
        expect(off(carried, end).along).toBeLessThan(CLOSE.along);
      }
      const [f, b] = [bounds(stripInTop(front)), bounds(stripInTop(back))];
      expect(f.maxY - f.minY).toBeCloseTo(b.maxY - b.minY, 2);
    }
    for (const plan of plans) expect(checkPlan(job, plan).faults).toEqual([]);
    // Slabs that were no neighbours, or halves that are not alike, would be found.
    const spoilt = structuredClone(job);
    if (spoilt.flitches.log?.slabs['slab-2']) spoilt.flitches.log.slabs['slab-2'].place = 5;
    const rules = (faulty: Job, plan: Plan) => checkPlan(faulty, plan).faults.map(({ rule }) => rule);
    expect(rules(spoilt, plans[0] as Plan)).toContain('book');
    const seamed = structuredClone(plans[0] as Plan);
    seamed.placements.counter?.strips.pop();
    expect(rules(job, seamed)).toContain('book');
  }, 60_000);

  it('is missed where no two neighbouring slabs show the faces of one cut, and that is said', async () => {
    const { job, pictures } = facing(mirror(0, 0, 0));
    const apartInLog: Job = structuredClone(job);
    const second = apartInLog.flitches.log?.slabs['slab-2'];
    if (second) second.place = 3;
    const [plan] = await proposePlans(apartInLog, pictures, await loadHighs(), unwatched());
    expect(plan?.placements).toEqual({});
    expect(plan?.misses[0]?.message).toMatch(/book/);
  });
});
