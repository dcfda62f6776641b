import type { Point } from '../geometry';

/**
 * A pinhole camera with radial distortion over a slab's face (Brown 1971; Zhang 2000): a face point X = (x, y, z), z into the wood,
 * stands at R X + t before the camera (x right, y down, z forward), is divided by its depth, pushed along its radius r (in units of
 * the focal length) by 1 + k1 r^2 + k2 r^4, and lands at focal * that + centre.
 */
export class Camera {
  /** Number of a camera's parameters. */
  static readonly SIZE = 11;
  /** Steps for differences: radians, mm, px, none, px, none. */
  static readonly STEP: readonly number[] = [1e-6, 1e-6, 1e-6, 1e-3, 1e-3, 1e-3, 1e-2, 1e-6, 1e-2, 1e-2, 1e-6];

  /** Turn from face to camera, row by row. */
  private readonly r: Float64Array;

  /** @param p rotation vector (radians), shift (mm), focal (px), k1, centre (px), k2 */
  constructor(readonly p: Float64Array) {
    this.r = rotation(p[0] as number, p[1] as number, p[2] as number);
  }

  get focal(): number {
    return this.p[6] as number;
  }

  get k1(): number {
    return this.p[7] as number;
  }

  get k2(): number {
    return this.p[10] as number;
  }

  get centre(): Point<'photo'> {
    return [this.p[8] as number, this.p[9] as number];
  }

  /** How steeply depth grows along the face's x and y: 0, 0 for a camera square to it. */
  get slant(): readonly [number, number] {
    return [this.r[6] as number, this.r[7] as number];
  }

  /** Where the camera stands in the face's frame, mm. Its z is negative: the camera is outside the wood. */
  get position(): readonly [number, number, number] {
    const [, , , tx, ty, tz] = this.p as unknown as number[];
    return this.back(-(tx as number), -(ty as number), -(tz as number));
  }

  /** Face (x, y, 1) at depth z to undistorted px, row by row. */
  homography(): number[] {
    const [r, p] = [this.r, this.p];
    const rows: number[] = [];
    for (const [row, focal, centre] of [
      [0, this.focal, this.centre[0]],
      [1, this.focal, this.centre[1]],
      [2, 0, 1],
    ] as const) {
      for (const [of, shift] of [
        [0, 0],
        [1, 0],
        [0, 1],
      ] as const) {
        const own = shift ? (p[3 + row] as number) : (r[row * 3 + of] as number);
        const depth = shift ? (p[5] as number) : (r[6 + of] as number);
        rows.push(row === 2 ? depth : focal * own + centre * depth);
      }
    }
    return rows;
  }

  /** The pixel of a face point at depth z mm. NaN behind the camera and where the distortion folds over. */
  project([x, y]: Point<'face'>, z: number): Point<'photo'> {
    const [r, p] = [this.r, this.p];
    const depth = (r[6] as number) * x + (r[7] as number) * y + (r[8] as number) * z + (p[5] as number);
    const u = ((r[0] as number) * x + (r[1] as number) * y + (r[2] as number) * z + (p[3] as number)) / depth;
    const v = ((r[3] as number) * x + (r[4] as number) * y + (r[5] as number) * z + (p[4] as number)) / depth;
    const rr = u * u + v * v;
    const q = this.k1 * rr + this.k2 * rr * rr;
    if (depth <= 0 || 1 + 3 * this.k1 * rr + 5 * this.k2 * rr * rr <= 0) return [Number.NaN, Number.NaN];
    return [this.focal * u * (1 + q) + this.centre[0], this.focal * v * (1 + q) + this.centre[1]];
  }

  /** The point of the plane at depth z that a pixel shows; null at and above the horizon, and where the lens model ends. */
  place([u, v]: Point<'photo'>, z: number): Point<'face'> | null {
    const dx = (u - this.centre[0]) / this.focal;
    const dy = (v - this.centre[1]) / this.focal;
    const shrink = undistorted(Math.hypot(dx, dy), this.k1, this.k2);
    if (shrink === null) return null;
    const [ax, ay, az] = this.back(dx * shrink, dy * shrink, 1);
    const [cx, cy, cz] = this.position;
    const way = (z - cz) / az;
    return az > 1e-9 && way > 0 ? [cx + ax * way, cy + ay * way] : null;
  }

  /** A camera direction in the face's frame. */
  private back(x: number, y: number, z: number): [number, number, number] {
    const r = this.r;
    return [
      (r[0] as number) * x + (r[3] as number) * y + (r[6] as number) * z,
      (r[1] as number) * x + (r[4] as number) * y + (r[7] as number) * z,
      (r[2] as number) * x + (r[5] as number) * y + (r[8] as number) * z,
    ];
  }

  /** The same camera over a frame whose origin and x axis lie at `at` and `radians` in this one. */
  reframed(at: Point<'face'>, radians: number): Camera {
    const [r, p] = [this.r, this.p];
    const [c, s] = [Math.cos(radians), Math.sin(radians)];
    const turned = new Float64Array(9);
    const moved = Float64Array.from(p);
    for (let i = 0; i < 3; i++) {
      const [a, b] = [r[i * 3] as number, r[i * 3 + 1] as number];
      turned.set([a * c + b * s, -a * s + b * c, r[i * 3 + 2] as number], i * 3);
      moved[3 + i] = a * at[0] + b * at[1] + (p[3 + i] as number);
    }
    moved.set(rotationVector(turned));
    return new Camera(moved);
  }

