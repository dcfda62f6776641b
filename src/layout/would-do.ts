import { askedAs, type Job, type Plan, ROUND_SIZES, type Top, wantedTop } from '../job';
import { type Control, pause } from '../search';
import { type CheckerOf, largestTop, resized, type TopSize } from './first-top';
import { groundOf } from './ground';
import { placeByShape } from './place-by-shape';

/**
 * What would do where a top cannot be had as it is wanted: the nearest sizes that do have a place, each found on the slabs by their shape, measured and
 * passed by the checker, never concluded.
 */

/** A size that has a place, and what of the wanted one it gives up: one thing, or where no one thing will do its size as a whole. */
export interface WouldDo {
  readonly gives: 'length' | 'depth' | 'band' | 'seam' | 'thickness' | 'size';
  readonly size: TopSize;
}

/** A top of which less than this share is left is no answer. */
const LEAST = 1 / 3;
/** Seams by which a top is put together from pairs of slabs: more are for the full search. */
const MOST_SEAMS = 1;
/** A live edge that swings so much over the wanted band, mm, is taken no further (ours). */
const SWINGS = 150;

/**
 * The number nearest to `from`, that itself left out, up to `to`, that `has` holds of: looked for in strides, and between the last two by halving, so
 * that a hole narrower than a stride may be missed, but nothing is told that `has` does not hold of.
 */
async function nearest(
  from: number,
  to: number,
  stride: number,
  has: (n: number) => Promise<boolean>,
): Promise<number | null> {
  const towards = Math.sign(to - from);
  let near = from;
  for (let far = from + towards; (to - far) * towards >= 0; far += towards * stride) {
    if (!(await has(far))) {
      near = far;
      continue;
    }
    while (Math.abs(far - near) > 1) {
      const middle = Math.trunc((near + far) / 2);
      if (await has(middle)) far = middle;
      else near = middle;
    }
    return far;
  }
  return null;
}

const sizeOf = ({ length, depth, thickness, seams }: Top): TopSize => ({ length, depth, thickness, seams });

/** Whether a size of its own is all that a top could give up: one of several, of a run or opened like a book is bound to others. */
const standsAlone = (job: Job, { id, count, bookMatched, shape }: Top): boolean =>
  count === 1 &&
  !bookMatched &&
  shape?.kind !== 'polygon' &&
  !Object.values(job.runs).some(({ tops }) => tops.includes(id));

/**
 * Sizes that would do for a top that a plan misses, beside what the plan has placed.
 * @param id of the top; none are told of a copy, of a drawn shape, or of a top that goes together with others
 * @throws Cancelled
 */
export async function wouldDo(
  job: Job,
  { placements }: Pick<Plan, 'placements'>,
  id: string,
  checkerOf: CheckerOf,
  control: Control,
): Promise<WouldDo[]> {
  const asked = askedAs(job, id);
  if (!asked || !standsAlone(job, asked)) return [];
  const ground = groundOf(job, new Map());
  const taken = Object.values(placements).flatMap(({ top, strips }) => (top === id ? [] : strips));
  const figures = ROUND_SIZES[job.units];
  const { length, depth, thickness, front, shape, seams } = asked;
  const [least, band] = [depth[0], depth[1] - depth[0]];
  let tried = 0;
  const placeOf = async (size: Partial<TopSize>) => {
    await pause(control, 1 - 1 / ++tried);
    const changed = { ...job, tops: { ...job.tops, [id]: resized(asked, size) } };
    return placeByShape(wantedTop(changed, id) as Top, ground, taken, checkerOf(changed));
  };
  const found: WouldDo[] = [];
  const look = async (
    gives: WouldDo['gives'],
    [from, to]: readonly [number, number],
    stride: number,
    sized: (steps: number) => Partial<TopSize>,
  ) => {
    const steps = await nearest(from, to, stride, async (n) => (await placeOf(sized(n))) !== null);
    if (steps !== null) found.push({ gives, size: sizeOf(resized(asked, sized(steps))) });
  };
  const { fine } = figures;
  // Steps are counted from the next round figure below (above) on.
  const down = (wanted: number) => [Math.ceil(wanted / fine - 1e-6), Math.ceil((LEAST * wanted) / fine)] as const;
  if (shape?.kind !== 'oval') await look('length', down(length), figures.length / fine, (n) => ({ length: n * fine }));
  if (shape === null) {
    await look('depth', down(least), figures.depth / fine, (n) => ({ depth: [n * fine, n * fine + band] }));
    const wider = (n: number): number => Math.floor(depth[1] / fine + n + 1e-6) * fine;
    if (front === 'live')
      await look('band', [0, Math.floor(SWINGS / fine)], figures.depth / fine, (n) => ({ depth: [least, wider(n)] }));
    if (seams < MOST_SEAMS) await look('seam', [seams, seams + 1], 1, (n) => ({ seams: n }));
  }
  const thinner = (await placeOf({ thickness: figures.fineThickness }))?.placement.thickness ?? null;
  const thin = thinner === null ? 0 : Math.floor(thinner / figures.fineThickness + 1e-6) * figures.fineThickness;
  if (thin < thickness && thin >= Math.min(...figures.thicknesses))
    found.push({ gives: 'thickness', size: sizeOf(resized(asked, { thickness: thin })) });
  if (found.length > 0 || shape !== null) return found;
  const whole = await largestTop(wantedTop(job, id) as Top, ground, taken, checkerOf, control);
  return whole ? [{ gives: 'size', size: whole }] : [];
}
