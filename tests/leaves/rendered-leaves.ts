import { rectangle } from '../../src/geometry';
import type { Leaf } from '../../src/leaves';
import { seededRandom } from '../../src/search';

/** A board invented for the tests: its figure at any point of it, so that the truth about every leaf is known. */
interface Board {
  readonly length: number;
  readonly width: number;
  /** How far the figure moves from one leaf to the next, mm along and across. */
  readonly drift: readonly [number, number];
}

/** Sum of waves with random phases: wavering growth rings nearly along x, with a slow change of colour and short fleck. */
function figure(seed: number): (x: number, y: number) => number {
  const { next: random } = seededRandom(seed);
  const bends = Array.from({ length: 6 }, () => ({
    fx: (0.5 + random() * 2.5) / 900,
    fy: random() / 250,
    a: 6 + random() * 10,
    p: random() * 2 * Math.PI,
  }));
  const steps = Array.from({ length: 40 }, () => 5 + random() * 9);
  const shades = steps.map(() => 40 * (random() - 0.5));
  const total = steps.reduce((sum, s) => sum + s, 0);
  return (x, y) => {
    let ring = y;
    for (const { fx, fy, a, p } of bends) ring += a * Math.sin(2 * Math.PI * (fx * x + fy * y) + p);
    let at = ((ring % total) + total) % total;
    let k = 0;
    while (at > (steps[k] as number)) at -= steps[k++] as number;
    // Each ring darkens towards its end, as late wood does.
    const late = (at / (steps[k] as number)) ** 3;
    return 150 + (shades[k] as number) - 50 * late;
  };
}

/**
 * Leaves of one board in sawing order, at 1 mm a pixel: leaf k shows the board's figure moved by k times the drift, so the place (x, y) of
 * the first leaf is found at (x, y) + k drift in leaf k.
 */
export function leafPictures(count: number, { length, width, drift }: Board, seed = 1): Leaf[] {
  const at = figure(seed);
  const { next: random } = seededRandom(seed + 1);
  return Array.from({ length: count }, (_, k) => {
    const data = new Uint8ClampedArray(length * width * 3);
    for (let r = 0; r < width; r++) {
      for (let c = 0; c < length; c++) {
        const tone = at(c + 0.5 - k * drift[0], r + 0.5 - k * drift[1]) + 4 * (random() - 0.5);
        data.set([tone, tone * 0.78, tone * 0.55], (r * length + c) * 3);
      }
    }
    return {
      id: `leaf-${k + 1}`,
      picture: { raster: { width: length, height: width, channels: 3, data }, mmPerPx: 1, x0: 0, y0: 0 },
      outline: rectangle<'face'>(0, 0, length, width),
      defects: [],
    };
  });
}
