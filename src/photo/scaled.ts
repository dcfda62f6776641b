import type { Calibration, Scale } from '../job';
import { Camera } from './camera';
import { placed } from './stitch-frame';

/** A face whose scale was off: the same photo of the same wood, with every length on it `times` as long. Its frame's origin stays. */

const N = Camera.SIZE;
/** The camera's shift among its parameters. */
const SHIFT: readonly number[] = [3, 4, 5];

/**
 * The calibration by which the photo shows the same wood `times` as large: the camera stands so much farther off.
 * @param sigma one standard deviation of `times`, which joins the covariance
 */
export function scaledCalibration(calibration: Calibration, times: number, sigma: number): Calibration {
  const isShift = (k: number): boolean => SHIFT.includes(k);
  const p = Float64Array.from(calibration.parameters, (value, k) => (isShift(k) ? times * value : value));
  const covariance = calibration.covariance.map((value, cell) => {
    const [i, j] = [Math.floor(cell / N), cell % N];
    const grown = value * (isShift(i) ? times : 1) * (isShift(j) ? times : 1);
    return isShift(i) && isShift(j) ? grown + sigma ** 2 * (p[i] as number) * (p[j] as number) : grown;
  });
  return placed(calibration, new Camera(p), covariance, ([x, y]) => [times * x, times * y]);
}

/** The reference that measures so: its printed side, its sheet, its rods were as much larger. Lengths that were taped stay as the tape said. */
export function scaledReference(scale: Scale, times: number): Scale {
  const grown = ([x, y]: readonly [number, number]) => [times * x, times * y] as [number, number];
  switch (scale.kind) {
    case 'markers': {
      const { centres } = scale;
      const moved = centres && Object.fromEntries(Object.entries(centres).map(([id, at]) => [id, grown(at)]));
      return { ...scale, side: times * scale.side, ...(moved && { centres: moved }) };
    }
    case 'paper':
      return { ...scale, width: times * scale.width, height: times * scale.height };
    case 'points':
      return { ...scale, points: scale.points.map(({ px, mm }) => ({ px, mm: grown(mm) })) };
    case 'slab': {
      const { length, widths } = scale;
      const longer = (span: typeof length) => ({ px: span.px, mm: times * span.mm });
      return { ...scale, length: longer(length), widths: [longer(widths[0]), longer(widths[1]), longer(widths[2])] };
    }
    case 'rods':
      return {
        ...scale,
        rods: scale.rods.map((rod) => ({
          ...rod,
          length: times * rod.length,
          ...(rod.width !== undefined && { width: times * rod.width }),
          ...(rod.marks && { marks: rod.marks.map(({ px, at }) => ({ px, at: times * at })) }),
        })),
      };
  }
}
