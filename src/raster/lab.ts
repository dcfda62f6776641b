import type { Plane, Raster } from './raster';

/** sRGB byte to linear light, 0..1 (IEC 61966-2-1). */
const LINEAR = Float32Array.from({ length: 256 }, (_, byte) => {
  const s = byte / 255;
  return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
});

/** Linear light of an sRGB byte, 0..1. */
export const linearLight = (byte: number): number => LINEAR[byte] as number;

/** sRGB value 0..255 by the root of linear light, so that the table is fine where the eye is (IEC 61966-2-1). */
const SRGB = Float32Array.from({ length: 1025 }, (_, i) => {
  const l = (i / 1024) ** 2;
  return 255 * (l <= 0.0031308 ? 12.92 * l : 1.055 * l ** (1 / 2.4) - 0.055);
});

/** sRGB value 0..255 (not rounded; within a fifth) of linear light 0..1. */
export const srgbByte = (linear: number): number =>
  SRGB[Math.round(1024 * Math.sqrt(Math.min(Math.max(linear, 0), 1)))] as number;

/** The same rounded, of the root of linear light, 0 or more. */
export const byteOfRoot = (root: number): number => BYTES[Math.min(1024, (1024 * root + 0.5) | 0)] as number;
const BYTES = Uint8ClampedArray.from(SRGB);

/** CIE 15:2004: t^(1/3) above (6/29)^3, the straight piece below. */
const labCurve = (t: number): number => (t > 216 / 24389 ? Math.cbrt(t) : (24389 / 27 / 116) * t + 16 / 116);

/** The curve tabled to 1/4096, interpolated: a cube root a pixel and channel is most of the time otherwise. */
const CURVE_STEPS = 4096;
const CURVE = Float32Array.from({ length: CURVE_STEPS + 2 }, (_, i) => labCurve(i / CURVE_STEPS));
function curve(t: number): number {
  if (t < 0.02 || t >= 1) return labCurve(t);
  const at = t * CURVE_STEPS;
  const i = at | 0;
  const low = CURVE[i] as number;
  return low + ((CURVE[i + 1] as number) - low) * (at - i);
}

/**
 * CIELAB of linear RGB (sRGB primaries, D65 white). Writes L (0..100), a, b into `out` from `at`.
 * Source: IEC 61966-2-1 for the matrix, CIE 15:2004 for the curve.
 */
export function labOfLinear(r: number, g: number, b: number, out: Float32Array | number[], at = 0): void {
  const fx = curve((0.4123908 * r + 0.3575843 * g + 0.1804808 * b) / 0.9504559);
  const fy = curve(0.212639 * r + 0.7151687 * g + 0.0721923 * b);
  const fz = curve((0.0193308 * r + 0.1191948 * g + 0.9505322 * b) / 1.0890578);
  out[at] = 116 * fy - 16;
  out[at + 1] = 500 * (fx - fy);
  out[at + 2] = 200 * (fy - fz);
}

/** CIELAB of a whole picture; a grey one has a = b = 0 to rounding. */
export function labPlanes(raster: Raster): { L: Plane; a: Plane; b: Plane } {
  const { width, height, channels, data } = raster;
  const n = width * height;
  const L = new Float32Array(n);
  const a = new Float32Array(n);
  const b = new Float32Array(n);
  const second = channels === 1 ? 0 : 1;
  const third = channels === 1 ? 0 : 2;
  const one = new Float32Array(3);
  for (let i = 0, j = 0; i < n; i++, j += channels) {
    labOfLinear(
      LINEAR[data[j] as number] as number,
      LINEAR[data[j + second] as number] as number,
      LINEAR[data[j + third] as number] as number,
      one,
    );
    L[i] = one[0] as number;
    a[i] = one[1] as number;
    b[i] = one[2] as number;
  }
  return { L: { width, height, data: L }, a: { width, height, data: a }, b: { width, height, data: b } };
}

/** CIELAB lightness alone, 0..100, in a third of the time of all three. */
export function lightness({ width, height, channels, data }: Raster): Plane {
  const L = new Float32Array(width * height);
  const [second, third] = channels === 1 ? [0, 0] : [1, 2];
  for (let i = 0, j = 0; i < L.length; i++, j += channels) {
    const [r, g, b] = [
      LINEAR[data[j] as number],
      LINEAR[data[j + second] as number],
      LINEAR[data[j + third] as number],
    ];
    L[i] = 116 * curve(0.212639 * (r as number) + 0.7151687 * (g as number) + 0.0721923 * (b as number)) - 16;
  }
  return { width, height, data: L };
}
