import type { Point } from '../geometry';
import type { Calibration } from '../job';
import { Camera } from './camera';
import { type Relief, reliefOf } from './relief';

/** A point on the face with one standard deviation, mm, along its worst direction. */
export interface Measured {
  readonly mm: Point<'face'>;
  readonly sigma: number;
}

/** A distance in plan, mm, with one standard deviation and the two parts of it: the camera's, and that of clicks and relief at its ends. */
interface MeasuredDistance {
  readonly mm: number;
  readonly sigma: number;
  readonly cameraSigma: number;
  readonly localSigma: number;
}

/** A calibration ready to measure with; make it once for many points. Null answers: the pixel shows nothing of the face's plane. */
export interface Measure {
  /** Where the wood at a pixel lies, with its uncertainty. */
  toFace(px: Point<'photo'>): Measured | null;
  /** The same without the uncertainty: fast. */
  place(px: Point<'photo'>): Point<'face'> | null;
  /** Where a point of the face shows in the photo, px; NaN where the camera does not see it. */
  toPhoto(mm: Point<'face'>): Point<'photo'>;
  /** One standard deviation (mm) at a point of the face, along its worst direction or, where one is given, along that unit vector. */
  sigma(mm: Point<'face'>, along?: Point<'face'>): number;
  /** Distance in plan between the wood at two pixels; what the errors of the two ends share is not counted twice. */
  distance(a: Point<'photo'>, b: Point<'photo'>): MeasuredDistance | null;
}

/** A whole-pixel click is off by this in u and in v: a pixel's width over the square root of 12. */
const CLICK = 1 / Math.sqrt(12);

/** A calibration as a measuring instrument. */
export function measure(calibration: Calibration): Measure {
  const camera = new Camera(Float64Array.from(calibration.parameters));
  const relief = reliefOf(camera, calibration.width, calibration.height, calibration.relief);
  return measuring(camera, calibration.covariance, relief);
}

/** Where the wood at a pixel lies on the face, in mm, with one standard deviation; null above the horizon. */
export function toFace(calibration: Calibration, px: Point<'photo'>): Measured | null {
  return measure(calibration).toFace(px);
}

/** The pixel at which a point of the face (mm) shows; NaN where the camera does not see it. */
export function toPhoto(calibration: Calibration, mm: Point<'face'>): Point<'photo'> {
  return measure(calibration).toPhoto(mm);
}

/** How a place answers to the camera's parameters, to the wood's height there, and to the click: columns of (dx, dy). */
interface Sensitivity {
  readonly mm: Point<'face'>;
  readonly camera: readonly Point<'face'>[];
  readonly height: Point<'face'>;
  readonly click: readonly [Point<'face'>, Point<'face'>];
}

