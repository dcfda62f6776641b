import type { Point, Polygon } from '../../src/geometry';
import type { Cv } from '../../src/photo';
import { type FacePicture, type Raster, rasterOf } from '../../src/raster';
import { cardsAt, type Place } from './drawn-ends';
import type { Eye } from './scene';
import { shoot } from './two-shots';

/** A photo of leaves on a bench, each a little askew, drawn from formulas: where each one's corners lie is known. mm */
export const LEAF = { length: 620, width: 130, gap: 14 } as const;
/** How each leaf lies askew, degrees. */
const TURNS = [0.3, -0.4, 0.2];
/** A dark knot in the second leaf, in its own frame. */
export const KNOT = { leaf: 1, x: 400, y: 60, radius: 9 } as const;

const CARDS: readonly Place[] = [
  [0, -70, 40, 10],
  [1, LEAF.length + 70, 30, 70],
  [2, -75, 400, -20],
  [3, LEAF.length + 65, 410, 35],
];
const [MARGIN, HEIGHT] = [20, 3 * (LEAF.width + LEAF.gap) + 20];

const EYE: Eye = {
  width: 1100,
  height: 825,
  focal: 1020,
  k1: -0.03,
  k2: 0,
  at: [LEAF.length / 2, HEIGHT / 2],
  distance: 880,
  pitch: 4,
  yaw: -3,
  roll: 1,
};

/** A place in a leaf's own frame, on the bench. */
export function onBench(leaf: number, [x, y]: Point<'face'>): Point<'face'> {
  const [c, s] = [
    Math.cos(((TURNS[leaf] as number) * Math.PI) / 180),
    Math.sin(((TURNS[leaf] as number) * Math.PI) / 180),
  ];
  const [dx, dy] = [x - LEAF.length / 2, y - LEAF.width / 2];
  return [
    LEAF.length / 2 + c * dx - s * dy,
    MARGIN + leaf * (LEAF.width + LEAF.gap) + LEAF.width / 2 + s * dx + c * dy,
  ];
}

export const corners = (leaf: number): Polygon<'face'> =>
  (
    [
      [0, 0],
      [LEAF.length, 0],
      [LEAF.length, LEAF.width],
      [0, LEAF.width],
    ] as const
  ).map((p) => onBench(leaf, p));

function bench(): FacePicture {
  const data = new Uint8ClampedArray(LEAF.length * HEIGHT * 4);
  TURNS.forEach((degrees, leaf) => {
    const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
    const [ox, oy] = onBench(leaf, [LEAF.length / 2, LEAF.width / 2]);
    for (let row = 0; row < HEIGHT; row++) {
      for (let column = 0; column < LEAF.length; column++) {
        const [dx, dy] = [column + 0.5 - ox, row + 0.5 - oy];
        const [x, y] = [c * dx + s * dy + LEAF.length / 2, c * dy - s * dx + LEAF.width / 2];
        if (x < 0 || y < 0 || x > LEAF.length || y > LEAF.width) continue;
        const ring = y + 18 * Math.sin(x / 190 + leaf / 3);
        const figure = 13 * Math.sin(ring / 2.1) + 8 * Math.sin(ring / 5.3);
        const knot = leaf === KNOT.leaf && Math.hypot(x - KNOT.x, y - KNOT.y) < KNOT.radius;
        const wood = knot ? [34, 24, 18] : [140 + figure, 92 + figure, 58 + figure];
        data.set([...wood, 255], 4 * (row * LEAF.length + column));
      }
    }
  });
  return { raster: rasterOf(LEAF.length, HEIGHT, 4, data), mmPerPx: 1, x0: 0, y0: 0 };
}

/** @param upright the camera held upright, so that the leaves stand side by side in the photo */
export const shootLeaves = (cv: Cv, upright: boolean): Raster =>
  shoot(
    { ...EYE, roll: upright ? 91 : 1, ...(upright && { width: EYE.height, height: EYE.width }) },
    {
      face: bench(),
      cards: cardsAt(cv, CARDS),
      floor: 3,
    },
  );
