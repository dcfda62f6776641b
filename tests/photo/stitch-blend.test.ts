import { expect, test } from 'vitest';
import type { Point, Segment } from '../../src/geometry';
import { type FaceFeatures, faceFeatures, scoreJoint } from '../../src/grain';
import type { Calibration } from '../../src/job';
import { type FaceRead, measure, readFace, readFaceOfShots, type Shot } from '../../src/photo';
import { type Raster, rasterOf } from '../../src/raster';
import { helixFace } from '../support/helix-log';
import { cardsAt, LEFT, LENGTH, PLACES, RIGHT, SIDE, WIDTH } from './drawn-ends';
import { openCv } from './opencv';
import { type Eye, pixelOf } from './scene';
import { shoot } from './two-shots';

const KERF = 3;
/** Kerfs run along the slab so far, mm, across the middle, where one photo passes into the other. */
const [FROM, TO] = [480, 1120];
/** A camera that sees all of the slab, in as much detail. */
const WIDE: Eye = { ...LEFT, width: 2600, at: [800, 0] };
const SCALE = { kind: 'markers', dictionary: '4x4_50', side: SIDE } as const;

function opaque({ width, height, data }: Raster): Raster {
  const out = new Uint8ClampedArray(4 * width * height).fill(255);
  for (let i = 0; i < width * height; i++) out.set(data.subarray(3 * i, 3 * i + 3), 4 * i);
  return rasterOf(width, height, 4, out);
}

type Seen = readonly [by: Calibration, eye: Eye];

/** A face, and where on it a spot of the drawn slab lies. */
interface Read {
  readonly features: FaceFeatures;
  to(x: number, y: number): Point<'face'>;
}

/** Faces made comparable, each with the photo that shows its one end and that which shows the other. */
function comparable(faces: readonly (readonly [Pick<FaceRead, 'picture' | 'traced'>, Seen, Seen])[]): Read[] {
  const features = faceFeatures(
    faces.map(([{ picture, traced }]) => ({
      picture,
      outline: traced.outline,
      defects: traced.hidden.map((polygon) => ({ polygon })),
    })),
    { kerf: KERF },
  );
  return faces.map(([, near, far], i) => {
    const [a, b] = [placeOf(near, [100, 0]), placeOf(far, [1500, 0])];
    const [c, s] = [(b[0] - a[0]) / 1400, (b[1] - a[1]) / 1400];
    return {
      features: features[i] as FaceFeatures,
      to: (x, y) => [a[0] + c * (x - 100) - s * y, a[1] + s * (x - 100) + c * y],
    };
  });
}

/** Mean blend of kerfs over the middle, one side of each taken from one face and the other from another, or the same. */
function blendOfKerfs(one: Read, other: Read): number {
  const blends: number[] = [];
  for (let y = -150; y <= 150; y += 6) {
    const [a, b]: Segment<'face'>[] = [
      [one.to(FROM, y), one.to(TO, y)],
      [other.to(FROM, y + KERF), other.to(TO, y + KERF)],
    ];
    if (!a || !b) continue;
    blends.push(
      scoreJoint(one.features, { line: a, keeps: 'right' }, other.features, { line: b, keeps: 'left' }).blend,
    );
  }
  return blends.reduce((sum, blend) => sum + blend, 0) / blends.length;
}

function placeOf([by, eye]: Seen, spot: readonly [number, number]): Point<'face'> {
  const at = measure(by).place(pixelOf(eye, spot));
  if (!at) throw new Error('not seen');
  return at;
}

test.runIf(process.env.SLOW)(
  'wood blends over the line where one photo passes into the other as it does in one picture',
  async () => {
    const { cv } = await openCv();
    const wood = { ...helixFace(-70, { width: LENGTH, height: WIDTH, y0: -WIDTH / 2 }), y0: -WIDTH / 2 };
    const face = { ...wood, raster: opaque(wood.raster) };
    const cards = cardsAt(cv, PLACES);
    const shots: Shot[] = [
      { name: 'left', scale: SCALE, photo: shoot(LEFT, { face, cards }) },
      { name: 'right', scale: SCALE, photo: shoot(RIGHT, { face, cards, light: [0.8, 0.72, 0.62, -0.2, 0.15] }) },
    ];
    const two = await readFaceOfShots(cv, shots);
    const [left, right] = two.calibrations;
    const one = await readFace(cv, shoot(WIDE, { face, cards }), SCALE);
    const [joined, whole] = comparable([
      [two, [left as Calibration, LEFT], [right as Calibration, RIGHT]],
      [one, [one.calibration, WIDE], [one.calibration, WIDE]],
    ]) as [Read, Read];
    const usual = blendOfKerfs(whole, whole);
    // The measure tells wood that does not belong together.
    const aside: Read = { ...whole, to: (x, y) => whole.to(x, y + (x > 800 ? 12 : 0)) };
    expect(blendOfKerfs(whole, aside)).toBeLessThan(usual - 0.1);
    expect(Math.abs(blendOfKerfs(joined, joined) - usual)).toBeLessThan(0.1);
    // Held against the one photo, a step in place or in light where the photos meet would show.
    expect(Math.abs(blendOfKerfs(joined, whole) - usual)).toBeLessThan(0.1);
    expect(Math.abs(blendOfKerfs(whole, joined) - usual)).toBeLessThan(0.1);
  },
  300_000,
);
