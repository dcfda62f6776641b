import { type SeamWord, seamDoes, seamWord } from '../../../grain';
import { type Job, type Plan, wantedTop } from '../../../job';
import { formatLength, formatMoney, formatShare } from '../../../units';

/** The figures by which plans are told apart; null where they cannot be known. */
interface PlanFigures {
  readonly missing: readonly string[];
  /** Of the worst seam; 1 without any. */
  readonly blend: number | null;
  /** Thickness that the thinnest top has over what is wanted, mm. */
  readonly spare: number | null;
  readonly waste: number;
  readonly cost: number | null;
}

/** The figures of a plan for the job that it was made for. */
export function figuresOf(plan: Plan, job: Job): PlanFigures {
  const placements = Object.values(plan.placements);
  const blends = placements.flatMap(({ joints }) => joints.map(({ blend }) => blend));
  const spares = placements.map(({ top, thickness }) =>
    thickness === null ? null : thickness - (wantedTop(job, top)?.thickness ?? 0),
  );
  return {
    missing: plan.misses.map(({ top }) => wantedTop(job, top)?.name ?? top),
    blend: blends.some((blend) => blend === null) ? null : Math.min(1, ...(blends as number[])),
    spare: spares.length === 0 || spares.some((mm) => mm === null) ? null : Math.min(...(spares as number[])),
    waste: plan.waste,
    cost: plan.cost,
  };
}

/** How the seams of a plan look, said of the worst. */
export function seamsOf(plan: Plan): SeamWord | 'none' | 'not known' {
  const joints = Object.values(plan.placements).flatMap((placement) => placement.joints);
  if (joints.length === 0) return 'none';
  const blends = joints.map(({ blend }) => blend);
  if (blends.some((blend) => blend === null)) return 'not known';
  return seamWord(Math.min(...(blends as number[])));
}

/** Thickness to spare of a plan's thinnest top, or what is missing to say it. */
export function spareOf(plan: Plan, job: Job): string {
  if (Object.keys(plan.placements).length === 0) return '–';
  const { spare } = figuresOf(plan, job);
  if (spare === null) return 'no readings';
  const mm = formatLength(Math.abs(spare), job.units, { decimals: 1 });
  return spare < 0 ? `${mm} too thin` : mm;
}

export const costOf = (plan: Plan, job: Job): string =>
  plan.cost === null ? 'no price' : formatMoney(plan.cost, job.currency);

/** A difference of thickness under this, mm, is no difference to a maker. */
const THIN = 0.5;
/** The same of waste, share of the slabs. */
const LITTLE = 0.01;

/** What one plan has less of than another, and more of, in words. */
export interface Difference {
  readonly gives: readonly string[];
  readonly gains: readonly string[];
}

/** @param job of the plan; @param otherJob of the other plan, where it is not the same */
export function differenceOf(plan: Plan, other: Plan, job: Job, otherJob: Job = job): Difference {
  const [own, rival] = [figuresOf(plan, job), figuresOf(other, otherJob)];
  const [gives, gains]: [string[], string[]] = [[], []];
  for (const name of own.missing) if (!rival.missing.includes(name)) gives.push(`${name} is not had`);
  for (const name of rival.missing) if (!own.missing.includes(name)) gains.push(`${name} is had`);
  if (own.blend !== null && rival.blend !== null && seamsOf(plan) !== seamsOf(other)) {
    (own.blend < rival.blend ? gives : gains).push(`the seam ${plainSeam(plan)}`);
  }
  const ripped = rippedOf(plan).filter((what) => !rippedOf(other).includes(what));
  gains.push(...ripped.map((what) => `the ${what} is ripped out`));
  if (own.spare !== null && rival.spare !== null && Math.abs(own.spare - rival.spare) >= THIN) {
    const mm = formatLength(Math.abs(own.spare - rival.spare), job.units, { decimals: 1 });
    if (own.spare < rival.spare) gives.push(`${mm} of thickness`);
    else gains.push(`${mm} more thickness`);
  }
  if (Math.abs(own.waste - rival.waste) >= LITTLE) {
    const share = formatShare(Math.abs(own.waste - rival.waste));
    if (own.waste > rival.waste) gives.push(`${share} more waste`);
    else gains.push(`${share} less waste`);
  }
  if (own.cost !== null && rival.cost !== null && own.cost !== rival.cost) {
    const money = formatMoney(Math.abs(own.cost - rival.cost), job.currency);
    if (own.cost > rival.cost) gives.push(`${money} dearer`);
    else gains.push(`${money} cheaper`);
  }
  return { gives, gains };
}

/** What is ripped out of the slabs of a plan, in words. */
const rippedOf = ({ placements }: Plan): string[] => [
  ...new Set(
    Object.values(placements).flatMap(({ joints }) =>
      joints.flatMap(({ made, ripped }) => (made === 'reglued' ? [ripped === 'pith' ? 'pith' : 'crack'] : [])),
    ),
  ),
];

/** Said after "the seam". */
function plainSeam(plan: Plan): string {
  const word = seamsOf(plan);
  if (word === 'none') return 'is spared';
  return word === 'not known' ? 'is not known' : seamDoes(word);
}

/** A difference in a sentence or two; says so when there is none. */
export function differenceWords({ gives, gains }: Difference): string {
  if (gives.length === 0 && gains.length === 0) return 'As good, cut elsewhere.';
  const parts = [
    ...(gives.length > 0 ? [`Gives up: ${gives.join('; ')}.`] : []),
    ...(gains.length > 0 ? [`Gains: ${gains.join('; ')}.`] : []),
  ];
  return parts.join(' ');
}
