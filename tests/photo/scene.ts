import type { Cv } from '../../src/photo';
import type { Raster } from '../../src/raster';

/**
 * A camera and a picture of our own making, written apart from the room that they test: rotation by angles about the axes, distortion
 * undone by bisection, every pixel shaded by shooting rays at the plane.
 */
export interface Eye {
  readonly width: number;
  readonly height: number;
  readonly focal: number;
  readonly k1: number;
  readonly k2?: number;
  readonly centre?: readonly [number, number];
  /** The point of the face in the middle of the view, distance to it, and how the camera is turned, degrees. */
  readonly at: readonly [number, number];
  readonly distance: number;
  readonly pitch: number;
  readonly yaw: number;
  readonly roll: number;
}

type Vec = readonly [number, number, number];

const turnOf = (eye: Eye): readonly [Vec, Vec, Vec] => {
  const [a, b, c] = [eye.pitch, eye.yaw, eye.roll].map((d) => (d * Math.PI) / 180) as [number, number, number];
  const rx: Vec[] = [
    [1, 0, 0],
    [0, Math.cos(a), -Math.sin(a)],
    [0, Math.sin(a), Math.cos(a)],
  ];
  const ry: Vec[] = [
    [Math.cos(b), 0, Math.sin(b)],
    [0, 1, 0],
    [-Math.sin(b), 0, Math.cos(b)],
  ];
  const rz: Vec[] = [
    [Math.cos(c), -Math.sin(c), 0],
    [Math.sin(c), Math.cos(c), 0],
    [0, 0, 1],
  ];
  const times = (p: readonly Vec[], q: readonly Vec[]): Vec[] =>
    p.map((row) => [0, 1, 2].map((j) => row.reduce((s, v, k) => s + v * (q[k] as Vec)[j as 0], 0)) as unknown as Vec);
  return times(times(rx, ry), rz) as unknown as readonly [Vec, Vec, Vec];
};

const centreOf = (eye: Eye) => eye.centre ?? [(eye.width - 1) / 2, (eye.height - 1) / 2];

interface Pose {
  readonly R: readonly [Vec, Vec, Vec];
  readonly t: Vec;
}
const poses = new WeakMap<Eye, Pose>();

/** Rotation row by row and shift, as OpenCV takes them: X_camera = R X + t. */
export function poseOf(eye: Eye): Pose {
  const known = poses.get(eye);
  if (known) return known;
  const R = turnOf(eye);
  const t = R.map((row, i) => -(row[0] * eye.at[0] + row[1] * eye.at[1]) + (i === 2 ? eye.distance : 0));
  const pose: Pose = { R, t: t as unknown as Vec };
  poses.set(eye, pose);
  return pose;
}

/** The pixel of a point `out` mm over the face, towards the camera. */
export function pixelOf(eye: Eye, [x, y]: readonly [number, number], out = 0): [number, number] {
  const { R, t } = poseOf(eye);
  const [X, Y, Z] = R.map((row, i) => row[0] * x + row[1] * y - row[2] * out + (t[i] as number)) as [
    number,
    number,
    number,
  ];
  const [u, v] = [X / Z, Y / Z];
  const rr = u * u + v * v;
  const stretch = 1 + eye.k1 * rr + (eye.k2 ?? 0) * rr * rr;
  const [cx, cy] = centreOf(eye);
  return [eye.focal * u * stretch + (cx as number), eye.focal * v * stretch + (cy as number)];
}

/** The point of the face that a pixel shows. */
export function faceOf(eye: Eye, [u, v]: readonly [number, number]): [number, number] {
  const [cx, cy] = centreOf(eye) as [number, number];
  const [dx, dy] = [(u - cx) / eye.focal, (v - cy) / eye.focal];
  const far = Math.hypot(dx, dy);
  let [low, high] = [0, 3 * far + 1e-9];
  for (let i = 0; i < 60; i++) {
    const r = (low + high) / 2;
    if (r * (1 + eye.k1 * r * r + (eye.k2 ?? 0) * r ** 4) < far) low = r;
    else high = r;
  }
  const shrink = far > 0 ? low / far : 1;
  const { R, t } = poseOf(eye);
  const back = (w: readonly number[]) =>
    [0, 1, 2].map((j) => R.reduce((s, row, i) => s + row[j as 0] * (w[i] as number), 0));
  const ray = back([dx * shrink, dy * shrink, 1]) as [number, number, number];
  const eyeAt = back(t.map((q) => -q)) as [number, number, number];
  const way = -eyeAt[2] / ray[2];
  return [eyeAt[0] + ray[0] * way, eyeAt[1] + ray[1] * way];
}

/** A thing on the face: its share of white paper at a point, 0 to 1, or null for the wood; all of it lies within `reach` of `at`. */
export interface Thing {
  readonly at: readonly [number, number];
  readonly reach: number;
  white(x: number, y: number): number | null;
}

