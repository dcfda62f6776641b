import Color from 'colorjs.io';
import { describe, expect, it } from 'vitest';
import { labPlanes, lightness, rasterOf } from '../../src/raster';
import { labOfLinear } from '../../src/raster/lab';
import { seededRandom } from '../../src/search';
import published from '../fixtures/ciede2000.json';

type Lab = [number, number, number];
/** The difference knows no white; the library takes it in its D50 space, so the three numbers are given as of that. */
const differenceOf = (p: Lab, q: Lab): number => new Color('lab', p).deltaE(new Color('lab', q), '2000');

/** Our CIELAB of a colour that the library turned into linear sRGB, out of gamut or not. */
function ours(lab: Lab): Lab {
  const [r, g, b] = new Color('lab-d65', lab).to('srgb-linear').coords as Lab;
  const out: Lab = [0, 0, 0];
  labOfLinear(r, g, b, out);
  return out;
}

describe('CIELAB by the published CIEDE2000 pairs (Sharma, Wu and Dalal 2005)', () => {
  const pairs = published.pairs.map((pair) => ({ ...pair, first: pair.first as Lab, second: pair.second as Lab }));

  it('the library that the next is checked with gives all 34 differences', () => {
    expect(pairs).toHaveLength(34);
    for (const { first, second, difference } of pairs) expect(differenceOf(first, second)).toBeCloseTo(difference, 4);
  });

  it('both colours of each pair come back from linear light as they were', () => {
    for (const { first, second } of pairs) {
      for (const lab of [first, second]) {
        const back = ours(lab);
        for (const k of [0, 1, 2]) expect(back[k]).toBeCloseTo(lab[k] as number, 3);
        expect(differenceOf(back, lab)).toBeLessThan(1e-4);
      }
    }
  });

  it('differences between what came back are those published', () => {
    for (const { first, second, difference } of pairs) {
      const off = Math.abs(differenceOf(ours(first), ours(second)) - difference);
      // The formula jumps by .06 between pairs 14 and 15, a turn of the hue by .002 degrees apart: there any rounding may take either side.
      expect(off).toBeLessThan(difference === 4.8045 ? 0.06 : 2e-4);
    }
  });
});

it('CIELAB of whole pictures is the library’s, to a twentieth of what an eye can tell', () => {
  const random = seededRandom(4);
  const data = Uint8Array.from({ length: 3 * 400 }, () => Math.floor(256 * random.next()));
  const picture = rasterOf(20, 20, 3, data);
  const { L, a, b } = labPlanes(picture);
  const light = lightness(picture).data;
  for (let i = 0; i < 400; i++) {
    const srgb = [0, 1, 2].map((k) => (data[3 * i + k] as number) / 255) as Lab;
    const lab = new Color('srgb', srgb).to('lab-d65').coords as Lab;
    expect(differenceOf([L.data[i], a.data[i], b.data[i]] as Lab, lab)).toBeLessThan(0.05);
    expect(light[i]).toBeCloseTo(lab[0], 1);
  }
});
