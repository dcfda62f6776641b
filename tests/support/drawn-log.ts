import type { Polygon } from '../../src/geometry';
import { type FacePicture, rasterOf } from '../../src/raster';
import { seededRandom } from '../../src/search';

/**
 * Faces of invented logs, no two alike: the pith wanders, the log tapers, rings are out of round and of all widths, the sapwood is pale, pores streak
 * along the grain, and now and then a knot bends the rings. Unlike the helical log they have no line on which all is right: what is best must be found.
 */

type Swing = (x: number) => number;

/** Sum of a few waves of random length and phase; `size` is the height of the longest, mm. */
function swing(random: () => number, size: number, longest: number): Swing {
  const waves = [1, 0.4, 0.15].map((share, i) => ({
    height: size * share * (0.5 + random()),
    per: (2 * Math.PI) / ((longest / 2.3 ** i) * (0.8 + 0.4 * random())),
    from: 7 * random(),
  }));
  return (x) => waves.reduce((y, { height, per, from }) => y + height * Math.sin(per * x + from), 0);
}

export interface DrawnFace {
  readonly picture: FacePicture;
  readonly outline: Polygon<'face'>;
}

/** A log of that seed; asks for the face sawn at height z over the middle, mm. 1 mm a pixel. */
export function drawnLog(seed: number, length: number): (z: number) => DrawnFace {
  const { next: random } = seededRandom(seed);
  const radius = 190 + 60 * random();
  const taper = 0.01 * random();
  const [pithY, pithZ] = [swing(random, 14, 1500), swing(random, 14, 1300)];
  const [wide, look] = [2 + 3 * random(), 60 + 80 * random()];
  const edges = [0];
  while ((edges.at(-1) as number) < 1.5 * radius) edges.push((edges.at(-1) as number) + wide * (0.5 + random()));
  const shades = edges.map(() => look + 40 * random());
  const lobes = [2, 3, 5].map((n) => ({ n, size: (0.1 * random()) / n, from: 7 * random() }));
  const sapwood = 20 + 20 * random();
  const tint = [0.7 + 0.15 * random(), 0.45 + 0.2 * random()] as const;
  const knots = Array.from({ length: Math.floor(3 * random()) }, () => ({
    x: length * random(),
    angle: 2 * Math.PI * random(),
    half: 12 + 14 * random(),
  }));
  const round = (angle: number) => lobes.reduce((f, { n, size, from }) => f + size * Math.sin(n * angle + from), 1);

  return (z) => {
    const { next: noise } = seededRandom(seed * 1000 + Math.round(z) + 500);
    const half = Math.ceil(1.2 * radius);
    const height = 2 * half;
    const data = new Uint8Array(3 * length * height);
    const [upper, lower] = [Array.from({ length }, () => half), Array.from({ length }, () => half)];
    const pores = Float32Array.from({ length: height }, () => 0);
    for (let c = 0; c < length; c++) {
      const [py, pz] = [pithY(c), z - pithZ(c)];
      for (let r = 0; r < height; r++) {
        const y = r + 0.5 - half;
        const angle = Math.atan2(pz, y - py);
        let depth = Math.hypot(y - py, pz) / round(angle);
        for (const knot of knots) {
          // Rings climb along a branch and die away beside it.
          const beside = Math.hypot(c - knot.x, depth * Math.sin(angle - knot.angle));
          if (Math.cos(angle - knot.angle) > 0)
            depth += 3 * knot.half * Math.exp(-((beside / knot.half) ** 2) / 2) * (depth / radius);
        }
        const under = radius - taper * c - depth;
        if (under > 0) {
          upper[c] = Math.min(upper[c] as number, r);
          lower[c] = r + 1;
        }
        const i = Math.max(0, edges.findIndex((edge) => edge > depth) - 1);
        const [from, to] = [edges[i] as number, edges[i + 1] as number];
        pores[r] = 0.9 * (pores[r] as number) + 6 * (noise() - 0.5);
        const pale = under < sapwood ? 50 : 0;
        const value = (shades[i] as number) + pale - 40 * ((depth - from) / (to - from)) ** 3 + (pores[r] as number);
        data.set(
          [value, tint[0] * value, tint[1] * value].map((v) => Math.max(0, Math.min(255, v))),
          3 * (r * length + c),
        );
      }
    }
    const along = Array.from({ length: Math.floor(length / 10) + 1 }, (_, k) => Math.min(length - 1, 10 * k));
    const outline: Polygon<'face'> = [
      ...along.map((x) => [x, upper[x] as number] as const),
      ...along.reverse().map((x) => [x, lower[x] as number] as const),
    ];
    return { picture: { raster: rasterOf(length, height, 3, data), mmPerPx: 1, x0: 0, y0: 0 }, outline };
  };
}
