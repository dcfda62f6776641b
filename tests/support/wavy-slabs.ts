import type { Polygon } from '../../src/geometry';
import { defaultTop, emptyFlitch, emptyJob, emptySlab, type Job, type Slab, type Top } from '../../src/job';

/** Slabs of known shape for tests: straight ends, live edges that swing as a cosine. Invented. */

export interface WavySlab {
  readonly length: number;
  readonly width: number;
  /** How far each live edge swings to either side of straight. */
  readonly swing: number;
  readonly thickness?: number;
}

/** Outline with x from 0 to length; edges at y = 0 and y = width on the average. */
export function wavyOutline({ length, width, swing }: WavySlab): Polygon<'face'> {
  const wave = (x: number): number => swing * Math.cos((2 * Math.PI * x) / length);
  const xs = Array.from({ length: 101 }, (_, i) => (length * i) / 100);
  return [...xs.map((x) => [x, wave(x)] as const), ...xs.reverse().map((x) => [x, width + wave(x)] as const)];
}

/** A slab of that shape, flat, with readings of its thickness on five lines of three. */
export function wavySlab(id: string, place: number, shape: WavySlab): Slab {
  const slab = emptySlab(id, place);
  const thickness = shape.thickness ?? 50;
  const at = [0.02, 0.25, 0.5, 0.75, 0.98].flatMap((u) =>
    [0.1, 0.5, 0.9].map((w) => [u * shape.length, w * shape.width] as const),
  );
  return {
    ...slab,
    thickness,
    price: 100,
    moisture: 9,
    faces: {
      ...slab.faces,
      top: { ...slab.faces.top, outline: { outer: wavyOutline(shape), holes: [] }, outlineSigma: 0.5 },
    },
    spots: Object.fromEntries(
      at.map((p, i) => [`s${i}`, { id: `s${i}`, at: p, top: 0, bottom: -thickness, thickness: null, sigma: 0.2 }]),
    ),
  };
}

/** A job with those slabs and one top. */
export function wavyJob(shapes: readonly WavySlab[], top: Partial<Top>): Job {
  const job = emptyJob('test', 'Test job', '2026-11-25');
  const flitch = emptyFlitch('log', 'Log', 'walnut_black');
  const slabs = Object.fromEntries(
    shapes.map((shape, i) => [`slab-${i + 1}`, wavySlab(`slab-${i + 1}`, i + 1, shape)]),
  );
  return { ...job, flitches: { log: { ...flitch, slabs } }, tops: { counter: { ...defaultTop('counter'), ...top } } };
}
