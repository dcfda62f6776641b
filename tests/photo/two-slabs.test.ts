import { beforeAll, describe, expect, it } from 'vitest';
import { centroid, distance, type Point, ringArea } from '../../src/geometry';
import { emptyFace, type Photo, type Scale } from '../../src/job';
import { type Cv, type FaceRead, measure, readFace, strokesMoved, strokesOnPhotos } from '../../src/photo';
import type { Raster } from '../../src/raster';
import { openCv } from './opencv';
import { FAR, FLOOR, NEAR, SLABS, shootTwoSlabs } from './two-slabs';

const scale: Scale = { kind: 'markers', dictionary: '4x4_50', side: 80 };
let cv: Cv;
let raster: Raster;
const tapped = (slabAt?: Point<'photo'>, more: Partial<Photo> = {}): Photo => ({
  id: 'p',
  file: 'two.jpg',
  width: raster.width,
  height: raster.height,
  scale,
  calibration: null,
  ...(slabAt && { slabAt }),
  ...more,
});
const readBy = (slabAt?: Point<'photo'>): Promise<FaceRead> =>
  readFace(cv, raster, scale, { strokes: strokesOnPhotos([tapped(slabAt)], emptyFace().strokes)[0] ?? [] });

beforeAll(async () => {
  ({ cv } = await openCv());
  raster = shootTwoSlabs(cv);
});

describe('a photo of two slabs', () => {
  it('asks which is meant, where a person can answer', async () => {
    await expect(readBy()).rejects.toMatchObject({ name: 'InputProblem', where: '/strokes' });
  });

  it.runIf(process.env.SLOW)(
    'is traced along the slab that was tapped, and ends before the floor between them',
    async () => {
      const [far, near] = [await readBy(FAR), await readBy(NEAR)];
      for (const { traced } of [far, near]) {
        expect(Math.abs(ringArea(traced.outline.outer) / (SLABS.length * SLABS.width) - 1)).toBeLessThan(0.01);
        expect(traced.others).toHaveLength(1);
      }
      // Both were measured by the same cards, so they lie in one frame, as far from each other as they were laid.
      const [a, b] = [far, near].map(({ traced }) => centroid(traced.outline.outer)) as [Point<'face'>, Point<'face'>];
      expect(Math.abs(distance(a, b) - SLABS.width - SLABS.gap)).toBeLessThan(2);
    },
  );

  it('is refused where the floor was tapped, not traced as one large slab', async () => {
    await expect(readBy(FLOOR)).rejects.toMatchObject({
      name: 'InputProblem',
      message: expect.stringMatching(/what the slab lies on/),
    });
  });
});

describe('strokes on the photos of a face', () => {
  it.runIf(process.env.SLOW)(
    'go to the photo that shows most of them, where they were drawn, and stay there when it is measured anew',
    async () => {
      const { calibration } = await readBy(FAR);
      const view = measure(calibration);
      const at = (px: Point<'photo'>) => view.place(px) as Point<'face'>;
      const px: Point<'photo'>[] = [
        [700, 400],
        [900, 430],
      ];
      const strokes = [{ kind: 'not wood' as const, line: px.map(at) }];
      // The second photo is the same one cut down to its top left corner: it shows neither end.
      const part = tapped(undefined, { calibration, width: 300, height: 300 });
      const [whole, corner] = strokesOnPhotos([tapped(NEAR, { calibration }), part], strokes);
      expect(corner).toEqual([]);
      expect(whole?.map(({ kind }) => kind)).toEqual(['wood', 'not wood']);
      whole?.[1]?.line.forEach((to, i) => {
        expect(Math.hypot(to[0] - px[i]![0], to[1] - px[i]![1])).toBeLessThan(0.01);
      });
      expect(strokesOnPhotos([part], strokes)).toEqual([[]]);
      expect(strokesOnPhotos([tapped()], strokes)).toEqual([[]]);
      const [moved] = strokesMoved(strokes, calibration, calibration);
      moved?.line.forEach((to, i) => {
        expect(distance(to, strokes[0]!.line[i]!)).toBeLessThan(0.01);
      });
      expect(moved?.kind).toBe('not wood');
    },
  );
});