  /**
   * A camera `height` mm over the face, straight above its origin but for a tilt of `degrees`: the top of the picture turned away from
   * the direction `azimuth` (degrees from +x to +y). The origin stays in the middle of the photo.
   */
  static above(height: number, focal: number, centre: Point<'photo'>, degrees = 0, azimuth = 0): Camera {
    const [t, a] = [(degrees * Math.PI) / 180, (azimuth * Math.PI) / 180];
    return new Camera(
      Float64Array.from([-Math.sin(a) * t, Math.cos(a) * t, 0, 0, 0, height, focal, 0, centre[0], centre[1], 0]),
    );
  }

  /** The camera that sees a plane by a homography (face mm to px, row by row), its lens being known. */
  static fromHomography(h: readonly number[], focal: number, centre: Point<'photo'>): Camera {
    const column = (k: number): [number, number, number] => {
      const w = h[6 + k] as number;
      return [((h[k] as number) - centre[0] * w) / focal, ((h[3 + k] as number) - centre[1] * w) / focal, w];
    };
    let [a, b, t] = [column(0), column(1), column(2)];
    const size = Math.sqrt(Math.hypot(...a) * Math.hypot(...b)) * Math.sign(t[2] || 1);
    const over = (q: [number, number, number]): [number, number, number] => [q[0] / size, q[1] / size, q[2] / size];
    [a, b, t] = [over(a), over(b), over(t)];
    // Nearest orthonormal pair: share the error between both axes.
    const sum = unit([a[0] + b[0], a[1] + b[1], a[2] + b[2]]);
    const c = unit(cross(a, b));
    const side = cross(c, sum);
    const x = unit([sum[0] - side[0], sum[1] - side[1], sum[2] - side[2]]);
    const y = cross(c, x);
    const turn = Float64Array.from([x[0], y[0], c[0], x[1], y[1], c[1], x[2], y[2], c[2]]);
    return new Camera(Float64Array.from([...rotationVector(turn), ...t, focal, 0, centre[0], centre[1], 0]));
  }
}

/** How much a distorted radius shrinks to its undistorted one; null beyond the fold of the model. */
function undistorted(distorted: number, k1: number, k2: number): number | null {
  if (distorted === 0) return 1;
  let r = distorted;
  for (let i = 0; i < 30; i++) {
    const rr = r * r;
    const slope = 1 + 3 * k1 * rr + 5 * k2 * rr * rr;
    if (slope <= 0.02) return null;
    const step = (r * (1 + k1 * rr + k2 * rr * rr) - distorted) / slope;
    r -= step;
    if (Math.abs(step) < 1e-13) break;
  }
  return Math.abs(r * (1 + k1 * r * r + k2 * r ** 4) - distorted) < 1e-9 ? r / distorted : null;
}

/** Rotation matrix of a rotation vector (Rodrigues). */
function rotation(x: number, y: number, z: number): Float64Array {
  const angle = Math.hypot(x, y, z);
  const s = angle < 1e-8 ? 1 : Math.sin(angle) / angle;
  const c = angle < 1e-8 ? 0.5 : (1 - Math.cos(angle)) / (angle * angle);
  return Float64Array.from([
    1 - c * (y * y + z * z),
    c * x * y - s * z,
    c * x * z + s * y,
    c * x * y + s * z,
    1 - c * (x * x + z * z),
    c * y * z - s * x,
    c * x * z - s * y,
    c * y * z + s * x,
    1 - c * (x * x + y * y),
  ]);
}

/** Rotation vector of a rotation matrix, by way of its quaternion (sound at every angle, half a turn included). */
function rotationVector(m: Float64Array): [number, number, number] {
  const at = (i: number) => m[i] as number;
  const [xx, yy, zz] = [at(0), at(4), at(8)];
  const squares = [1 + xx + yy + zz, 1 + xx - yy - zz, 1 - xx + yy - zz, 1 - xx - yy + zz];
  const largest = squares.indexOf(Math.max(...squares));
  const [wx, wy, wz] = [at(7) - at(5), at(2) - at(6), at(3) - at(1)];
  const [xy, xz, yz] = [at(1) + at(3), at(2) + at(6), at(5) + at(7)];
  const rows = [
    [squares[0], wx, wy, wz],
    [wx, squares[1], xy, xz],
    [wy, xy, squares[2], yz],
    [wz, xz, yz, squares[3]],
  ] as number[][];
  const [w, x, y, z] = rows[largest] as [number, number, number, number];
  const length = Math.hypot(x, y, z);
  if (length === 0) return [0, 0, 0];
  const angle = 2 * Math.atan2(length, Math.abs(w)) * (w < 0 ? -1 : 1);
  return [(x * angle) / length, (y * angle) / length, (z * angle) / length];
}

function cross(a: readonly number[], b: readonly number[]): [number, number, number] {
  const [ax, ay, az] = a as [number, number, number];
  const [bx, by, bz] = b as [number, number, number];
  return [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx];
}

function unit(a: readonly number[]): [number, number, number] {
  const [x, y, z] = a as [number, number, number];
  const length = Math.hypot(x, y, z);
  return [x / length, y / length, z / length];
}
