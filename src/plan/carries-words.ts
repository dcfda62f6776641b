import type { Job, Slab } from '../job';
import type { Carries, Limit, Room } from '../layout';
import { formatLength, formatPlusMinus } from '../units';
import { isTapedOnly } from './taped-only';
import { setName, slabOf } from './yard-words';

/** What is said at once of a slab, or of two, for a top. */
interface CarriesWords {
  readonly says: Carries['says'];
  /** `carries it alone`, `this pair gives it`, `too thin by 6 once flat`. */
  readonly verdict: string;
  /** What is to spare, or why it is not settled. */
  readonly why: string;
  /** What would settle it; null where it is settled. */
  readonly settle: string | null;
}

/** The verdict in the words of the shop. Lengths in the job's units. */
export function carriesWords(job: Job, told: Carries): CarriesWords {
  const { says, slabs, rooms, worst } = told;
  const pair = slabs.length > 1;
  const lack = worst ?? 'depth';
  if (says === 'carries') {
    const verdict = pair ? 'this pair gives it' : 'carries it alone';
    return {
      says,
      verdict,
      why: `To spare: ${spareWords(job, rooms)}.`,
      settle: slabs.some((key) => isTapedOnly(slabOf(job, key))) ? 'Look it over for holes and rot.' : null,
    };
  }
  if (says === 'cannot') {
    const room = rooms[lack] as Room;
    return { says, verdict: missWords(job, lack, -room.spare), why: doubtWords(job, room), settle: null };
  }
  return {
    says,
    verdict: pair ? 'this pair may give it' : 'may carry it',
    why: whyOpen(job, told),
    settle: settleWords(job, told),
  };
}

const mm = (job: Job, length: number): string => formatLength(length, job.units, { decimals: 0, unit: true });

const known = (job: Job, { plusMinus }: Room, decimals = 0): string =>
  formatPlusMinus(plusMinus, job.units, { decimals });

function spareWords(job: Job, { depth, thickness }: Carries['rooms']): string {
  return [
    ...(depth ? [`${mm(job, depth.spare)} of width (${known(job, depth)})`] : []),
    ...(thickness
      ? [`${formatLength(thickness.spare, job.units, { unit: true })} of thickness (${known(job, thickness, 1)})`]
      : []),
  ].join(', ');
}

/** By how much one of the limits is missed. */
function missWords(job: Job, limit: Limit, by: number): string {
  const missing = mm(job, Math.max(1, by));
  if (limit === 'thickness') return `too thin by ${missing} once flat`;
  if (limit === 'live edge') return `its live edge swings ${missing} more than the top allows`;
  return `too ${limit === 'length' ? 'short' : 'narrow'} by ${missing}`;
}

const doubtWords = (job: Job, room: Room): string => (room.plusMinus < 1 ? '' : `Known to ${known(job, room)}.`);

/** What keeps a verdict open. */
function whyOpen(job: Job, { rooms, worst }: Carries): string {
  if (!rooms.thickness) return 'Large enough; nobody knows yet how thick.';
  if (worst === null) return 'Large enough; whether its shape and ends come out, the full look tells.';
  const room = rooms[worst] as Room;
  if (worst === 'live edge')
    return `Wide and thick enough; how far its live edge swings is known to ${known(job, room)} only.`;
  const what = { length: 'long', depth: 'wide', thickness: 'thick' }[worst];
  return room.spare >= 0
    ? `${mm(job, room.spare)} more than ${what} enough, but that is known to ${known(job, room)} only.`
    : `${missWords(job, worst, -room.spare)} as it was read, which is known to ${known(job, room)} only.`.replace(
        /^./,
        (first) => first.toUpperCase(),
      );
}

/** The cheapest thing to do that would tell more. */
function settleWords(job: Job, { slabs, rooms, worst }: Carries): string {
  const own = slabs.map((key) => ({ key, slab: slabOf(job, key) }));
  const named = (which: (slab: Slab) => boolean): string | null => {
    const found = own.filter(({ slab }) => which(slab)).map(({ key }) => setName(job, [key]));
    return found.length === 0 ? null : found.join(' and ');
  };
  const unread = (slab: Slab) => Object.keys(slab.spots).length === 0;
  if (!rooms.thickness) {
    const blank = named((slab) => unread(slab) && !slab.thickness && !slab.taped?.thicknesses.some(Boolean));
    return `Read the edge of ${blank ?? 'it'} at four places.`;
  }
  if (worst === null) return 'Rank the slabs.';
  if (worst === 'thickness') {
    const bowless = named((slab) => unread(slab) && (slab.warp?.bow ?? null) === null);
    if (bowless) return `Stretch a string along ${bowless}.`;
    return `Take readings of the middle of ${named(unread) ?? 'it'}.`;
  }
  const taped = named(isTapedOnly);
  return taped ? `A photo of ${taped} with cards on it.` : 'Photograph it with cards nearer its edges.';
}
