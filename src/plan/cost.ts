import type { Job } from '../job';
import type { BoardReport } from './boards-types';
import type { CostReport, SlabReport, TopReport } from './report';

const MM2_PER_M2 = 1e6;

/** What the plan's stock costs. Totals are null as soon as one price is not known: a part of a sum is no sum. */
export function costOf(
  job: Job,
  slabs: readonly SlabReport[],
  boards: readonly BoardReport[],
  tops: readonly TopReport[],
): CostReport {
  const lines: CostReport['lines'][number][] = [
    ...slabs.map(({ name, flitch, price }) => ({
      item: `${job.flitches[flitch]?.name ?? flitch}, ${name}`,
      quantity: '1',
      price,
    })),
    ...boards.map(({ id, name }) => ({ item: name, quantity: '1', price: job.boards[id]?.price ?? null })),
  ];
  const sum = (prices: readonly (number | null)[]): number | null =>
    prices.reduce<number | null>((total, price) => (total === null || price === null ? null : total + price), 0);
  const forSlabs = sum(slabs.map(({ price }) => price));
  const area = tops.reduce((total, { size }) => total + (size.length * (size.depth[0] + size.depth[1])) / 2, 0);
  return {
    lines,
    total: sum(lines.map(({ price }) => price)),
    slabs: forSlabs,
    perSquareMetre: forSlabs === null || area === 0 ? null : (forSlabs / area) * MM2_PER_M2,
  };
}
