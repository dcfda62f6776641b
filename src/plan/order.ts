import { defectLetters, isProposed, type Job, MARK_DRILL, NOT_CONFIRMED, wantedTop } from '../job';
import { formatLength } from '../units';
import type { Work } from '../wood';
import type { BoardReport } from './boards-types';
import { madeSteps } from './joint-made';
import type { SlabReport, TopReport, WorkStep } from './report';
import { inOneBoard, runSteps } from './runs';
import { sapwoodWords } from './sapwood';
import { scribeWords, trimWords } from './top-lines';

const step = (name: string, detail: string, ...cautions: Work[]): WorkStep => ({ step: name, detail, cautions });

/**
 * The order of work that every plan follows (DESIGN 1), with the steps that this plan does not need left out.
 * The order itself is common practice, no source.
 */
export function workOrder(
  job: Job,
  tops: readonly TopReport[],
  slabs: readonly SlabReport[],
  boards: readonly BoardReport[],
): WorkStep[] {
  const say = (mm: number): string => formatLength(mm, job.units);
  const seamed = tops.some(({ seams }) => seams.length > 0);
  const keyed = tops.some(({ keys }) => keys.length > 0);
  const names = slabs.map(({ name }) => name).join(', ');
  const made = madeSteps(job, tops);
  const wanted = tops.flatMap(({ id }) => wantedTop(job, id) ?? []);
  const scribed = wanted.flatMap((top) => scribeWords(job, top));
  const steps: WorkStep[] = [];
  if (slabs.length > 0) {
    steps.push(
      ...unseenSteps(job, slabs),
      ...farSteps(slabs),
      ...proposedSteps(slabs),
      ...sapwoodSteps(tops),
      step('Sweep for metal', `${names}: both faces, edges and ends.`, 'chainsaw'),
      step(
        'Drill the marks',
        `Marks A and B on each slab, through, ${formatLength(MARK_DRILL, job.units, { unit: true, decimals: 0, denominator: 32 })}, as the map shows. The sled does not erase them.`,
      ),
      step('Mark all lines', 'From the two marks with two tapes; check each line from the live edge.'),
      step(
        'Crosscut',
        [
          `Leave ${say(job.shop.endAllowance)} at each end. Slice waste off an end until a slice does not snap on a check.`,
          ...inOneBoard(job, tops).map((name) => `${name} stay one board.`),
        ].join(' '),
        'crosscut',
        'lifting',
      ),
      step('Seal the ends', 'The same day: fresh ends check first.'),
    );
    if (slabs.some(({ cuts }) => cuts.some(({ kind, stage }) => kind === 'rip' && stage === 'rough'))) {
      steps.push(step('Rough-rip', `${say(job.shop.jointAllowance)} wide of every straight edge.`, 'rip', 'dust'));
    }
    steps.push(
      ...made.ripping,
      step(
        'Flatten both faces',
        'To the thickness on the flattening sheet, as much off one face as off the other.',
        'router sled',
        'dust',
      ),
      step('Sticker', `One to three weeks, at the ${job.shop.siteMoisture} % of moisture that the wood will live in.`),
    );
    if (seamed) {
      steps.push(
        step(
          'Photograph the flat faces',
          `Planing moves the figure: read the photos in the place of the rough ones, tick that they show the faces flattened, and find each joint again within the ${say(job.shop.jointAllowance)} left for it.`,
        ),
      );
    }
    steps.push(
      step(
        'Flatten again',
        `Lightly: ${say(job.shop.reserve.second)} of both faces together is kept for it.`,
        'router sled',
        'dust',
      ),
    );
  }
  if (seamed) {
    steps.push(
      ...made.opening,
      step('Joint', 'Straighten both edges of each seam. They must close without force.', 'rip'),
      step(
        'Glue',
        [
          'Parts more than 2 % of moisture apart are not glued. Never pull a joint shut with clamps.',
          ...(tops.some(({ seams }) => seams.length > 1)
            ? ['Of a top of three strips or more one seam at a time, each dry before the next.']
            : []),
        ].join(' '),
        'glue-up',
      ),
      step(
        'Level both sides',
        `${say(job.shop.reserve.level)} of both faces together is kept for it.`,
        'router sled',
        'dust',
      ),
    );
  }
  if (slabs.some(({ defects }) => defects.length > 0))
    steps.push(step('Fill', 'Cracks and voids that stay, from the back where they go through.', 'epoxy'));
  if (keyed)
    steps.push(
      step('Keys', 'Pockets and keys from the templates on the key sheets.', 'keys', 'router template', 'chisel'),
    );
  if (boards.length > 0) {
    steps.push(
      step(
        'Resaw the leaves',
        'Fence settings on the resaw sheet; number every leaf as it comes off.',
        'resaw',
        'dust',
      ),
    );
    steps.push(step('Press the panels', 'Face and back alike, so that a panel stays flat.', 'vacuum press'));
  }
  if (tops.length > 0) {
    steps.push(
      step('Sand', `${say(job.shop.sanding)} of both faces together is kept for it.`, 'dust'),
      step(
        'Trim and cut out',
        ['To the finished length and depth.', ...wanted.flatMap(trimWords)].join(' '),
        'crosscut',
      ),
      ...runSteps(job, tops),
      step('Finish', 'All faces, ends and cut-outs alike, or the top will cup.', 'finish'),
      ...(scribed.length > 0 ? [step('Scribe', scribed.join(' '))] : []),
      step('Fix', 'Let the top move across its grain: slots towards the wall, fast at the front.', 'fixing', 'lifting'),
    );
  }
  return steps;
}

