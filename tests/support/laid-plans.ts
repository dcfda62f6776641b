import fc from 'fast-check';
import {
  type Affine,
  applyAll,
  bounds,
  crossingsAtX,
  difference,
  intersection,
  invert,
  offset,
  type Polygon,
  type Region,
  rectangle,
  regionsArea,
  ringArea,
  type Segment,
} from '../../src/geometry';
import {
  defaultTop,
  emptyFlitch,
  emptyJob,
  emptySlab,
  type Job,
  type Plan,
  type Slab,
  type Strip,
  type Top,
} from '../../src/job';

/**
 * Plans laid by hand, without the search: two tops side by side on a wavy slab, the first perhaps seamed with a strip of a second slab. Everything
 * is sound and its room is known, so that a test can spoil one thing by an amount. Invented.
 */
export interface LaidPlan {
  readonly job: Job;
  readonly plan: Plan;
  /** Room between the two tops' blanks, along them, mm. */
  readonly gap: number;
  /** y of the first top at which its front strip ends. */
  readonly back: number;
}

const FAR = 1e5;
const tenth = (min: number, max: number) => fc.integer({ min: min * 10, max: max * 10 }).map((n) => n / 10);

const shapes = fc.record({
  waves: fc.tuple(tenth(0, 12), tenth(0, 6), tenth(0, 6.2), tenth(0, 6.2)),
  endTilt: tenth(-1, 1),
  degrees: tenth(-2, 2),
  sigma: tenth(0.2, 2),
});

interface Shape {
  readonly waves: readonly [number, number, number, number];
  readonly endTilt: number;
  readonly degrees: number;
  readonly sigma: number;
}

/** A slab with two waves on each live edge and ends that lean by `endTilt` degrees. */
function outlineOf({ waves: [a, b, p, q], endTilt }: Shape, length: number, width: number): Region<'face'> {
  const lean = Math.tan((endTilt * Math.PI) / 180);
  const wave = (x: number): number =>
    a * Math.sin((2 * Math.PI * x) / 1900 + p) + b * Math.sin((2 * Math.PI * x) / 430 + q);
  const xs = Array.from({ length: 121 }, (_, i) => (length * i) / 120);
  const front = xs.map((x) => [x + lean * wave(x), wave(x)] as const);
  const back = xs.map((x) => [x + lean * (width + wave(x + 700)), width + wave(x + 700)] as const);
  return { outer: [...front, ...back.reverse()], holes: [] };
}

/** A map into a top: turned by `degrees` against the face, its x = 0 and y = 0 at (u, v) of the turned face. */
function lay(degrees: number, u: number, v: number): Affine<'face', 'top'> {
  const t = (degrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(t), Math.sin(t)];
  return { m: [cos, -sin, sin, cos, -u, -v] };
}

function piece(wood: Region<'face'>, map: Affine<'face', 'top'>, box: Polygon<'top'>): Polygon<'face'> {
  const parts = intersection([{ outer: applyAll(map, wood.outer), holes: [] }], [{ outer: box, holes: [] }]);
  const [first, ...rest] = parts.map(({ outer }) => outer);
  if (!first) throw new Error('no wood there');
  return applyAll(
    invert(map),
    rest.reduce((a, b) => (ringArea(b) > ringArea(a) ? b : a), first),
  );
}

interface Sizes {
  readonly end: number;
  readonly joint: number;
  readonly live: boolean;
}

/** The strip from `y0` (the wood's edge where live) to `y1` over the length, with its blank. */
function strip(
  slab: string,
  wood: Region<'face'>,
  map: Affine<'face', 'top'>,
  length: number,
  [y0, y1]: readonly [number, number],
  { end, joint, live }: Sizes,
  joints: { readonly front: boolean; readonly back: boolean },
): Strip {
  const line = (y: number): Segment<'face'> =>
    applyAll<'top', 'face'>(invert(map), [
      [0, y],
      [length, y],
    ]) as unknown as Segment<'face'>;
  const front = live ? -FAR : y0;
  return {
    flitch: 'log',
    slab,
    face: 'top',
    toTop: [...map.m],
    finished: piece(wood, map, rectangle(0, front, length, y1)),
    rough: piece(wood, map, rectangle(-end, live ? -FAR : y0 - joint, length + end, y1 + joint)),
    jointFront: joints.front ? line(y0) : null,
    jointBack: joints.back ? line(y1) : null,
  };
}

/** Where the edge in front of the box lies, in the turned face: least and most v over the stretch. */
function edgeOver(wood: Region<'face'>, degrees: number, from: number, to: number): readonly [number, number] {
  const ring = applyAll(lay(degrees, 0, 0), wood.outer);
  const vs = [from + 1e-6, to - 1e-6].map((x) => crossingsAtX(ring, x)[0] as number);
  const within = ring.filter(([x, y]) => x > from && x < to && y < bounds(ring).minY + 150).map(([, y]) => y);
  return [Math.min(...vs, ...within), Math.max(...vs, ...within)];
}

