import { readFile } from 'node:fs/promises';
import type { Polygon } from '../../src/geometry';
import { emptyFlitch, emptyJob, emptySlab, type Job, type Slab, writeJobFile } from '../../src/job';

/** A job file of many slabs, each with a photo of 12 million pixels and a picture as large, and an outline of many points. Invented. */

const FACE = { width: 4000, height: 3000, mmPerPx: 0.7 };

/** The job file's bytes. @param points of every outline */
export async function manyPhotosFile(count: number, points: number): Promise<Buffer> {
  const photo = new Uint8Array(await readFile('demo-images/slab-2.jpg'));
  const files = new Map<string, Uint8Array<ArrayBuffer>>();
  const slabs = Array.from({ length: count }, (_, i): Slab => {
    const slab = emptySlab(`slab-${i + 1}`, i + 1);
    const [shot, face] = [`photos/${slab.id}.jpg`, `faces/${slab.id}.jpg`];
    files.set(shot, photo).set(face, photo);
    const { width, height } = FACE;
    return {
      ...slab,
      name: `Slab ${i + 1}`,
      faces: {
        ...slab.faces,
        top: {
          ...slab.faces.top,
          photos: {
            shot: {
              id: 'shot',
              file: shot,
              width,
              height,
              scale: { kind: 'markers', dictionary: '4x4_50', side: 80 },
              calibration: null,
            },
          },
          outline: { outer: wavy(points), holes: [] },
          picture: { file: face, x0: 0, y0: 0, ...FACE },
        },
      },
    };
  });
  const log = emptyFlitch('log', 'Log', 'walnut_black');
  const job: Job = {
    ...emptyJob('many', 'Many photos', '2026-11-26'),
    flitches: { log: { ...log, slabs: Object.fromEntries(slabs.map((slab) => [slab.id, slab])) } },
  };
  return Buffer.from(await writeJobFile({ job, files }));
}

/** An edge that swings all round. */
const wavy = (points: number): Polygon<'face'> =>
  Array.from({ length: points }, (_, i) => {
    const turn = (2 * Math.PI * i) / points;
    const out = 1 + 0.03 * Math.sin(17 * turn);
    return [1400 + 1300 * out * Math.cos(turn), 1050 + 700 * out * Math.sin(turn)] as const;
  });