/** What to do where a slab ran out of its photo: the outline there is the photo's frame, not the wood's edge, and cuts were laid out by it. */
function unseenSteps(job: Job, slabs: readonly SlabReport[]): WorkStep[] {
  const cutOff = slabs.filter(
    ({ flitch, slab, face }) => (job.flitches[flitch]?.slabs[slab]?.faces[face].unseen.length ?? 0) > 0,
  );
  if (cutOff.length === 0) return [];
  const names = cutOff.map(({ name }) => name).join(', ');
  return [
    step(
      'Look at what no photo shows',
      `${names}: the slab runs out of its photo, and the plan ends there. See that no crack or rot comes in from beyond before you cut by that side.`,
    ),
  ];
}

/** What to look at where a defect that only the other face shows was kept off though nobody knows how deep it goes. */
function farSteps(slabs: readonly SlabReport[]): WorkStep[] {
  const unsaid = slabs.flatMap(({ farDefects }) => farDefects.filter(({ defect }) => defect.through === undefined));
  if (unsaid.length === 0) return [];
  return [
    step(
      'Turn the slabs over',
      `Probe ${unsaid.map(({ name }) => name).join('; ')}. The plan keeps off; where it stops short there is more wood than the plan uses.`,
    ),
  ];
}

/** Where the plan counts on what a photo proposed: a false crack would be given keys, a false hole costs wood. */
function proposedSteps(slabs: readonly SlabReport[]): WorkStep[] {
  const named = slabs.flatMap(({ name, defects, farDefects }) => {
    const letters = defectLetters(defects);
    const all = [...defects.map((defect) => ({ defect, letter: letters.get(defect.id) ?? '' })), ...farDefects].filter(
      ({ defect }) => isProposed(defect),
    );
    const kinds = [...new Set(all.map(({ defect }) => defect.kind))].map((kind) => {
      const own = all.filter(({ defect }) => defect.kind === kind);
      return `${kind} ${own.map(({ letter }) => letter).join(', ')}`;
    });
    return kinds.length > 0 ? [`${name}: ${kinds.join('; ')}`] : [];
  });
  if (named.length === 0) return [];
  return [
    step(
      'Confirm what the photos proposed',
      `${named.join('. ')}. The plan counts on them, though they are ${NOT_CONFIRMED}: see that each is there, and settle it under Stock.`,
    ),
  ];
}

/** Where no sapwood is wanted and it is not known where it lies. */
function sapwoodSteps(tops: readonly TopReport[]): WorkStep[] {
  const doubts = tops.filter(({ sapwood }) => sapwood.wish === 'not' && sapwood.untold.length > 0);
  if (doubts.length === 0) return [];
  return [
    step(
      'Look for sapwood',
      doubts.map(({ name, sapwood }) => `${name}: ${sapwoodWords(sapwood).join(' ')}`).join(' '),
    ),
  ];
}