function slabOf(id: string, place: number, outline: Region<'face'>, sigma: number): Slab {
  const slab = emptySlab(id, place);
  return { ...slab, faces: { ...slab.faces, top: { ...slab.faces.top, outline, outlineSigma: sigma } } };
}

/** Slab ends, edges and corners stay clear by the margin and this much, mm. */
const CLEAR = 15;

export const laidPlans: fc.Arbitrary<LaidPlan> = fc
  .record({
    slabs: fc.tuple(shapes, shapes),
    lengths: fc.tuple(tenth(500, 1400), tenth(400, 1000)),
    depth: tenth(200, 420),
    behind: tenth(150, 300),
    fronts: fc.tuple(fc.boolean(), fc.boolean()),
    seam: fc.boolean(),
    spare: fc.tuple(tenth(0.3, 4), tenth(0.3, 4)),
    gap: tenth(1, 12),
    end: tenth(5, 40),
    joint: tenth(3, 15),
  })
  .map(({ slabs: [one, two], lengths: [a, b], depth, behind, fronts, seam, spare, gap, end, joint }): LaidPlan => {
    const margin = 2 * one.sigma;
    const length = a + b + 4 * end + gap + 2 * (margin + CLEAR) + 120;
    const wood = outlineOf(one, length, depth + joint + 2 * margin + 2 * CLEAR + 180);
    const start = 40 + margin + CLEAR + end;
    const tops: Record<string, Top> = {};
    const placements: Plan['placements'] = {};
    let back = 0;
    for (const [i, size] of [a, b].entries()) {
      const id = i === 0 ? 'a' : 'b';
      const u = i === 0 ? start : start + a + 2 * end + gap;
      const live = fronts[i] as boolean;
      const [near, far] = edgeOver(wood, one.degrees, u, u + size);
      // A straight front stands behind the wood's edge by margin and allowance.
      const v0 = live ? near : edgeOver(wood, one.degrees, start - 40, length - 60)[1] + margin + CLEAR;
      const y1 = live ? far - near + depth : depth;
      if (i === 0) back = y1;
      const map = lay(one.degrees, u, v0);
      const sizes = { end, joint, live };
      const seamed = seam && i === 0;
      const strips = [strip('one', wood, map, size, [0, y1], sizes, { front: false, back: seamed })];
      if (seamed) {
        const other = outlineOf(two, size + 2 * (end + 2 * two.sigma + CLEAR) + 120, behind + 2 * joint + 180);
        const under = lay(two.degrees, 60 + end + 2 * two.sigma + CLEAR, 70 + joint + 2 * two.sigma - y1);
        strips.push(
          strip('two', other, under, size, [y1, y1 + behind], { ...sizes, live: false }, { front: true, back: false }),
        );
      }
      const whole = y1 + (seamed ? behind : 0);
      const least = live ? whole - (far - near) : whole;
      tops[id] = {
        ...defaultTop(id),
        name: id,
        length: size,
        depth: [least - spare[0], whole + spare[1]],
        thickness: 30,
        front: live ? 'live' : 'straight',
        seams: 1,
        leastStrip: 100,
      };
      const joints = seamed ? [{ blend: null, lines: null, slide: 0, flipped: false }] : [];
      placements[id] = { top: id, strips, joints, depth: [least, whole], thickness: 32 };
    }
    const job = emptyJob('test', 'Test', '2026-11-25');
    const behindWood = outlineOf(two, a + 2 * (end + 2 * two.sigma + CLEAR) + 120, behind + 2 * joint + 180);
    const flitch = emptyFlitch('log', 'Log', 'walnut_black');
    const found = {
      one: slabOf('one', 1, wood, one.sigma),
      two: slabOf('two', 2, behindWood, two.sigma),
    };
    return {
      job: {
        ...job,
        shop: {
          ...job.shop,
          kerf: { crosscut: Math.min(2.4, gap - 0.5), rip: 1.8, fine: 2 },
          endAllowance: end,
          jointAllowance: joint,
        },
        flitches: { log: { ...flitch, slabs: found } },
        tops,
      },
      plan: { id: 'p', name: 'P', placements, misses: [], waste: 0, cost: null, gap: 0 },
      gap,
      back,
    };
  });

/** How far a straight-edged ring stays inside the wood, found by shrinking the wood until it no longer holds it. */
export function clearance(ring: Polygon<'face'>, outline: Region<'face'>): number {
  let [low, high] = [0, 400];
  while (high - low > 0.005) {
    const middle = (low + high) / 2;
    if (regionsArea(difference([{ outer: ring, holes: [] }], offset([outline], -middle))) > 1e-3) high = middle;
    else low = middle;
  }
  return low;
}
