import { bounds, type Point } from '../geometry';
import type { Slab, WarpRead } from '../job';
import { meanPlane, type Plane } from './plane';
import type { Reading } from './reading';

/** What bow, cup and twist say of the upper face, as readings. */

/** How far a slab strays from the parabola that its bow or cup stands for, one standard deviation, mm (practice, no source). */
const STRAYS = 1;
/** What a slab's bow, cup or twist may be where it was not read, one standard deviation, mm (practice, no source). */
const UNREAD = { bow: 6, cup: 3, twist: 5 };
/** Places along and across at which the warp is told. */
const [ALONG, ACROSS] = [5, 3];

/**
 * Readings of the upper face that a slab's bow, cup and twist amount to: parabolas and a twist over its outline (or over its spots). Where
 * heights were read too, the warp is laid onto them, so that both speak of one plane. None where nothing says how large the slab is.
 */
export function warpReadings(slab: Slab, heights: readonly Reading[]): Reading[] {
  const { warp } = slab;
  const box = extentOf(slab);
  if (!warp || !box) return [];
  const { minX, maxX, minY, maxY } = box;
  const place = (u: number, v: number): Point<'face'> => [
    (minX + maxX) / 2 + (u * (maxX - minX)) / 2,
    (minY + maxY) / 2 + (v * (maxY - minY)) / 2,
  ];
  const shape = warpAt(warp);
  const inBox = ([x, y]: Point<'face'>): readonly [number, number] => [
    (2 * x - minX - maxX) / (maxX - minX),
    (2 * y - minY - maxY) / (maxY - minY),
  ];
  const plane = planeUnder(heights, (at) => shape(...inBox(at)));
  const steps = (n: number): number[] => Array.from({ length: n }, (_, i) => (2 * i) / (n - 1) - 1);
  return steps(ALONG).flatMap((u) =>
    steps(ACROSS).map((v): Reading => {
      const at = place(u, v);
      const { z, sigma } = shape(u, v);
      return { at, z: z + plane.height(at), sigma: Math.hypot(sigma, plane.level) };
    }),
  );
}

/** Height over the slab's middle, and how sure it is, at a place from -1 to 1 along and across. */
function warpAt({ bow, cup, twist, sigma }: WarpRead): (u: number, v: number) => { z: number; sigma: number } {
  const doubt = (read: number | null, unread: number): number => (read === null ? unread : sigma);
  return (u, v) => ({
    z: (bow ?? 0) * u * u + (cup ?? 0) * v * v + ((twist ?? 0) / 4) * u * v,
    sigma: Math.hypot(
      STRAYS,
      doubt(bow, UNREAD.bow) * u * u,
      doubt(cup, UNREAD.cup) * v * v,
      (doubt(twist, UNREAD.twist) / 4) * u * v,
    ),
  });
}

/**
 * The plane that heights stand over, the warp taken out of them, and how sure its level is. Its lean is not in doubt where they do not tell it:
 * any will do, since no thickness follows from it.
 */
function planeUnder(
  heights: readonly Reading[],
  warp: (at: Point<'face'>) => { z: number; sigma: number },
): Pick<Plane, 'height'> & { readonly level: number } {
  if (heights.length === 0) return { height: () => 0, level: 0 };
  const rest = heights.map(({ at, z, sigma }) => {
    const told = warp(at);
    return { at, value: z - told.z, sigma: Math.hypot(sigma, told.sigma) };
  });
  const { height } = meanPlane(rest);
  const weight = rest.reduce((sum, { sigma }) => sum + 1 / sigma ** 2, 0);
  return { height, level: Math.sqrt(1 / weight) };
}

function extentOf({ faces, spots }: Slab): ReturnType<typeof bounds> | null {
  const { outline } = faces.top;
  if (outline) return bounds(outline.outer);
  const at = Object.values(spots).map((spot) => spot.at);
  if (at.length < 2) return null;
  const box = bounds(at);
  return box.maxX > box.minX && box.maxY > box.minY ? box : null;
}
