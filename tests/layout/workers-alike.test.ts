import { describe, expect, it } from 'vitest';
import type { Polygon } from '../../src/geometry';
import { faceKey, type Job } from '../../src/job';
import { groundOf, type Pictures, type SeamTask, seamTask } from '../../src/layout';
import { KnownSeams } from '../../src/layout/known-seams';
import { unwatched } from '../../src/search';
import { helixFace } from '../support/helix-log';
import { wavyJob } from '../support/wavy-slabs';

/** Two slabs of one log with pictures, and two tops that are both to be seamed from them. Invented. */
const SIZE = { width: 800, height: 260, y0: -130 };
const HEIGHTS = [-60, -35];

function invented(): { job: Job; pictures: Pictures } {
  const job = wavyJob(
    HEIGHTS.map(() => ({ length: SIZE.width, width: SIZE.height, swing: 2 })),
    { length: 330, depth: [300, 340], leastStrip: 80 },
  );
  const shelf = { ...(job.tops.counter as Job['tops'][string]), id: 'shelf', name: 'Shelf', length: 250 };
  job.tops = { ...job.tops, shelf };
  job.shop.seam = { slide: 150, angle: 0.5, ends: 'same' };
  // The edges of the wood keep inside the pictures.
  for (const slab of Object.values(job.flitches.log?.slabs ?? {})) {
    const outer = slab.faces.top.outline?.outer as Polygon<'face'>;
    slab.faces.top.outline = { outer: outer.map(([x, y]) => [x, 3 + (y * 254) / 260] as const), holes: [] };
  }
  const pictures = new Map(HEIGHTS.map((z, i) => [faceKey('log', `slab-${i + 1}`, 'top'), helixFace(z, SIZE)]));
  return { job, pictures };
}

const told = <T>(message: T): T => structuredClone(message);

describe('a task', () => {
  it.runIf(process.env.SLOW)(
    'is answered alike by a worker that did others before and by one that did none: all that counts is in the message',
    async () => {
      const { job, pictures } = invented();
      const [old, fresh] = [groundOf(job, pictures), groundOf(job, pictures)];
      const faces = ['log/slab-1/top', 'log/slab-2/top'] as const;
      const before = await seamTask({ faces, top: 'counter', taken: [] }, old, unwatched());
      expect(before.seams.length).toBeGreaterThan(0);
      const seams = new KnownSeams();
      seams.add(faces, before.seams);
      const known = seams.of([faces[1], faces[0]]);
      const next: SeamTask = { faces: [faces[1], faces[0]], top: 'shelf', taken: [], known };
      const answer = await seamTask(told(next), old, unwatched());
      expect(answer.seams.length).toBeGreaterThan(0);
      expect(told(await seamTask(told(next), fresh, unwatched()))).toEqual(told(answer));
    },
  );
});
