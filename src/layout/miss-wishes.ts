import { bounds } from '../geometry';
import { type Job, type Miss, SWING_WITHIN, type Top } from '../job';
import { formatLength } from '../units';
import type { SeamZone } from './seam-zones';
import type { Unfit } from './unfit';

/** A zone as the maker knows it: by what the hole is for, else by where it lies as one stands before the top. */
function zoneName({ length }: Top, zone: SeamZone, say: (mm: number) => string): string {
  if (zone.name !== undefined) return `the hole "${zone.name}", where none may run`;
  const { maxX, minY } = bounds(zone.polygon);
  return `the zone without seams that begins ${say(length - maxX)} from the left-hand end and ${say(minY)} from the front`;
}

/**
 * Which wish of a top's edges, seams or holes keeps it from being had, where the wood itself would give it: that of the place that misses
 * least. Null where no place was found at all.
 */
export function whyUnfit(top: Top, unfit: readonly Unfit[], job: Job): Miss | null {
  const [first, ...rest] = unfit;
  if (!first) return null;
  const nearest = rest.reduce((a, b) => (b.by < a.by ? b : a), first);
  const say = (mm: number): string => formatLength(mm, job.units);
  const miss = (limit: Miss['limit'], message: string): Miss => ({
    top: top.id,
    limit,
    by: nearest.by,
    message: `${top.name}: ${message}`,
  });
  switch (nearest.why) {
    case 'swing': {
      const allowed = top.swing ?? 0;
      return miss(
        'swing',
        `the calmest live edge swings by ${say(allowed + nearest.by)} within ${say(SWING_WITHIN)}; ${say(allowed)} are allowed. Allow ${say(nearest.by)} more, or ask for a straight edge.`,
      );
    }
    case 'zone':
      return miss(
        'zone',
        `every seam found runs through ${zoneName(top, nearest.zone, say)}, the nearest ${say(nearest.by)} inside. Move it by that, or allow more depth.`,
      );
    case 'cut-out':
      return miss(
        'cut-out',
        `the hole comes ${say(nearest.by)} too near to the edge that the wood gives. Move the hole, or ask for more depth.`,
      );
    case 'stairs': {
      const { length = 0, width = 0 } = job.shop.stairs ?? {};
      return miss(
        'stairs',
        `it is ${say(nearest.by)} too large for the way in, which lets ${say(length)} by ${say(width)} through. Make it in sections that are joined on site.`,
      );
    }
    case 'bevel':
      return miss(
        'depth',
        `planing moves its sloping live edge, and on the finished face it leaves the depths wanted by ${say(nearest.by)}. Widen them by that.`,
      );
    case 'strip':
      return miss(
        'depth',
        'a strip would have no wood left once its shape is cut. Ask for wider strips or fewer seams.',
      );
  }
}
