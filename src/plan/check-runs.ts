import { type Affine, apply, applyAll, distance, invert, type Point } from '../geometry';
import { type Job, type Meeting, type Placement, type Plan, type Run, runsOf, type Strip, type Top } from '../job';
import { CLOSE, type Fault, findings, said } from './check-laid';

/**
 * Whether the tops of a run meet as they are said to: the grain really going on through the saw's kerf, mitres of one angle and depth, all from
 * one slab or flitch where that is asked for. By where points of the pieces lie on the slab, nothing else.
 */

/** Two straight mitred tops may differ by this in depth, mm: more is a step that no sanding takes away. */
const STEP = 0.5;

interface Placed {
  readonly top: Top;
  readonly placement: Placement;
}

/** What the saw must have between two pieces on the face that shows: as much as it is wide there. */
function sawBetween(job: Job, meeting: Meeting): number {
  const { crosscut } = job.shop.kerf;
  return meeting === 'folds down' ? crosscut / Math.cos(Math.PI / 4) : crosscut;
}

const onFace = (strip: Strip, p: Point<'top'>): Point<'face'> => {
  const toTop: Affine<'face', 'top'> = { m: strip.toTop };
  return apply(invert(toTop), p);
};

/** Faults of one strip of `a` and what should go on from it in `b`, in words; null where it does. */
function notOneLine(a: Placed, b: Placed, i: number, gap: number, job: Job): string | null {
  const [s, t] = [a.placement.strips[i], b.placement.strips[i]];
  if (!s || !t) return 'they have not as many strips as each other';
  if (s.flitch !== t.flitch || s.slab !== t.slab || s.face !== t.face)
    return 'they are not cut from one face of one slab';
  // Where b should begin and end, by the line of a drawn out beyond its end.
  const wanted = [onFace(s, [a.top.length + gap, 0]), onFace(s, [a.top.length + gap + b.top.length, 0])] as const;
  const is = [onFace(t, [0, 0]), onFace(t, [b.top.length, 0])] as const;
  const off = Math.max(distance(wanted[0], is[0]), distance(wanted[1], is[1]));
  if (off > CLOSE) return `the second lies ${said(job, off)} from where the first one's line goes on past the saw`;
  const ends = [
    a.top.length - Math.max(...applyAll({ m: s.toTop } as Affine<'face', 'top'>, s.finished).map(([x]) => x)),
    Math.min(...applyAll({ m: t.toTop } as Affine<'face', 'top'>, t.finished).map(([x]) => x)),
  ];
  const short = Math.max(...ends.map(Math.abs));
  return short > CLOSE ? `the wood ends ${said(job, short)} from the cut that parts them` : null;
}

/** Faults of a mitre between the left-hand end of `a` and the right-hand end of `b`. */
function unlikeMitres(a: Placed, b: Placed, job: Job): string | null {
  const [left, right] = [a.top.ends.left.degrees, b.top.ends.right.degrees];
  if (left !== right || left === 90)
    return `their ends are at ${left}° and ${right}°: a mitre wants the same angle on both, 45° or 135°`;
  if (a.top.front === 'live' || b.top.front === 'live') return null;
  const step = Math.abs(a.placement.depth[1] - b.placement.depth[1]);
  return step > STEP ? `one is ${said(job, step)} deeper than the other, and the mitre would not close` : null;
}

function checkMeeting(job: Job, run: Run, a: Placed, b: Placed, meeting: Meeting): Fault[] {
  const { faults, say } = findings(`/runs/${run.id}`);
  const names = `${run.name}: ${a.top.name} and ${b.top.name}`;
  if (meeting === 'mitre') {
    const why = unlikeMitres(a, b, job);
    if (why) say('run', `${names} do not make a mitre: ${why}.`);
  }
  if (meeting === 'grain carries on' || meeting === 'folds down') {
    const gap = sawBetween(job, meeting);
    const strips = Math.max(a.placement.strips.length, b.placement.strips.length);
    const whys = Array.from({ length: strips }, (_, i) => notOneLine(a, b, i, gap, job));
    const why = whys.find((one) => one !== null);
    if (why) say('run', `${names}: the grain does not go on, ${why}.`);
  }
  return faults;
}

/** @returns faults of `run` and `source` */
export function checkRuns(job: Job, plan: Plan): Fault[] {
  return runsOf(job).flatMap((run) => {
    const { faults, say } = findings(`/runs/${run.id}`);
    const placed = run.tops.map((id): Placed | null => {
      const [top, placement] = [job.tops[id], plan.placements[id]];
      return top && placement ? { top, placement } : null;
    });
    run.meets.forEach((meeting, i) => {
      const [a, b] = [placed[i], placed[i + 1]];
      if (a && b) faults.push(...checkMeeting(job, run, a, b, meeting));
    });
    const strips = placed.flatMap((one) => one?.placement.strips ?? []);
    const sources = new Set(strips.map(({ flitch, slab }) => (run.from === 'one slab' ? `${flitch}/${slab}` : flitch)));
    if (run.from !== 'anywhere' && sources.size > 1)
      say('source', `${run.name} is to come from ${run.from}; it is laid on ${sources.size}.`);
    return faults;
  });
}
