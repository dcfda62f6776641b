import { bounds, type Point, type Region } from '../geometry';
import { type Job, offerOf, type Slab, type Spot, slabKey, type Taped } from '../job';

/**
 * A slab of which a photo is missing, made into one that can be ranked: its outline from a taped length and widths, with the doubt
 * that such an outline has. Nothing of this is stored, and nothing is cut by it.
 */

/**
 * One standard deviation of an edge that is drawn straight between three widths, mm: six rendered slabs of two logs strayed from theirs by 13 to
 * 17 (root mean square), 44 at most, nearly all of it crook.
 */
export const ASSUMED_SIGMA = 15;

/** Where the widths are taped, as shares of the length. */
const TAPED_AT = [0.1, 0.5, 0.9] as const;
/** Where the thicknesses are: so far from the ends, and so far in from the edges. */
const FROM_END = 0.05;
const FROM_EDGE = 25;
/** A thickness at a rough edge by tape or callipers, one standard deviation, mm (practice, no source). */
const EDGE_SIGMA = 0.7;
/** Bow, cup and twist are taken as not read: what they may be then is for the surfaces to say. */
const UNREAD = { bow: null, cup: null, twist: null, sigma: 0.5 };

/**
 * The outline that taped sizes stand for, its middle line straight, no wider than what is clear of holes and rot; null without a length or any
 * width.
 */
export function assumedOutline({ length, clear, ...taped }: Omit<Taped, 'thicknesses'>): Region<'face'> | null {
  const widths = taped.widths.map((width) => (width === null ? null : Math.min(width, clear ?? width)));
  const known = widths.filter((width) => width !== null);
  if (length === null || known.length === 0) return null;
  const narrowest = Math.min(...known);
  const half = widths.map((width) => (width ?? narrowest) / 2);
  const xs = [0, ...TAPED_AT.map((share) => share * length), length];
  const ys = [half[0], ...half, half[2]] as number[];
  const far = xs.map((x, i): Point<'face'> => [x, -(ys[i] as number)]);
  const near = xs.map((x, i): Point<'face'> => [x, ys[i] as number]);
  return { outer: [...far, ...near.reverse()], holes: [] };
}

/** Taped thicknesses as readings at the slab's edges. */
function edgeSpots({ thicknesses }: Taped, outline: Region<'face'>): Slab['spots'] {
  const { minX, maxX, minY, maxY } = bounds(outline.outer);
  const xs = [minX + FROM_END * (maxX - minX), maxX - FROM_END * (maxX - minX)] as const;
  const ys = [minY + FROM_EDGE, maxY - FROM_EDGE] as const;
  const spots = thicknesses.flatMap((thickness, i): Spot[] => {
    if (thickness === null) return [];
    const at: Point<'face'> = [xs[i < 2 ? 0 : 1], ys[i % 2 === 0 ? 0 : 1]];
    return [{ id: `taped-${i + 1}`, at, top: null, bottom: null, thickness, sigma: EDGE_SIGMA }];
  });
  return Object.fromEntries(spots.map((spot) => [spot.id, spot]));
}

/** The slab as it can be ranked: an outline assumed where it has none, taped thicknesses where nothing was read, its warp open. */
export function assumedSlab(slab: Slab): Slab {
  const { taped, faces } = slab;
  const drawn = faces.top.outline ?? faces.bottom.outline;
  const outline = drawn ?? (taped ? assumedOutline(taped) : null);
  if (!outline) return slab;
  const top = drawn ? faces.top : { ...faces.top, outline, outlineSigma: ASSUMED_SIGMA };
  const unread = Object.keys(slab.spots).length === 0;
  const spots = unread && taped ? edgeSpots(taped, outline) : slab.spots;
  const thick = slab.thickness !== null || Object.keys(spots).length > 0;
  return { ...slab, faces: { ...faces, top }, spots, warp: slab.warp ?? (unread && thick ? UNREAD : null) };
}

/**
 * The job with these slabs alone, all in the shop, as far as they are known: what is left of it to lay out once they are bought.
 * @param keys slabKey of each
 */
export function jobWith(job: Job, keys: readonly string[]): Job {
  const flitches = Object.values(job.flitches).map((flitch) => {
    const slabs = Object.values(flitch.slabs)
      .filter(({ id }) => keys.includes(slabKey(flitch.id, id)))
      .map(({ offer: _, ...slab }) => [slab.id, assumedSlab(slab)] as const);
    return [flitch.id, { ...flitch, slabs: Object.fromEntries(slabs) }] as const;
  });
  return { ...job, flitches: Object.fromEntries(flitches), plans: {}, keptPlan: null, locks: {} };
}

/** Keys of the slabs that are on the rack, of those that are in the shop already, and of those that others bought, in the order of the job. */
export function rackOf(job: Job): { readonly offered: string[]; readonly owned: string[]; readonly sold: string[] } {
  const all = Object.values(job.flitches).flatMap((flitch) =>
    Object.values(flitch.slabs).map((slab) => ({ key: slabKey(flitch.id, slab.id), offer: offerOf(slab) })),
  );
  const keys = (wanted: string) => all.filter(({ offer }) => offer === wanted).map(({ key }) => key);
  return { offered: keys('offered'), owned: keys('bought'), sold: keys('sold') };
}
