import { distance, type Point } from '../geometry';
import { type Calibration, type Face, HAND_SIGMA } from '../job';
import { measure } from './measure';

/** A face as it is measured with: by the best of its photos wherever several show the place. */
export interface Ruler {
  /** One standard deviation at a place of the face, mm; null where no measured photo shows it. */
  sigma(at: Point<'face'>): number | null;
  /** Distance in plan between two places, mm, with one standard deviation; that is null where no photo shows both. */
  distance(a: Point<'face'>, b: Point<'face'>): { readonly mm: number; readonly sigma: number | null };
}

interface Shot extends Pick<Calibration, 'width' | 'height'> {
  readonly view: ReturnType<typeof measure>;
}

/** Setting up a measure takes longer than using it, and calibrations never change in place. */
const shots = new WeakMap<Calibration, Shot>();

function shotOf(calibration: Calibration): Shot {
  const known = shots.get(calibration);
  if (known) return known;
  const { width, height } = calibration;
  const shot = { width, height, view: measure(calibration) };
  shots.set(calibration, shot);
  return shot;
}

/** The pixel at which a photo shows a place; null where it lies outside its frame. */
function pixel({ view, width, height }: Shot, at: Point<'face'>): Point<'photo'> | null {
  const [u, v] = view.toPhoto(at);
  return u >= -0.5 && v >= -0.5 && u <= width - 0.5 && v <= height - 0.5 ? [u, v] : null;
}

const least = (all: readonly number[]): number | null => (all.length > 0 ? Math.min(...all) : null);

/** What a face is measured with. */
export function rulerOf(face: Face): Ruler {
  const all = Object.values(face.photos).flatMap(({ calibration }) => (calibration ? [shotOf(calibration)] : []));
  const sigma = (at: Point<'face'>) =>
    least(all.flatMap((shot) => (pixel(shot, at) ? [shot.view.sigma(at)] : [])).filter(Number.isFinite));
  // Where no single photo shows both ends, each end counts by itself.
  const apart = (a: Point<'face'>, b: Point<'face'>) => {
    const [one, other] = [sigma(a), sigma(b)];
    return one !== null && other !== null ? Math.hypot(one, other) : null;
  };
  return {
    sigma,
    distance(a, b) {
      const seen = all.flatMap((shot) => {
        const [p, q] = [pixel(shot, a), pixel(shot, b)];
        const length = p && q && shot.view.distance(p, q);
        return length ? [length.sigma] : [];
      });
      return { mm: distance(a, b), sigma: least(seen) ?? apart(a, b) };
    },
  };
}

/** One sigma of a distance between two marks on a face, mm: by its photos, else by a careful hand. */
export function sigmaBetween(face: Face, a: Point<'face'>, b: Point<'face'>): number {
  return rulerOf(face).distance(a, b).sigma ?? Math.SQRT2 * HAND_SIGMA;
}