/** @param covariance of the camera's parameters, row by row */
export function measuring(camera: Camera, covariance: ArrayLike<number>, relief: Relief): Measure {
  const n = Camera.SIZE;
  // The camera with each of its parameters a step more and a step less: made once, asked at every place.
  const nudged = Camera.STEP.map((step, k) => {
    const by = (much: number) => {
      const p = Float64Array.from(camera.p);
      p[k] = (p[k] as number) + much;
      return new Camera(p);
    };
    return { step, plus: by(step), minus: by(-step) };
  });

  const place = (px: Point<'photo'>): Point<'face'> | null => {
    let at = camera.place(px, 0);
    // The height depends on the place and the place on the height; a slant moves a place by less than its height, so this settles at once.
    for (let i = 0; at && i < 4; i++) at = camera.place(px, -relief.height(at));
    return at;
  };

  const toPhoto = (mm: Point<'face'>): Point<'photo'> => camera.project(mm, -relief.height(mm));

  const sensitivity = (px: Point<'photo'>): Sensitivity | null => {
    const mm = place(px);
    if (!mm) return null;
    const z = -relief.height(mm);
    const slope = (
      k: Camera,
      l: Camera,
      z1: number,
      z2: number,
      p: Point<'photo'>,
      q: Point<'photo'>,
      step: number,
    ) => {
      const [a, b] = [k.place(p, z1), l.place(q, z2)];
      return a && b ? ([(a[0] - b[0]) / step, (a[1] - b[1]) / step] as const) : null;
    };
    const columns = nudged.map(({ step, plus, minus }) => slope(plus, minus, z, z, px, px, 2 * step));
    const height = slope(camera, camera, z - 0.5, z + 0.5, px, px, 1);
    const [u, v] = px;
    const du = slope(camera, camera, z, z, [u + 0.05, v], [u - 0.05, v], 0.1);
    const dv = slope(camera, camera, z, z, [u, v + 0.05], [u, v - 0.05], 0.1);
    if (!height || !du || !dv || columns.some((column) => column === null)) return null;
    return { mm, camera: columns as Point<'face'>[], height, click: [du, dv] };
  };

  /** What is not known of the heights at two places, and of both together; it takes longest, so it is asked for once. */
  const doubtsOf = (a: Sensitivity, b: Sensitivity | null) => ({
    a: relief.doubt(a.mm, a.mm),
    b: b ? relief.doubt(b.mm, b.mm) : 0,
    both: b ? relief.doubt(a.mm, b.mm) : 0,
  });

  /** Variances of the difference of two places along weights (wx, wy), or of one alone where `b` is null: by the camera, and at the ends. */
  const spread = (
    a: Sensitivity,
    b: Sensitivity | null,
    doubts: ReturnType<typeof doubtsOf>,
    w: Point<'face'>,
  ): { camera: number; local: number } => {
    const along = (d: Point<'face'>) => d[0] * w[0] + d[1] * w[1];
    const g = a.camera.map((d, k) => along(d) - (b ? along(b.camera[k] as Point<'face'>) : 0));
    let byCamera = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) byCamera += (g[i] as number) * (g[j] as number) * (covariance[i * n + j] as number);
    }
    const ha = along(a.height);
    const hb = b ? along(b.height) : 0;
    let local = ha * ha * doubts.a + hb * hb * doubts.b - 2 * ha * hb * doubts.both;
    for (const d of [...a.click, ...(b?.click ?? [])]) local += (CLICK * along(d)) ** 2;
    return { camera: byCamera, local };
  };

  const worst = (s: Sensitivity): number => {
    const doubts = doubtsOf(s, null);
    const along = (x: number, y: number) => {
      const { camera: byCamera, local } = spread(s, null, doubts, [x, y]);
      return byCamera + local;
    };
    const [xx, yy] = [along(1, 0), along(0, 1)];
    const xy = (along(1, 1) - xx - yy) / 2;
    return Math.sqrt((xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy));
  };

  return {
    place,
    toPhoto,
    toFace(px) {
      const s = sensitivity(px);
      return s && { mm: s.mm, sigma: worst(s) };
    },
    sigma(mm, along) {
      const s = sensitivity(toPhoto(mm));
      if (!s || !along) return s ? worst(s) : Infinity;
      const { camera: byCamera, local } = spread(s, null, doubtsOf(s, null), along);
      return Math.sqrt(byCamera + local);
    },
    distance(pxA, pxB) {
      const [a, b] = [sensitivity(pxA), sensitivity(pxB)];
      if (!a || !b) return null;
      const [dx, dy] = [a.mm[0] - b.mm[0], a.mm[1] - b.mm[1]];
      const mm = Math.hypot(dx, dy);
      const w: Point<'face'> = mm > 0 ? [dx / mm, dy / mm] : [1, 0];
      const { camera: byCamera, local } = spread(a, b, doubtsOf(a, b), w);
      return { mm, sigma: Math.sqrt(byCamera + local), cameraSigma: Math.sqrt(byCamera), localSigma: Math.sqrt(local) };
    },
  };
}
