import sharp from 'sharp';
import type { Polygon } from '../../src/geometry';
import {
  defaultTop,
  emptyFlitch,
  emptyJob,
  emptySlab,
  type Job,
  type Slab,
  type Top,
  writeJobFile,
} from '../../src/job';
import { helixFace } from './helix-log';

/** A job file with short slabs of the helical log: pictures, outlines and readings are there, so that tops can be laid out at once. Invented. */

const LENGTH = 1100;
const THICKNESS = 52;
/** Half the width of every slab, and of its picture, mm. */
const [HALF, ROOM] = [190, 210];

/** Live edges that swing a little, each in its own way. */
function outlineOf(z: number): Polygon<'face'> {
  const edge = (x: number, per: number): number => 6 * Math.sin((2 * Math.PI * x) / per + z);
  const xs = Array.from({ length: 55 }, (_, i) => 5 + ((LENGTH - 10) * i) / 54);
  return [
    ...xs.map((x) => [x, ROOM - HALF + edge(x, 700)] as const),
    ...xs.reverse().map((x) => [x, ROOM + HALF + edge(x, 430)] as const),
  ];
}

const pictureFile = (id: string): string => `faces/${id}.jpg`;

function slabOf(id: string, place: number, outline: Polygon<'face'>): Slab {
  const slab = emptySlab(id, place);
  const [width, height] = [LENGTH, 2 * ROOM];
  const spots = [0.05, 0.35, 0.65, 0.95].flatMap((u) => [0.25, 0.5, 0.75].map((v) => [u * width, v * height] as const));
  return {
    ...slab,
    name: `Slab ${place}`,
    thickness: THICKNESS,
    price: 100 + 10 * place,
    moisture: 9,
    faces: {
      ...slab.faces,
      top: {
        ...slab.faces.top,
        outline: { outer: outline, holes: [] },
        outlineSigma: 0.7,
        picture: { file: pictureFile(id), mmPerPx: 1, x0: 0, y0: 0, width, height },
      },
    },
    spots: Object.fromEntries(
      spots.map((at, i) => [`s${i}`, { id: `s${i}`, at, top: 0, bottom: -THICKNESS, thickness: null, sigma: 0.2 }]),
    ),
  };
}

async function jpeg(z: number): Promise<Uint8Array<ArrayBuffer>> {
  const { width, height, channels, data } = helixFace(z, { width: LENGTH, height: 2 * ROOM, y0: -ROOM }).raster;
  return new Uint8Array(await sharp(data, { raw: { width, height, channels } }).jpeg({ quality: 92 }).toBuffer());
}

/** The job file's bytes. @param tops what is wanted, one after the other */
export async function drawnJobFile(heights: readonly number[], ...tops: readonly Partial<Top>[]): Promise<Buffer> {
  const slabs = heights.map((z, i) => slabOf(`slab-${i + 1}`, i + 1, outlineOf(z)));
  const files = new Map(
    await Promise.all(slabs.map(async ({ id }, i) => [pictureFile(id), await jpeg(heights[i]!)] as const)),
  );
  const wanted = tops.map((top, i): Top => ({ ...defaultTop(`top-${i + 1}`), ...top }));
  const log = emptyFlitch('log', 'Log', 'walnut_black');
  const job: Job = {
    ...emptyJob('drawn', 'Drawn slabs', '2026-11-26'),
    flitches: { log: { ...log, slabs: Object.fromEntries(slabs.map((slab) => [slab.id, slab])) } },
    tops: Object.fromEntries(wanted.map((top) => [top.id, top])),
  };
  return Buffer.from(await writeJobFile({ job, files }));
}
