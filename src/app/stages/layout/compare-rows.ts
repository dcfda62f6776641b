import { type Job, type Plan, wantedTops } from '../../../job';
import { formatShare } from '../../../units';
import { costOf, differenceOf, figuresOf, seamsOf, spareOf } from './plan-words';

/** A plan and the job that it was made for: with a what-if the two differ. */
export interface Side {
  readonly plan: Plan;
  readonly job: Job;
  readonly name: string;
}

/** What two plans have beside each other: a figure of each, and which of them is better in it. */
interface CompareRow {
  readonly name: string;
  readonly values: readonly [string, string];
  /** 0 the first, 1 the second; null where neither is, or it is not known. */
  readonly better: 0 | 1 | null;
}

/** Figure beside figure of two plans. What a maker would not tell apart is the same. */
export function compareRows(one: Side, other: Side): CompareRow[] {
  const sides = [one, other] as const;
  const [a, b] = [figuresOf(one.plan, one.job), figuresOf(other.plan, other.job)];
  const row = (name: string, say: (side: Side) => string, more: number | null): CompareRow => {
    const values = [say(one), say(other)] as const;
    const same = values[0] === values[1] || more === null || more === 0;
    return { name, values, better: same ? null : more > 0 ? 0 : 1 };
  };
  const over = (x: number | null, y: number | null): number | null => (x === null || y === null ? null : x - y);
  const gives = sides.map(({ plan, job }, i) => {
    const rival = sides[1 - i] as Side;
    return differenceOf(plan, rival.plan, job, rival.job).gives.join('; ') || 'nothing';
  });
  return [
    row('tops had', ({ plan, job }) => hadOf(plan, job), b.missing.length - a.missing.length),
    row('slabs used', ({ plan, job }) => slabsOf(plan, job), null),
    row('seam', ({ plan }) => seamsOf(plan), over(a.blend, b.blend)),
    row('thickness to spare', ({ plan, job }) => spareOf(plan, job), over(a.spare, b.spare)),
    row('waste', ({ plan }) => formatShare(plan.waste), b.waste - a.waste),
    row('price of the slabs', ({ plan, job }) => costOf(plan, job), over(b.cost, a.cost)),
    { name: 'gives up', values: [gives[0] as string, gives[1] as string], better: null },
  ];
}

function hadOf({ placements }: Plan, job: Job): string {
  const wanted = wantedTops(job).length;
  return `${Object.keys(placements).length} of ${wanted}`;
}

function slabsOf({ placements }: Plan, job: Side['job']): string {
  const names = Object.values(placements).flatMap(({ strips }) =>
    strips.map(({ flitch, slab }) => job.flitches[flitch]?.slabs[slab]?.name ?? slab),
  );
  return [...new Set(names)].sort().join(', ') || 'none';
}
