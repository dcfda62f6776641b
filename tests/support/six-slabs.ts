import type { Point, Polygon } from '../../src/geometry';
import { defaultTop, emptyFlitch, emptyJob, emptySlab, faceKey, type Job, type Slab } from '../../src/job';
import type { Pictures } from '../../src/layout';
import type { FacePicture } from '../../src/raster';
import { seededRandom } from '../../src/search';
import { helixFace } from './helix-log';

/**
 * A job of common size, invented: six slabs of one log, all of whose seams can be made to disappear if the lines are right, and four tops that stand
 * in one run along a wall.
 */

const LENGTH = 2600;
/** Radius of the log under its bark, and heights at which it is sawn, mm. */
const RADIUS = 275;
const HEIGHTS = [-150, -90, -30, 30, 90, 150];
const THICKNESS = 52;

/** A live edge that swings in two waves, `half` from the middle on the average. */
function outlineOf(half: number, middle: number, random: () => number): Polygon<'face'> {
  const edge = (): ((x: number) => number) => {
    const [a, b, p, q] = [6 * random(), 4 * random(), 6 * random(), 6 * random()];
    return (x) => a * Math.sin((2 * Math.PI * x) / 1900 + p) + b * Math.sin((2 * Math.PI * x) / 610 + q);
  };
  const [upper, lower] = [edge(), edge()];
  const xs = Array.from({ length: 131 }, (_, i) => 5 + ((LENGTH - 10) * i) / 130);
  return [
    ...xs.map((x): Point<'face'> => [x, middle - half + upper(x)]),
    ...xs.reverse().map((x): Point<'face'> => [x, middle + half + lower(x)]),
  ];
}

function slabOf(id: string, place: number, outline: Polygon<'face'>, half: number): Slab {
  const slab = emptySlab(id, place);
  const at = [0.03, 0.27, 0.5, 0.73, 0.97].flatMap((u) =>
    [-0.8, 0, 0.8].map((w) => [u * LENGTH, (1 + w) * half + 20] as const),
  );
  return {
    ...slab,
    thickness: THICKNESS,
    price: 180 + 10 * place,
    moisture: 9,
    faces: { ...slab.faces, top: { ...slab.faces.top, outline: { outer: outline, holes: [] }, outlineSigma: 0.7 } },
    spots: Object.fromEntries(
      at.map((p, i) => [`s${i}`, { id: `s${i}`, at: p, top: 0, bottom: -THICKNESS, thickness: null, sigma: 0.2 }]),
    ),
  };
}

/** The job and the pictures of its faces, 1 mm a pixel. @param tops lengths of the tops */
export function sixSlabs(tops: readonly number[] = [2200, 1500, 1200, 900]): { job: Job; pictures: Pictures } {
  const random = seededRandom(5);
  const pictures = new Map<string, FacePicture>();
  const slabs = HEIGHTS.map((z, i): Slab => {
    const half = Math.sqrt(RADIUS ** 2 - z ** 2) - 12;
    const middle = Math.ceil(half) + 20;
    pictures.set(
      faceKey('log', `slab-${i + 1}`, 'top'),
      helixFace(z, { width: LENGTH, height: 2 * middle, y0: -middle }),
    );
    return slabOf(`slab-${i + 1}`, i + 1, outlineOf(half, middle, random.next), half);
  });
  const wanted = tops.map((length, i) => ({
    ...defaultTop(`top-${i + 1}`),
    name: `Top ${i + 1}`,
    length,
    depth: [590, 640] as [number, number],
    thickness: 40,
  }));
  const job = emptyJob('six', 'Six slabs', '2026-11-25');
  return {
    pictures,
    job: {
      ...job,
      flitches: {
        log: { ...emptyFlitch('log', 'Log', 'walnut_black'), slabs: Object.fromEntries(slabs.map((s) => [s.id, s])) },
      },
      tops: Object.fromEntries(wanted.map((top) => [top.id, top])),
      runs:
        wanted.length < 2
          ? {}
          : {
              wall: {
                id: 'wall',
                name: 'North wall',
                tops: wanted.map(({ id }) => id),
                meets: wanted.slice(1).map(() => 'butt' as const),
                from: 'anywhere',
              },
            },
    },
  };
}
