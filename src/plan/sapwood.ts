import type { Face, Job, Placement, Top } from '../job';
import { sapwoodAlong } from '../layout';
import { formatShare } from '../units';

/** The sapwood of a finished top. */
export interface TopSapwood {
  readonly wish: Top['sapwood'];
  /** Share of the top's length over which it shows, as far as it is known. */
  readonly along: number;
  /** Names of the slabs on which it could not be told from the heart, or nobody looked. */
  readonly untold: readonly string[];
}

/** Whether what the face says of its sapwood is all that there is. */
const told = ({ sapwood, sapwoodTold }: Face): boolean => sapwoodTold ?? sapwood.length > 0;

/** What shows of the sapwood in a placed top. */
export function topSapwood(job: Job, top: Top, { strips }: Placement): TopSapwood {
  const slabs = strips.flatMap((strip) => job.flitches[strip.flitch]?.slabs[strip.slab] ?? []);
  const faces = strips.flatMap(({ face }, i) => slabs[i]?.faces[face] ?? []);
  return {
    wish: top.sapwood,
    along: sapwoodAlong(
      strips,
      faces.map(({ sapwood }) => sapwood),
      top.length,
    ),
    untold: slabs.filter((_, i) => faces[i] && !told(faces[i])).map(({ name }) => name),
  };
}

/** The same in words; nothing where it may show and none is known. */
export function sapwoodWords({ wish, along, untold }: TopSapwood): string[] {
  const known =
    along > 0
      ? [`Sapwood shows along ${formatShare(along)} of its length.`]
      : wish !== 'allowed' && untold.length === 0
        ? [wish === 'wanted' ? 'No sapwood shows in it, though it is wanted.' : 'No sapwood shows in it.']
        : [];
  if (wish === 'allowed' || untold.length === 0) return known;
  const where = untold.join(' and ');
  return [
    ...known,
    wish === 'not'
      ? `On ${where} sapwood is not told from the heart: look before you cut, since none is wanted.`
      : `On ${where} sapwood is not told from the heart, so there may be more.`,
  ];
}
