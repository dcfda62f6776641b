/**
 * Angles of the rings against the face at the end of a board, degrees 0..90 (0 flat, 90 upright), near one edge, in the middle and near the other; null
 * was not read.
 */
export type EndGrain = readonly (number | null)[];

/** A place where the pith may run: rows across from the edge, mm below the upper face (less than 0: above). */
export interface PithPlace {
  readonly across: number;
  readonly deep: number;
}

/** Where angles are read, as shares of the width: near an edge is not at it. */
const PLACES = [0.1, 0.5, 0.9];
/** Ways in which rings may lean at the three places, toward the pith: on one side of it, or to either. */
const LEANS = [
  [1, 1, 1],
  [-1, 1, 1],
  [-1, -1, 1],
] as const;
/** Piths are looked for so far beside the board, in widths, and so deep, mm. */
const BESIDE = 4;
const DEPTHS = Array.from({ length: 28 }, (_, i) => 12 * 1.18 ** i);
/** A pattern of leans that misses what was read by no more than this over the best, degrees, may be meant. */
const ALSO = 4;

/**
 * Where the pith may run by what was read at the end grain: under the board or over it, and to either side, for angles are read without their signs and
 * nobody says which edge was the first. None where nothing was read.
 */
export function pithPlaces(endGrain: EndGrain, width: number, thickness: number): PithPlace[] {
  // Nobody says which edge was the first: what is read one way about is looked for the other way about too.
  const fits = [endGrain, [...endGrain].reverse()].flatMap((angles) => {
    const read = PLACES.flatMap((share, i) => {
      const degrees = angles[i];
      return degrees === null || degrees === undefined ? [] : [{ y: share * width, degrees, i }];
    });
    if (read.length === 0) return [];
    return LEANS.map((leans) =>
      best(
        read.map(({ y, degrees, i }) => ({ y, degrees: degrees * (leans[i] ?? 1) })),
        width,
      ),
    );
  });
  const least = Math.min(...fits.map(({ off }) => off));
  const likely = fits.filter(({ off }) => off <= least + ALSO).flatMap(mirrored(width));
  return apart(likely, width).flatMap(({ across: p, deep }) => [
    { across: p, deep },
    { across: p, deep: thickness - deep },
  ]);
}

const mirrored =
  (width: number) =>
  ({ across, deep }: PithPlace): PithPlace[] => [
    { across, deep },
    { across: width - across, deep },
  ];

/** Places of which no two are much the same. */
const apart = (places: readonly PithPlace[], width: number): PithPlace[] =>
  places.filter(
    (place, i) =>
      !places
        .slice(0, i)
        .some((one) => Math.abs(one.across - place.across) < width / 25 && Math.abs(one.deep / place.deep - 1) < 0.1),
  );

/** The place that tells what was read best, the nearest of those that do. */
function best(read: readonly { y: number; degrees: number }[], width: number) {
  let found = { across: width / 2, deep: DEPTHS[0] as number, off: Number.POSITIVE_INFINITY };
  for (const deep of DEPTHS) {
    for (let across = -BESIDE * width; across <= (1 + BESIDE) * width; across += width / 50) {
      const off = Math.sqrt(
        read.reduce((sum, { y, degrees }) => sum + ((Math.atan2(y - across, deep) * 180) / Math.PI - degrees) ** 2, 0) /
          read.length,
      );
      if (off < found.off - 0.05) found = { across, deep, off };
    }
  }
  return found;
}
