import type { Polygon } from '../../src/geometry';
import { defaultTop, emptyFlitch, emptyJob, emptySlab, type Job, type Slab, type Top } from '../../src/job';
import { type Random, seededRandom } from '../../src/search';

/**
 * A rack of slabs as a yard has them: several logs, some with their slabs in order, edges that wave, taper and crook, cracks from the ends, a void
 * here and there, a bow, and a price by size. Invented; the same for the same seed.
 */

export interface RackWish {
  readonly slabs: number;
  readonly seed: number;
  /** Share of the slabs that are only taped, 0..1. */
  readonly taped?: number;
  readonly tops?: readonly Partial<Top>[];
}

const SPECIES = ['walnut_black', 'white_oak', 'cherry_black'] as const;
const LOG = 6;

/** Two tops as a kitchen wants them: a counter that needs a seam, and a shelf that does not. */
const KITCHEN: readonly Partial<Top>[] = [
  { name: 'Counter', length: 2200, depth: [600, 650], thickness: 38, seams: 1 },
  { name: 'Shelf', length: 1200, depth: [300, 340], thickness: 34, seams: 0 },
];

interface Shape {
  readonly length: number;
  readonly width: number;
  readonly taper: number;
  readonly thickness: number;
}

function outlineOf({ length, width, taper }: Shape, random: Random): Polygon<'face'> {
  const wave = () => ({
    swing: 3 + 12 * random.next(),
    period: 500 + 1500 * random.next(),
    phase: 6.3 * random.next(),
  });
  const waves = [
    [wave(), wave()],
    [wave(), wave()],
  ];
  const crook = 25 * (random.next() - 0.5);
  const edge = (x: number, side: 0 | 1): number => {
    const half = (width + taper * (0.5 - x / length)) / 2;
    const sway = (waves[side] ?? []).reduce(
      (sum, { swing, period, phase }) => sum + swing * Math.sin((6.283 * x) / period + phase),
      0,
    );
    return (side === 0 ? -half : half) + sway / 2 + crook * (1 - (2 * x) / length) ** 2;
  };
  const xs = Array.from({ length: 67 }, (_, i) => (length * i) / 66);
  return [...xs.map((x) => [x, edge(x, 0)] as const), ...xs.reverse().map((x) => [x, edge(x, 1)] as const)];
}

function defectsOf({ length, width }: Shape, random: Random): Slab['faces']['top']['defects'] {
  const y = () => width * 0.6 * (random.next() - 0.5);
  const crack = [0, 1, 2]
    .map((i): [number, number, number] => [40 + 90 * i, 10 * i, 3 - i])
    .map(([x, dy, w], _, all): [number, number, number] => [x, (all[0]?.[1] ?? 0) + dy, w]);
  const at = y();
  const defects: Slab['faces']['top']['defects'] = {
    c: { id: 'c', kind: 'crack', line: crack.map(([x, dy, w]) => [x, at + dy, w]), permit: 'keyed' },
  };
  if (random.next() < 0.3) {
    const [cx, cy] = [length * (0.2 + 0.6 * random.next()), y()];
    const ring = [0, 1, 2, 3, 4, 5].map((k): [number, number] => [cx + 28 * Math.cos(k), cy + 14 * Math.sin(k)]);
    defects.v = { id: 'v', kind: 'void', polygon: ring, permit: 'avoid' };
  }
  return defects;
}

/** Heights of both faces on five lines of three, the slab bowed and cupped. */
function spotsOf({ length, width, thickness }: Shape, bow: number, random: Random): Slab['spots'] {
  const at = [0.03, 0.25, 0.5, 0.75, 0.97].flatMap((u) => [-0.4, 0, 0.4].map((v) => [u, v] as const));
  return Object.fromEntries(
    at.map(([u, v], i) => {
      const z = bow * (2 * u - 1) ** 2 + 0.3 * bow * (2 * v) ** 2 + 0.2 * random.normal();
      const spot = {
        id: `s${i}`,
        at: [u * length, v * width] as [number, number],
        top: z,
        bottom: z - thickness,
        thickness: null,
        sigma: 0.2,
      };
      return [spot.id, spot];
    }),
  );
}

function slabOf(id: string, place: number, random: Random, tapedOnly: boolean): Slab {
  const shape: Shape = {
    length: 2350 + 600 * random.next(),
    width: 330 + 330 * random.next(),
    taper: 70 * (random.next() - 0.3),
    thickness: [42, 48, 54, 60][random.below(4)] as number,
  };
  const bow = 2 + 7 * random.next();
  const area = (shape.length * shape.width) / 1e6;
  const bare = emptySlab(id, place);
  const slab: Slab = {
    ...bare,
    price: random.next() < 0.05 ? null : Math.round(area * shape.thickness * (4 + 4 * random.next())),
    moisture: random.next() < 0.8 ? 8 + Math.round(4 * random.next()) : null,
    offer: 'offered',
  };
  const outline = outlineOf(shape, random);
  const defects = defectsOf(shape, random);
  const spots = spotsOf(shape, bow, random);
  if (tapedOnly) {
    const width = (share: number) => Math.round(shape.width + shape.taper * (0.5 - share)) - 10;
    const thick = () => Math.round(2 * (shape.thickness + random.normal())) / 2;
    return {
      ...slab,
      warp: { bow: Math.round(bow), cup: null, twist: null, sigma: 1 },
      taped: {
        length: Math.round(shape.length),
        widths: [width(0.1), width(0.5), width(0.9)],
        thicknesses: [thick(), thick(), thick(), thick()],
      },
    };
  }
  return {
    ...slab,
    thickness: shape.thickness,
    faces: {
      ...bare.faces,
      top: { ...bare.faces.top, outline: { outer: outline, holes: [] }, outlineSigma: 1, defects },
    },
    spots,
  };
}

/** A job with a rack on offer. */
export function rackJob({ slabs, seed, taped = 0, tops = KITCHEN }: RackWish): Job {
  const random = seededRandom(seed);
  const job = emptyJob('yard', 'Yard', '2026-11-25');
  const flitches: Job['flitches'] = {};
  for (let i = 0; i < slabs; i++) {
    const log = Math.floor(i / LOG);
    const id = `log-${log + 1}`;
    flitches[id] ??= emptyFlitch(id, `Log ${log + 1}`, SPECIES[log % SPECIES.length] as string);
    const slab = slabOf(`slab-${i + 1}`, (i % LOG) + 1, random, random.next() < taped);
    flitches[id].slabs[slab.id] = { ...slab, name: `Slab ${i + 1}` };
  }
  const wanted = tops.map((top, i) => ({ ...defaultTop(`top-${i + 1}`), ...top, id: `top-${i + 1}` }));
  return { ...job, flitches, tops: Object.fromEntries(wanted.map((top) => [top.id, top])) };
}
