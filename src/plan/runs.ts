import { seamWord } from '../grain';
import { grainLines, type Job, type Meeting, type Run, runsOf } from '../job';
import { formatLength } from '../units';
import { mitreOpening, type Work } from '../wood';
import type { TopReport, WorkStep } from './report';
import type { MeetingWords, TopWood } from './wood-report';

/**
 * How the tops of a run are parted and joined, in the words of the shop. The methods are common practice, no source; what a mitre opens is
 * reckoned (wood, `mitreOpening`).
 */

/** Two tops of the plan that meet. */
interface Met {
  readonly run: Run;
  readonly meeting: Exclude<Meeting, 'apart'>;
  readonly first: TopReport;
  readonly second: TopReport;
}

function meetingsOf(job: Job, tops: readonly TopReport[]): Met[] {
  const placed = new Map(tops.map((top) => [top.id, top]));
  return runsOf(job).flatMap((run) =>
    run.meets.flatMap((meeting, i): Met[] => {
      const [first, second] = [run.tops[i], run.tops[i + 1]].map((id) => placed.get(id ?? ''));
      return first && second && meeting !== 'apart' ? [{ run, meeting, first, second }] : [];
    }),
  );
}

/** What the parting of two tops takes of the face that shows, mm. */
const taken = (job: Job, meeting: Meeting): number =>
  job.shop.kerf.crosscut * (meeting === 'folds down' ? Math.SQRT2 : 1);

const HEADINGS: Record<Met['meeting'], string> = {
  butt: 'butt joint',
  mitre: 'mitre',
  'grain carries on': 'the grain carries on',
  'folds down': 'folds down',
};

/** How two tops of a run are joined, and what their wood does to that. */
function wordsOf(job: Job, { meeting, first, second }: Met, season: number): string[] {
  const say = (mm: number): string => formatLength(mm, job.units, { unit: true, decimals: 1, denominator: 32 });
  const { thickness } = first.size;
  if (meeting === 'butt') {
    return [
      `${second.name} stands with its end against ${first.name}: end grain holds little glue. Draw it up with bolts from below and key it level with loose tongues.`,
      `Over a year the edge that it stands against moves by ${say(season)} of depth; let the bolts' holes give that.`,
    ];
  }
  if (meeting === 'mitre') {
    const live = [first, second].some(({ id }) => job.tops[id]?.front === 'live');
    return [
      `Over a year each changes by ${say(season)} across its depth, and none along it: the mitre opens by up to ${say(mitreOpening(season))} at one end and closes again. Draw it shut with bolts from below, loose tongues, and no glue over its whole length.`,
      ...(live ? ['The live edges meet as they are: cut the mitre a little long and shape the corner by hand.'] : []),
    ];
  }
  if (meeting === 'folds down') {
    return [
      ...seamThrough([first, second]),
      `Lean the saw to 45°, the face that shows up. Two cuts, one from each side, leave ${say(taken(job, meeting))} between the two sharp edges; below them ${say(2 * thickness + taken(job, meeting))} of wood fall out as a wedge.`,
      'Tape the edges together, lay it open, glue, fold shut. End grain against end grain holds little: splines or loose tongues across the mitre.',
      'Both parts move alike across their depth, so the fold stays closed; the lower one must be free to move with the upper.',
    ];
  }
  return [
    ...seamThrough([first, second]),
    `Part them with one cut of ${say(taken(job, meeting))}, square, and trim nothing more off either end: then the grain goes on over the joint.`,
  ];
}

/** How a seam that goes on from top to top looks over both: the mean of its parts, each as long as its top; nothing where there is none. */
function seamThrough(tops: readonly TopReport[]): string[] {
  const parts = tops.flatMap(({ seams, size }) => seams.map(({ blend }) => ({ blend, length: size.length })));
  if (parts.length === 0 || parts.some(({ blend }) => blend === null)) return [];
  const whole = parts.reduce((sum, { length }) => sum + length, 0);
  const mean = parts.reduce((sum, { blend, length }) => sum + ((blend ?? 0) * length) / whole, 0);
  return [`The seam goes on from the one to the other. Taken together: ${seamWord(mean)}.`];
}

/** What is said of every meeting, for the glue-up sheet. */
export function meetingWords(job: Job, tops: readonly TopReport[], wood: readonly TopWood[]): MeetingWords[] {
  return meetingsOf(job, tops).map((met) => {
    const { run, meeting, first, second } = met;
    const seasons = wood.filter(({ id }) => id === first.id || id === second.id).map(({ fixing }) => fixing.season);
    return {
      heading: `${run.name}: ${first.name} to ${second.name}, ${HEADINGS[meeting]}`,
      words: wordsOf(job, met, Math.max(0, ...seasons)),
    };
  });
}

/** Steps of the order of work that part a board into the tops of a run and join sections. */
export function runSteps(job: Job, tops: readonly TopReport[]): WorkStep[] {
  const say = (mm: number): string => formatLength(mm, job.units, { unit: true, decimals: 1, denominator: 32 });
  const met = meetingsOf(job, tops);
  const named = (kinds: readonly Meeting[]): string[] =>
    met
      .filter(({ meeting }) => kinds.includes(meeting))
      .map(({ first, second, meeting }) => `${first.name} from ${second.name} (${say(taken(job, meeting))})`);
  const step = (name: string, detail: string, ...cautions: Work[]): WorkStep => ({ step: name, detail, cautions });
  const on = named(['grain carries on']);
  const folds = named(['folds down']);
  const joined = met.filter(({ meeting }) => meeting === 'butt' || meeting === 'mitre');
  return [
    ...(on.length > 0
      ? [
          step(
            'Part the run',
            `One square cut each, on the flat board: ${on.join('; ')}. Number the pieces first; no end is trimmed where the grain goes on.`,
            'crosscut',
          ),
        ]
      : []),
    ...(folds.length > 0
      ? [
          step(
            'Cut the fold',
            `Saw leaned to 45°, face up: ${folds.join('; ')} between the sharp edges. Try the lean on an offcut. Tape, glue and fold as the glue sheet says.`,
            'crosscut',
            'glue-up',
          ),
        ]
      : []),
    ...(joined.length > 0
      ? [
          step(
            'Fit the sections',
            `${joined.map(({ first, second, meeting }) => `${first.name} to ${second.name}: ${HEADINGS[meeting]}`).join('; ')}. Dry on the floor before anything is finished; on site they are drawn up, not glued.`,
          ),
        ]
      : []),
  ];
}

/** Tops of the plan that are one board until it is flat, for the steps before that: "Top and Leg". */
export const inOneBoard = (job: Job, tops: readonly TopReport[]): string[] =>
  grainLines(job)
    .filter((line) => line.tops.every(({ id }) => tops.some((top) => top.id === id)))
    .map((line) => line.tops.map(({ name }) => name).join(' and '));
