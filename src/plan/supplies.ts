import type { Job } from '../job';
import { formatLength } from '../units';
import type { PlanReport } from './report';

/** What a plan takes besides its stock. */
export interface Supply {
  readonly item: string;
  /** As one asks for it at the counter: '240 g', '2 sheets'. */
  readonly quantity: string;
  readonly of: string;
}

/** Glue is reckoned to this, g, and resin to this, ml: nobody weighs finer. */
const GLUE_STEP = 5;
const RESIN_STEP = 10;

/** What has to be bought or be at hand besides slabs and boards: glue, resin for cracks whose depth is known, screws, cores. */
export function suppliesOf(job: Job, { tops, wood, sets }: Pick<PlanReport, 'tops' | 'wood' | 'sets'>): Supply[] {
  const rows: Supply[] = [];
  const put = (item: string, amount: number, unit: string, step: number, of: string): void => {
    if (amount > 0) rows.push({ item, quantity: `${Math.ceil(amount / step) * step} ${unit}`, of });
  };
  for (const { name, glue, fixing } of wood.tops) {
    put('Wood glue', sum(glue.map(({ grams }) => grams)), 'g', GLUE_STEP, `seams of ${name}`);
    const screws = fixing.rows.length * fixing.perRow;
    put(
      `Screws with washers, ${formatLength(fixing.screw, job.units, { unit: true })}`,
      screws,
      '',
      1,
      `fixing ${name}`,
    );
  }
  for (const { name, keyWork } of tops) {
    const litres = sum((keyWork?.cracks ?? []).map(({ fill }) => fill?.litres ?? 0));
    put('Resin, mixed', litres * 1000, 'ml', RESIN_STEP, `cracks of known depth in ${name}`);
  }
  for (const { press } of sets) {
    put('Veneer glue', press.glue.grams, 'g', GLUE_STEP, 'panels');
    for (const { thickness, cuts } of press.cores)
      put(
        `Sheets for cores, ${formatLength(thickness, job.units, { unit: true })}`,
        cuts.sheets.length,
        '',
        1,
        'panels',
      );
  }
  return rows.map((row) => ({ ...row, quantity: row.quantity.trim() }));
}

const sum = (amounts: readonly number[]): number => amounts.reduce((total, amount) => total + amount, 0);
