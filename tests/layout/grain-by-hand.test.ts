import { expect, it } from 'vitest';
import { type FaceFeatures, readEdge } from '../../src/grain';
import { ANGLES } from '../../src/grain/side-features';
import { faceKey, type Job } from '../../src/job';
import { grainOfPairs } from '../../src/layout/seam-grain';
import { prepareStock } from '../../src/layout/stock';
import { helixFace } from '../support/helix-log';
import { wavyJob } from '../support/wavy-slabs';

const SIZE = { width: 900, height: 260, y0: 40 };
const shape = { length: SIZE.width, width: SIZE.height, swing: 0 };

/** Both slabs of a job as seams read them. */
function read(job: Job): readonly [FaceFeatures, FaceFeatures] {
  const pictures = new Map(
    ['slab-1', 'slab-2'].map((slab, i) => [faceKey('log', slab, 'top'), helixFace(-70 + 55 * i, SIZE)]),
  );
  const [front, back] = prepareStock(job, pictures);
  const looked = front && back && grainOfPairs(3)(front, back);
  if (!looked) throw new Error('Both faces have pictures.');
  return looked;
}

const degreesAt = (face: FaceFeatures, x: number, y: number): number =>
  readEdge(face, x, y, x + 5, y, true).raw[ANGLES[0]] as number;

it.runIf(process.env.SLOW)(
  'grain drawn on a slab by hand is what the search for its seam goes by, on that slab alone',
  () => {
    const job = wavyJob([shape, shape], {});
    const before = read(job);
    const slab = job.flitches.log?.slabs['slab-2'];
    if (!slab) throw new Error('It has two slabs.');
    slab.faces.top = {
      ...slab.faces.top,
      grainLines: [
        [
          [400, 118],
          [500, 138],
        ],
      ],
    };
    const after = read(job);
    const drawn = (Math.atan2(20, 100) * 180) / Math.PI;
    expect(degreesAt(after[1], 450, 120)).toBeCloseTo(drawn, 0);
    expect(Math.abs(degreesAt(before[1], 450, 120) - drawn)).toBeGreaterThan(5);
    expect(degreesAt(after[0], 450, 120)).toBe(degreesAt(before[0], 450, 120));
  },
);
