import { expect, it } from 'vitest';
import { faceKey } from '../../src/job';
import { searchedTop } from '../../src/layout/sawn';
import { grainOfPairs } from '../../src/layout/seam-grain';
import { seamLook } from '../../src/layout/seam-look';
import { seamPlaces } from '../../src/layout/seam-places';
import { prepareStock } from '../../src/layout/stock';
import { unwatched } from '../../src/search';
import { helixFace } from '../support/helix-log';
import { onlyTop } from '../support/places';
import { wavyJob } from '../support/wavy-slabs';

const SIZE = { width: 700, height: 260, y0: 40 };
const shape = { length: SIZE.width, width: SIZE.height, swing: 2 };

it('seams lie where the shape lays them when the search comes to none, the best look first, and each says how it looks', async () => {
  const job = wavyJob([shape, shape], { length: 600, depth: [300, 340], seams: 1, leastStrip: 80 });
  const pictures = new Map(
    ['slab-1', 'slab-2'].map((slab, i) => [faceKey('log', slab, 'top'), helixFace(-70 + 55 * i, SIZE)]),
  );
  const [front, back] = prepareStock(job, pictures);
  const looks = front && back && grainOfPairs(3)(front, back);
  if (!looks) throw new Error('Both faces have pictures.');
  // Along this line, which was known before, no strip is left.
  const edge = [
    [50, 4],
    [650, 4],
  ] as const;
  const known = [{ front: edge, back: edge }];
  const seams = await seamPlaces(front, back, looks, searchedTop(onlyTop(job)), job.shop, unwatched(), known);
  expect(seams.length).toBeGreaterThan(0);
  const blends = seams.map(({ blend }) => blend);
  expect(blends).toEqual(seams.map((seam) => seamLook(looks)(seam).blend));
  expect(blends).toEqual([...blends].sort((p, q) => (q ?? -1) - (p ?? -1)));
});
