import {
  atHand,
  type Job,
  ROUND_SIZES,
  type RoundSizes,
  type Strip,
  slabKey,
  type Top,
  usualTop,
  wantedTop,
} from '../job';
import { type Control, pause } from '../search';
import type { Checker } from './chosen';
import { longest } from './columns';
import { freeStock, type Ground, groundOf } from './ground';
import { depths } from './miss';
import { placeByShape } from './place-by-shape';
import { offeredTo } from './sapwood';
import { jobWith } from './yard-assumed';

/** The size of a top, mm, and the seams that it still has room for. */
export type TopSize = Pick<Top, 'length' | 'depth' | 'thickness' | 'seams'>;

/** A top of another size: one that is too shallow for two strips has no seam. */
export const resized = (top: Top, size: Partial<TopSize>): Top => {
  const other = { ...top, ...size };
  return 2 * other.leastStrip > other.depth[0] ? { ...other, seams: 0 } : other;
};

/** A checker of plans for a job. */
export type CheckerOf = (job: Job) => Checker;

/** So many sizes are tried: the bound by lengths and depths alone is near to what can be had, so the first few tell. */
const TRIES = 40;

/** So much longer than a top that is proposed must the wood of its two strips be, mm: with no play along the slabs there is no joint to choose. */
const PLAY = 50;

/** The slabs that a job's tops are sized to: as they are laid out, or where none is traced as far as they were taped. */
function groundToHand(job: Job): Ground {
  const traced = groundOf(job, new Map());
  if (traced.stock.length > 0) return traced;
  const mayBeCut = atHand(job);
  const keys = Object.values(job.flitches).flatMap(({ id, slabs }) =>
    Object.values(slabs)
      .filter(mayBeCut)
      .map((slab) => slabKey(id, slab.id)),
  );
  return groundOf(jobWith(job, keys), new Map());
}

/** Steps from `most` down to `least`; what is between two of them goes down to the next. */
function* falling(most: number, least: number, step: number): Generator<number> {
  yield most;
  for (let n = Math.ceil(most / step - 1e-6) - 1; n * step >= least; n--) yield n * step;
}

/** Sizes up to a top's own that its slabs could give by their lengths and depths, the largest first. */
function sizesWithin(top: Top, ground: Ground, taken: readonly Strip[], figures: RoundSizes) {
  const faces = freeStock(ground, taken).map((face) => offeredTo(top, face));
  const reach = Math.max(0, ...faces.map(longest));
  const sizes: { readonly length: number; readonly depth: number }[] = [];
  for (const length of falling(top.length, figures.least.length, figures.length)) {
    if (length > reach) continue;
    const { one, seamed } = depths({ ...top, length }, faces, ground.job.shop.seam.angle, true);
    const most = top.seams > 0 ? Math.max(one, seamed) : one;
    for (const depth of falling(top.depth[0], figures.least.depth, figures.depth))
      if (depth <= most) sizes.push({ length, depth });
  }
  return sizes.sort((a, b) => b.length * b.depth - a.length * a.depth);
}

/**
 * The largest top, in round figures and no larger than the given one, that has a place on the slabs by their shape alone: measured, and passed by the
 * checker. As thick as the given one, or where that is too much the usual thickness next below what it finishes at. Null where no top is found.
 * @param top as it is laid out: one of it, part of no run
 * @param taken what other pieces take of the slabs
 * @param play so much longer the wood of two strips must be, mm
 */
export async function largestTop(
  top: Top,
  ground: Ground,
  taken: readonly Strip[],
  checkerOf: CheckerOf,
  control: Control,
  play = 0,
): Promise<TopSize | null> {
  const { job } = ground;
  const figures = ROUND_SIZES[job.units];
  const sizes = sizesWithin(top, ground, taken, figures).slice(0, TRIES);
  const own = top.depth[1] - top.depth[0];
  const bands = [own, ...(top.front === 'live' ? figures.bands.filter((band) => band > own) : [])];
  const thinnest = Math.min(top.thickness, ...figures.thicknesses);
  const placeOf = (one: Top) =>
    placeByShape(one, ground, taken, checkerOf({ ...job, tops: { ...job.tops, [top.id]: one }, runs: {} }));
  for (const [i, { length, depth }] of sizes.entries()) {
    for (const band of bands) {
      await pause(control, i / sizes.length);
      const sized = resized(top, { length, depth: [depth, depth + band], thickness: thinnest });
      const place = placeOf(sized);
      if (!place) continue;
      if (play > 0 && place.placement.strips.length > 1 && !placeOf({ ...sized, length: length + play })) continue;
      const { thickness } = place.placement;
      const usual = [top.thickness, ...figures.thicknesses].filter((one) => one <= top.thickness);
      const finishes = thickness === null ? top.thickness : usual.find((one) => one <= thickness);
      return { length, depth: sized.depth, thickness: finishes ?? thinnest, seams: sized.seams };
    }
  }
  return null;
}

/** The first top of a job as it is proposed: the usual one where the slabs give it, else the largest that they do; `proposed` says which. */
export async function firstTop(job: Job, id: string, checkerOf: CheckerOf, control: Control): Promise<Top> {
  const usual = usualTop(id, job.units);
  const ground = groundToHand(job);
  const top = wantedTop({ tops: { [id]: usual } }, id) as Top;
  const size = ground.stock.length === 0 ? null : await largestTop(top, ground, [], checkerOf, control, PLAY);
  const { length, depth, thickness, seams } = size ?? usual;
  const smaller = length < usual.length || depth[0] < usual.depth[0] || thickness < usual.thickness;
  const from = ground.stock.length === 0 ? 'habit' : size === null ? 'none' : smaller ? 'most' : 'slabs';
  const name = from === 'most' ? 'Top' : usual.name;
  return { ...usual, name, length, depth, thickness, seams, proposed: { length, depth, thickness, from } };
}
