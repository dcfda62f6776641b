import { type End, type Job, type Meeting, type Run, runsOf, type Top } from '../../../job';

/** Changes of the tops that belong together, each on a draft of the job. */

/** How two tops meet, as it is chosen: a mitre says which way the counter turns. */
export type MeetingChoice = Exclude<Meeting, 'mitre'> | 'mitre in' | 'mitre out';

/** Angle of a mitre's end, from the front: at an inner corner the front is the shorter side, at an outer one the back. */
const DEGREES = { 'mitre in': 135, 'mitre out': 45 } as const;

/** A waterfall end as high as a usual counter, mm (practice, no source). */
const COUNTER_HEIGHT = 900;

/** How a top meets the next one of its run. */
export function meetingOf(job: Job, run: Run, i: number): MeetingChoice {
  const meeting = run.meets[i] as Meeting;
  if (meeting !== 'mitre') return meeting;
  return (job.tops[run.tops[i] as string]?.ends.left.degrees ?? 135) < 90 ? 'mitre out' : 'mitre in';
}

const isMitred = ({ degrees }: End): boolean => degrees === DEGREES['mitre in'] || degrees === DEGREES['mitre out'];

/** The ends at which two tops meet, cut to suit: mitred, or square again where they were. */
function cutEnds(draft: Job, run: Run, i: number, choice: MeetingChoice): void {
  const degrees = choice === 'mitre in' || choice === 'mitre out' ? DEGREES[choice] : 90;
  const set = (top: Top | undefined, side: 'left' | 'right'): void => {
    if (!top) return;
    const end = top.ends[side];
    if (degrees !== 90) top.ends = { ...top.ends, [side]: { ...end, edge: 'straight', degrees } };
    else if (isMitred(end)) top.ends = { ...top.ends, [side]: { ...end, degrees } };
  };
  set(draft.tops[run.tops[i] as string], 'left');
  set(draft.tops[run.tops[i + 1] as string], 'right');
}

/** A run of the draft as it stands among the tops that are still wanted; undefined where it is gone. */
function tidied(draft: Job, id: string): Run | undefined {
  const run = runsOf(draft).find((one) => one.id === id);
  if (run) draft.runs[id] = run;
  return run && draft.runs[id];
}

export function setMeeting(draft: Job, id: string, i: number, choice: MeetingChoice): void {
  const run = tidied(draft, id);
  if (!run?.meets[i]) return;
  run.meets[i] = choice === 'mitre in' || choice === 'mitre out' ? 'mitre' : choice;
  cutEnds(draft, run, i, choice);
}

/** Puts a top at the left-hand end of a run. */
export function addToRun(draft: Job, id: string, top: string): void {
  const run = tidied(draft, id);
  if (!run || run.tops.includes(top)) return;
  run.tops.push(top);
  run.meets.push('apart');
}

/** Takes a top out of a run; over the gap nothing meets. A run of one top is none. */
export function takeFromRun(draft: Job, id: string, top: string): void {
  const run = tidied(draft, id);
  if (!run) return;
  const at = run.tops.indexOf(top);
  if (at < 0) return;
  for (const i of [at - 1, at]) if (run.meets[i]) cutEnds(draft, run, i, 'apart');
  const inside = at > 0 && at + 1 < run.tops.length;
  run.tops.splice(at, 1);
  run.meets.splice(Math.max(0, at - 1), inside ? 2 : 1, ...(inside ? (['apart'] as const) : []));
  if (run.tops.length < 2) delete draft.runs[id];
}

/** Moves a top one place towards the left (1) or right (-1) end. How the places meet stays. */
export function moveInRun(draft: Job, id: string, top: string, by: 1 | -1): void {
  const run = tidied(draft, id);
  if (!run) return;
  const [from, to] = [run.tops.indexOf(top), run.tops.indexOf(top) + by];
  const other = run.tops[to];
  if (from < 0 || other === undefined) return;
  const choices = run.meets.map((_, i) => meetingOf(draft, run, i));
  for (const i of choices.keys()) cutEnds(draft, run, i, 'apart');
  run.tops[to] = top;
  run.tops[from] = other;
  for (const [i, choice] of choices.entries()) cutEnds(draft, run, i, choice);
}

/** A run of two tops. */
function newRun(draft: Job, id: string, tops: [string, string]): void {
  const number = Object.keys(draft.runs).length + 1;
  draft.runs[id] = { id, name: `Run ${number}`, tops, meets: ['apart'], from: 'anywhere' };
}

/** Puts the first two tops that stand in no run together, else the first two. */
export function putTogether(draft: Job, id: string): void {
  const known = new Set(runsOf(draft).flatMap(({ tops }) => tops));
  const all = Object.keys(draft.tops);
  const [a, b] = [...all.filter((top) => !known.has(top)), ...all.filter((top) => known.has(top))];
  if (a !== undefined && b !== undefined) newRun(draft, id, [a, b]);
}

/**
 * A new top behind one, at the left-hand end of its run: a leg into which it folds down, or a section round an inner corner.
 * @param ids of the new top, and of its run where there is none yet
 */
export function goOn(
  draft: Job,
  from: string,
  as: 'folds down' | 'mitre in',
  ids: { readonly top: string; readonly run: string },
): void {
  const top = draft.tops[from];
  if (!top) return;
  const last = runsOf(draft).find(({ tops }) => tops.at(-1) === from);
  draft.tops[ids.top] = {
    ...top,
    id: ids.top,
    name: as === 'folds down' ? `${top.name}, waterfall end` : `${top.name}, round the corner`,
    count: 1,
    length: as === 'folds down' ? COUNTER_HEIGHT : top.length,
    ends: { right: top.ends.left, left: top.ends.left },
    covered: {},
    noSeam: {},
    cutOuts: {},
  };
  if (last) addToRun(draft, last.id, ids.top);
  else newRun(draft, ids.run, [from, ids.top]);
  const run = draft.runs[last?.id ?? ids.run] as Run;
  setMeeting(draft, run.id, run.tops.length - 2, as);
}
