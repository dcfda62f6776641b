import * as v from 'valibot';
import { id, text } from './shapes';
import type { Top } from './wanted';

/**
 * Tops that belong together: a counter in sections, a run along a wall, a waterfall end, parts of one slab. Every section is a top of its
 * own; a run says in what order they stand and how each meets the next.
 */

/**
 * How a top meets the next one of its run, the first standing at the right-hand end as one stands before it (as x of a top runs):
 * `apart` not at all; `butt` and `mitre` end to end at a corner or along a wall; `grain carries on` cut one after the other from the same
 * strips with only the saw's kerf between; `folds down` the same, with a mitre over whose edge the grain runs, as at a waterfall end.
 */
export const MEETINGS = ['apart', 'butt', 'mitre', 'grain carries on', 'folds down'] as const;
export type Meeting = (typeof MEETINGS)[number];

/** What the tops of a run must all be cut from. */
export const RUN_SOURCES = ['anywhere', 'one flitch', 'one slab'] as const;

export const runSchema = v.pipe(
  v.strictObject({
    id,
    name: text,
    tops: v.pipe(
      v.array(id),
      v.minLength(2, 'must name at least two tops'),
      v.check((tops) => new Set(tops).size === tops.length, 'must not name a top twice'),
    ),
    /** How top i meets top i + 1. */
    meets: v.array(v.picklist(MEETINGS)),
    from: v.optional(v.picklist(RUN_SOURCES), 'anywhere'),
  }),
  v.forward(
    v.check(({ tops, meets }) => meets.length === tops.length - 1, 'must say how each top meets the next'),
    ['meets'],
  ),
);
export type Run = v.InferOutput<typeof runSchema>;

/** What of a job its runs are read from. */
interface WithRuns {
  readonly runs: Readonly<Record<string, Run>>;
  readonly tops: Readonly<Record<string, Top>>;
}

/** Whether the grain goes on from one top to the next, so that both are cut one after the other from the same strips. */
export const grainGoesOn = (meeting: Meeting | undefined): boolean =>
  meeting === 'grain carries on' || meeting === 'folds down';

/**
 * The runs as they stand among the tops that are still wanted: a top that was taken out leaves a gap over which nothing meets, and of a
 * run with fewer than two tops nothing is left.
 */
export function runsOf(job: WithRuns): Run[] {
  return Object.values(job.runs).flatMap((run) => {
    const places = run.tops.flatMap((top, i) => (job.tops[top] ? [i] : []));
    if (places.length < 2) return [];
    const meets = places
      .slice(1)
      .map((place, i) => (place === (places[i] as number) + 1 ? (run.meets[place - 1] as Meeting) : 'apart'));
    return [{ ...run, tops: places.map((place) => run.tops[place] as string), meets }];
  });
}

/** Tops through which the grain goes on, in order, and how each meets the next. */
export interface GrainLine {
  readonly run: Run;
  readonly tops: readonly Top[];
  readonly meets: readonly Meeting[];
}

/** Every such line of a job, a top in the first that names it. */
export function grainLines(job: WithRuns): GrainLine[] {
  const taken = new Set<string>();
  const lines: GrainLine[] = [];
  for (const run of runsOf(job)) {
    let tops: Top[] = [];
    let meets: Meeting[] = [];
    const close = (): void => {
      if (tops.length > 1) {
        lines.push({ run, tops, meets });
        for (const top of tops) taken.add(top.id);
      }
      [tops, meets] = [[], []];
    };
    for (const [i, name] of run.tops.entries()) {
      const meeting = run.meets[i - 1];
      if (!grainGoesOn(meeting) || taken.has(name)) close();
      if (taken.has(name)) continue;
      if (tops.length > 0 && meeting) meets.push(meeting);
      tops.push(job.tops[name] as Top);
    }
    close();
  }
  return lines;
}

/** What keeps tops from being one line of grain, as a sentence goes on; null where nothing does. */
export function notOneLine({ tops }: Pick<GrainLine, 'tops'>): string | null {
  const differ = (of: (top: Top) => unknown): boolean => new Set(tops.map(of)).size > 1;
  if (differ(({ front }) => front) || differ(({ back }) => back))
    return 'their front and back edges must be of one kind';
  if (differ(({ thickness }) => thickness)) return 'they must be equally thick';
  if (tops.some(({ shape }) => shape !== null)) return 'a round top or one from a drawing cannot go on into the next';
  if (tops.some(({ count }) => count > 1)) return 'each must be wanted once only';
  const inner = tops.some((top, i) => {
    const ends = [i > 0 ? top.ends.right : null, i + 1 < tops.length ? top.ends.left : null];
    return ends.some((end) => end !== null && (end.degrees !== 90 || end.edge === 'live'));
  });
  if (inner) return 'the ends at which they meet must be straight and square';
  const scribed = tops.some(({ scribe }, i) => (i > 0 && scribe.right > 0) || (i + 1 < tops.length && scribe.left > 0));
  if (scribed) return 'no wood can be kept for scribing where they meet';
  const [least, most] = commonDepth(tops);
  return least > most ? 'their depths have nothing in common' : null;
}

/** Depths that all tops allow: least and most; the least over the most where there are none. */
export const commonDepth = (tops: readonly Top[]): [least: number, most: number] => [
  Math.max(...tops.map(({ depth }) => depth[0])),
  Math.min(...tops.map(({ depth }) => depth[1])),
];

/** Why a top of a line of grain cannot be had, whatever the stock; null where it can. */
export function atOdds(job: WithRuns, id: string): string | null {
  const line = grainLines(job).find(({ tops }) => tops.some((top) => top.id === id));
  const why = line && notOneLine(line);
  return why ? `${line.run.name}: for the grain to go on from top to top, ${why}.` : null;
}
