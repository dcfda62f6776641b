import { apply, invert } from '../geometry';
import { type Job, type Placement, type Plan, type SetKey, type Top, wantedTop } from '../job';
import { type HandKey, KeyRoom, placeKeys, takenInHand } from '../keys';
import { stripMap } from '../layout';
import { type KeyedLine, keyedLines } from './top-cracks';
import { keysAsked, keysInHand } from './top-keys';

/** Farther off its crack than this, mm, a place that was keyed lies in it no more. */
const ON_IT = 1;

/** A top's lines as its keys are set on them. */
interface Bench {
  readonly lines: readonly KeyedLine[];
  readonly room: KeyRoom;
}

function benchOf(job: Job, top: Top, placement: Placement): Bench & { readonly input: ReturnType<typeof keysAsked> } {
  const lines = keyedLines(job, top, placement);
  const input = keysAsked(
    job,
    top,
    placement,
    lines.map(({ shown }) => shown),
  );
  return { lines, input, room: new KeyRoom(input) };
}

/** Where a key that was set comes to lie when its top is laid elsewhere: at the same place of the same crack, else nowhere. */
function carried(key: HandKey, from: Bench, to: Bench): HandKey | null {
  const was = from.lines[key.crack];
  if (!was) return null;
  const at = from.room.placeOn(key.crack, key.along, key.face);
  for (const [crack, { of, strip }] of to.lines.entries()) {
    if (of !== was.of) continue;
    if (!strip || !was.strip) return key.along <= to.room.lengthOf(crack) ? { ...key, crack } : null;
    const there = apply(stripMap(strip), apply(invert(stripMap(was.strip)), at));
    const { along, off } = to.room.nearestOn(crack, there, key.face);
    if (off < ON_IT) return { ...key, crack, along };
  }
  return null;
}

/**
 * The keys that the maker set, for a top that is laid out anew: those whose place is still in it stay there, cracks that were not in it get the keys that
 * are proposed.
 * @returns the keys, undefined where all are as proposed, and how many of those that were set are lost
 */
function keysKept(
  job: Job,
  top: Top,
  before: Placement,
  after: Placement,
): { readonly keys: SetKey[] | undefined; readonly lost: number } {
  const set = before.keys ?? [];
  const [from, to] = [benchOf(job, top, before), benchOf(job, top, after)];
  const known = new Set(from.lines.map(({ of }) => of));
  if (!to.lines.some(({ of }) => known.has(of))) return { keys: undefined, lost: set.length };
  const held = keysInHand(
    set,
    from.lines.map(({ shown }) => shown),
  );
  const stay = held.flatMap((key) => carried(key, from, to) ?? []);
  const proposed = to.lines.every(({ of }) => known.has(of)) ? [] : takenInHand(to.room, placeKeys(to.input).keys);
  const all = [...stay, ...proposed.filter(({ crack }) => !known.has(to.lines[crack]?.of ?? ''))];
  return {
    keys: all.map(({ crack, ...key }) => ({ ...key, crack: to.lines[crack]?.shown.id ?? '' })),
    lost: set.length - stay.length,
  };
}

/**
 * New plans with the keys that the maker had set by hand.
 * @param job as it is with the plans of before @param inView the plan whose keys count where several have some for a top
 * @returns the plans, and for each top of the first of them that lost some how many, in a sentence
 */
export function plansWithKeys(
  job: Job,
  inView: string | null,
  plans: readonly Plan[],
): { readonly plans: Plan[]; readonly words: string[] } {
  const before = [...(inView && job.plans[inView] ? [job.plans[inView]] : []), ...Object.values(job.plans)];
  const words: string[] = [];
  const kept = plans.map((plan, i): Plan => {
    const placements = Object.values(plan.placements).map((placement): Placement => {
      const top = wantedTop(job, placement.top);
      const known = before.find(({ placements: of }) => of[placement.top]?.keys)?.placements[placement.top];
      if (!top || !known || placement.keys) return placement;
      const { keys, lost } = keysKept(job, top, known, placement);
      if (i === 0 && lost > 0) words.push(lostWords(lost, top.name));
      return keys ? { ...placement, keys } : placement;
    });
    return { ...plan, placements: Object.fromEntries(placements.map((each) => [each.top, each])) };
  });
  return { plans: kept, words };
}

/**
 * Keys for the seams of tops whose keys were set by hand before the job wished for any: as they are proposed.
 * @param job with the wish
 * @returns all keys of each such placement of the plan, by its top
 */
export function seamKeysAdded(job: Job, plan: Plan): ReadonlyMap<string, SetKey[]> {
  return new Map(
    Object.values(plan.placements).flatMap((placement): [string, SetKey[]][] => {
      const top = wantedTop(job, placement.top);
      const { keys } = placement;
      if (!keys || !top?.seamKeys) return [];
      const { lines, room, input } = benchOf(job, top, placement);
      const seams = new Set(lines.flatMap(({ shown: { id, seam } }) => (seam ? [id] : [])));
      if (keys.some(({ crack }) => seams.has(crack))) return [];
      const proposed = takenInHand(room, placeKeys(input).keys).flatMap(({ crack, ...key }): SetKey[] => {
        const id = lines[crack]?.shown.id ?? '';
        return seams.has(id) ? [{ ...key, crack: id }] : [];
      });
      return [[placement.top, [...keys, ...proposed]]];
    }),
  );
}

const lostWords = (lost: number, top: string): string =>
  lost === 1
    ? `A key that you had set on ${top} is gone: its place lies in the top no more.`
    : `${lost} keys that you had set on ${top} are gone: their places lie in the top no more.`;
