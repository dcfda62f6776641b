import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import sharp, { type Sharp } from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { bestShot, type Cv, hintOf, type Look, lookAt, remarksOn } from '../../src/photo';
import { blurOf } from '../../src/photo/blur';
import type { Corners } from '../../src/photo/quad';
import { tiltOf } from '../../src/photo/tilt';
import type { Raster } from '../../src/raster';
import { openCv } from './opencv';
import { type Eye, pixelOf } from './scene';

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

const PREVIEW = { side: 80, preview: true };
const CARDS = { cards: true };
/** A frame of a preview, px. */
const FRAME = { width: 640, height: 480 };

async function rasterOf(image: Sharp): Promise<Raster> {
  const { data, info } = await image.removeAlpha().raw().toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, channels: 3, data };
}

/** A demo photo, or a part of it, as a preview shows it. */
async function frame(name: string, part?: { left: number; width: number }): Promise<Sharp> {
  const photo = sharp(`demo-images/${name}.jpg`);
  const cut = part ? photo.extract({ top: 0, height: 3000, ...part }) : photo;
  return sharp(await cut.resize(640).png({ compressionLevel: 0 }).toBuffer());
}
const glance = async (image: Sharp): Promise<Look> => lookAt(cv, await rasterOf(image), PREVIEW);

describe('a look at a preview', () => {
  it('sees cards, the whole slab and the true tilt of the demo photos, and finds nothing amiss', async () => {
    for (const name of ['slab-2', 'slab-3']) {
      const look = await glance(await frame(name));
      const truth = JSON.parse(readFileSync(`tests/fixtures/truth/${name}.json`, 'utf8'));
      expect(look.cards).toEqual([0, 1, 2, 3]);
      expect(look.cutOff).toEqual([]);
      expect(Math.abs((look.tilt as number) - truth.camera.tilt_deg)).toBeLessThan(6);
      expect(hintOf(look, CARDS)).toMatchObject({ good: true });
    }
  });

  it('says on which side the slab runs out of the picture', async () => {
    const left = await glance(await frame('slab-2', { left: 900, width: 3100 }));
    expect(left.cutOff).toEqual(['left']);
    expect(hintOf(left, CARDS)).toMatchObject({ good: false, says: expect.stringContaining('(left)') });
    const right = await glance(await frame('slab-2', { left: 0, width: 3000 }));
    expect(right.cutOff).toEqual(['right']);
  });

  it('says what light and hand do wrong', async () => {
    const says = async (image: Sharp) => hintOf(await glance(image), CARDS).says;
    const whole = () => frame('slab-2');
    expect(await says((await whole()).linear(0.25))).toMatch(/^Too dark/);
    expect(await says((await whole()).linear(3.5))).toMatch(/^Too bright/);
    expect(await says((await whole()).blur(2))).toMatch(/^Blurred/);
    // Grey walls all round: too far away for any card to be read.
    const far = sharp(
      await (await whole()).extend({ top: 480, bottom: 480, left: 640, right: 640, background: '#999' }).toBuffer(),
    );
    expect(await says(far.resize(640))).toMatch(/^No cards/);
  });

  it('tells how slanted a camera is held, within some degrees, whatever its lens and however the cards lie', () => {
    const half = 40;
    const corners = [
      [-half, -half],
      [half, -half],
      [half, half],
      [-half, half],
    ] as const;
    const middles = [
      [-1000, -200],
      [1000, -210],
      [1020, 190],
      [-1010, 200],
    ] as const;
    const angle = fc.double({ min: -42, max: 42, noNaN: true });
    const lens = fc.double({ min: 0.68, max: 0.92, noNaN: true });
    const turn = fc.double({ min: 0, max: 6.28, noNaN: true });
    fc.assert(
      fc.property(angle, angle, lens, turn, (pitch, yaw, share, radians) => {
        const focal = 640 * share;
        const eye: Eye = { ...FRAME, focal, k1: -0.05, at: [0, 0], distance: 3000, pitch, yaw, roll: 8 };
        const [c, s] = [Math.cos(radians), Math.sin(radians)];
        const cards = middles.map(([x, y]) =>
          corners.map(([u, v]) => pixelOf(eye, [x + c * u - s * v, y + s * u + c * v])),
        ) as unknown as Corners[];
        const upright = Math.cos((pitch * Math.PI) / 180) * Math.cos((yaw * Math.PI) / 180);
        const off = (tiltOf(FRAME, cards) as number) - (Math.acos(upright) * 180) / Math.PI;
        expect(Math.abs(off)).toBeLessThan(6);
      }),
    );
    expect(tiltOf(FRAME, [])).toBeNull();
  });

  it('asks who holds the camera too slanted to hold it higher, once nothing worse is amiss', async () => {
    const look = await glance(await frame('slab-2'));
    expect(hintOf({ ...look, tilt: 58 }, CARDS).says).toMatch(/slanted/);
    expect(hintOf({ ...look, tilt: 58, cards: [] }, CARDS).says).toMatch(/^No cards/);
    expect(hintOf({ ...look, cards: [] }, { cards: false }).good).toBe(true);
  });
});

describe('blur', () => {
  it('grows with every blurring, hardly with the exposure, and in one direction as in both', async () => {
    const grey = async (image: Sharp): Promise<Raster> => {
      const { data, info } = await image.greyscale().raw().toBuffer({ resolveWithObject: true });
      return { width: info.width, height: info.height, channels: 1, data };
    };
    const all = () => true;
    const part = () => sharp('demo-images/slab-2.jpg').extract({ left: 1500, top: 1200, width: 500, height: 300 });
    const sharpest = blurOf(await grey(part()), all);
    let last = sharpest;
    for (const sigma of [0.8, 1.5, 2.5, 4]) {
      const blur = blurOf(await grey(part().blur(sigma)), all);
      expect(blur).toBeGreaterThan(last);
      last = blur;
    }
    expect(last).toBeLessThanOrEqual(1);
    expect(Math.abs(blurOf(await grey(part().linear(0.6)), all) - sharpest)).toBeLessThan(0.08);
    const moved = part().convolve({
      width: 9,
      height: 3,
      kernel: [...Array(9).fill(0), ...Array(9).fill(1), ...Array(9).fill(0)],
    });
    expect(blurOf(await grey(moved), all)).toBeGreaterThan(sharpest + 0.1);
  });
});

describe('the best of three shots', () => {
  it('is the sharp whole one, and of the others it is said what ails them', async () => {
    const size = { width: 1400 };
    const whole = () => sharp('demo-images/slab-2.jpg').resize(size);
    const soft = sharp(await whole().png({ compressionLevel: 0 }).toBuffer()).blur(1.5);
    const cut = sharp('demo-images/slab-2.jpg').extract({ left: 900, top: 0, width: 3100, height: 3000 }).resize(size);
    const looks: Look[] = [];
    for (const image of [soft, cut, whole()]) looks.push(lookAt(cv, await rasterOf(image), { side: 80 }));
    expect(bestShot(looks)).toBe(2);
    const [first, second, third] = looks.map((look) => remarksOn(look, looks, CARDS).join(' '));
    expect(first).toMatch(/softer|Blur/);
    expect(second).toContain('runs out of it (left)');
    expect(second).toContain('2 cards');
    expect(third).toContain('4 cards.');
    // A burnt one yields to one that is as sharp.
    const [, , good] = looks as [Look, Look, Look];
    expect(bestShot([{ ...good, burnt: 0.4 }, good])).toBe(1);
    // One whose cards cannot be measured by yields to any.
    expect(bestShot([{ ...good, blur: 0, poor: [0, 1] }, good])).toBe(1);
  });
});
