import { bounds } from '../../src/geometry';
import { faceKey, type Job } from '../../src/job';
import type { FacePicture } from '../../src/raster';
import { helixFace } from './helix-log';
import { type RackWish, rackJob } from './rack';

/** Heights in the log at which neighbouring slabs were sawn, and their middle one. */
const SAWN = 60;
const MIDDLE = 3.5;

/** A rack (rack.ts) whose slabs were photographed: every face is drawn when it is asked for, 1 mm a pixel, as sawn from one invented log. */
export function drawnRack(wish: RackWish): { job: Job; pictureOf: (key: string) => FacePicture } {
  const job = structuredClone(rackJob(wish));
  const faces = new Map<string, { readonly frame: Parameters<typeof helixFace>[1]; readonly z: number }>();
  for (const flitch of Object.values(job.flitches)) {
    for (const slab of Object.values(flitch.slabs)) {
      const face = slab.faces.top;
      const key = faceKey(flitch.id, slab.id, 'top');
      if (!face.outline) continue;
      const { maxX, minY, maxY } = bounds(face.outline.outer);
      const y0 = Math.floor(minY);
      const frame = { width: Math.ceil(maxX), height: Math.ceil(maxY) - y0, y0 };
      face.picture = { file: key, mmPerPx: 1, x0: 0, ...frame };
      faces.set(key, { frame, z: (slab.place - MIDDLE) * SAWN });
    }
  }
  return {
    job,
    pictureOf(key) {
      const face = faces.get(key);
      if (!face) throw new RangeError(`no face ${key}`);
      return { ...helixFace(face.z, face.frame), y0: face.frame.y0 };
    },
  };
}
