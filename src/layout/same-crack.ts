import { distanceToSegment, type Point } from '../geometry';
import type { Defect } from '../job';

/** Cracks of the two faces that lie within this of each other are one, mm: a drying crack follows the rays and leans a little. */
const SAME = 20;
/** So much of the shorter one must lie along the other. */
const SHARE = 0.5;

/** Whether two cracks of one frame, seen on the two faces of a slab, run at the same place and so are one. */
export function sameCrack({ line: a = [] }: Defect, { line: b = [] }: Defect): boolean {
  const [short, long] = lengthOf(a) < lengthOf(b) ? [a, b] : [b, a];
  const spots = spaced(short);
  const close = spots.filter((spot) =>
    long.slice(1).some((to, k) => distanceToSegment<'face'>(spot, [xy(long[k]), xy(to)]) < SAME),
  );
  return spots.length > 0 && close.length >= SHARE * spots.length;
}

type CrackLine = NonNullable<Defect['line']>;

const xy = (p: CrackLine[number] | undefined): Point<'face'> => [p?.[0] ?? 0, p?.[1] ?? 0];

const lengthOf = (line: CrackLine): number =>
  line.slice(1).reduce((sum, p, i) => sum + Math.hypot(p[0] - xy(line[i])[0], p[1] - xy(line[i])[1]), 0);

/** Spots 10 mm apart along a crack, so that each length of it counts alike. */
function spaced(line: CrackLine): Point<'face'>[] {
  return line.slice(1).flatMap((to, i) => {
    const from = xy(line[i]);
    const n = Math.max(1, Math.round(Math.hypot(to[0] - from[0], to[1] - from[1]) / 10));
    return Array.from({ length: n }, (_, k): Point<'face'> => {
      const t = (k + 0.5) / n;
      return [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
    });
  });
}