/** A marker's card of 1.4 sides, its white border included, as OpenCV prints that marker. */
export function card(cv: Cv, id: number, side: number, at: readonly [number, number], degrees: number): Thing {
  const dictionary = cv.getPredefinedDictionary(cv.DICT_4X4_50);
  const image = new cv.Mat();
  cv.generateImageMarker(dictionary, id, 6, image, 1);
  const cells = Uint8Array.from(image.data);
  image.delete();
  dictionary.delete();
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const white = (x: number, y: number) => {
    const [dx, dy] = [x - at[0], y - at[1]];
    const [u, v] = [(c * dx + s * dy) / side, (-s * dx + c * dy) / side];
    if (Math.max(Math.abs(u), Math.abs(v)) > 0.7) return null;
    if (Math.max(Math.abs(u), Math.abs(v)) > 0.5) return 1;
    const [column, row] = [Math.min(5, Math.floor((u + 0.5) * 6)), Math.min(5, Math.floor((v + 0.5) * 6))];
    return (cells[row * 6 + column] as number) > 127 ? 1 : 0;
  };
  return { at, reach: side, white };
}

/** A blank sheet. */
export function sheet(width: number, height: number, at: readonly [number, number], degrees: number): Thing {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const white = (x: number, y: number) => {
    const [dx, dy] = [x - at[0], y - at[1]];
    return Math.abs(c * dx + s * dy) <= width / 2 && Math.abs(-s * dx + c * dy) <= height / 2 ? 1 : null;
  };
  return { at, reach: Math.hypot(width, height) / 2, white };
}

/** Light of black ink, of paper and of wood (with a streaky figure), each as a share. */
const light = (things: readonly Thing[], x: number, y: number): number => {
  for (const thing of things) {
    const white = thing.white(x, y);
    if (white !== null) return 0.05 + 0.75 * white;
  }
  return 0.16 + 0.03 * Math.sin(y / 9 + Math.sin(x / 160) * 3);
};

/**
 * A grey photo: light gathered over each pixel and a little beyond (the lens's blur), then put through sRGB's curve, which is what makes
 * white grow over black. `blur` widens the gathering, px; `shade` is the share of the light that falls on a point.
 */
export function photograph(
  eye: Eye,
  things: readonly Thing[],
  blur = 1.4,
  shade?: (x: number, y: number) => number,
): Raster {
  const { width, height } = eye;
  const data = new Uint8ClampedArray(width * height);
  const SUB = 4;
  const offsets = Array.from({ length: SUB }, (_, k) => ((k + 0.5) / SUB - 0.5) * blur);
  const node = raysOf(eye);
  for (let j = 0; j * STEP < height; j++) {
    for (let i = 0; i * STEP < width; i++) {
      // Exact at the corners of a cell of pixels and bilinear between; a pixel's neighbourhood is had by differences.
      const [a, b, c, d] = [node(i, j), node(i + 1, j), node(i, j + 1), node(i + 1, j + 1)];
      const size = Math.max(...[b, c, d].map(([x, y]) => Math.hypot(x - a[0], y - a[1])));
      const about = within(things, a[0], a[1], size + 20);
      for (let row = j * STEP; row < Math.min(height, (j + 1) * STEP); row++) {
        for (let column = i * STEP; column < Math.min(width, (i + 1) * STEP); column++) {
          const [s, t] = [column / STEP - i, row / STEP - j];
          const x = (a[0] * (1 - s) + b[0] * s) * (1 - t) + (c[0] * (1 - s) + d[0] * s) * t;
          const y = (a[1] * (1 - s) + b[1] * s) * (1 - t) + (c[1] * (1 - s) + d[1] * s) * t;
          const near = about.length > 0 ? within(about, x, y, 20) : about;
          let mean = 0;
          if (near.length === 0) mean = light(near, x, y);
          else {
            const across = (k: 0 | 1) => ((b[k] - a[k]) * (1 - t) + (d[k] - c[k]) * t) / STEP;
            const down = (k: 0 | 1) => ((c[k] - a[k]) * (1 - s) + (d[k] - b[k]) * s) / STEP;
            const [ux, uy, vx, vy] = [across(0), across(1), down(0), down(1)];
            for (const dv of offsets)
              for (const du of offsets) mean += light(near, x + ux * du + vx * dv, y + uy * du + vy * dv) / (SUB * SUB);
          }
          mean *= shade?.(x, y) ?? 1;
          data[row * width + column] = 255 * (mean <= 0.0031308 ? 12.92 * mean : 1.055 * mean ** (1 / 2.4) - 0.055);
        }
      }
    }
  }
  return { width, height, channels: 1, data };
}

/** Side of a cell, px. */
const STEP = 8;

const within = (things: readonly Thing[], x: number, y: number, more: number): readonly Thing[] =>
  things.filter((thing) => Math.hypot(x - thing.at[0], y - thing.at[1]) < thing.reach + more);

const rays = new WeakMap<Eye, Map<number, [number, number]>>();

/** The face point at each corner of an eye's cells, found once. */
function raysOf(eye: Eye): (i: number, j: number) => [number, number] {
  const memory = rays.get(eye) ?? new Map<number, [number, number]>();
  rays.set(eye, memory);
  return (i, j) => {
    const key = j * 100_000 + i;
    const known = memory.get(key) ?? faceOf(eye, [i * STEP, j * STEP]);
    memory.set(key, known);
    return known;
  };
}
