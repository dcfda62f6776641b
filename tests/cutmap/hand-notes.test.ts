import { describe, expect, it } from 'vitest';
import { cuttingMap, type PaperName, type Sheet } from '../../src/cutmap';
import { inventedRequest } from './invented';

const words = ({ groups }: Sheet): string[] =>
  groups.flatMap(({ elements }) => elements.flatMap((one) => (one.is === 'text' ? [one.text] : [])));

describe('what stands on the sheets', () => {
  it.each(process.env.SLOW ? (['Letter', 'Roll'] as const) : (['Letter'] as const))(
    'is drawn at scales that a rule has, and no measure on a page for the hand is cut short: %s',
    async (paper: PaperName) => {
      const request = await inventedRequest(3, paper);
      for (const units of ['mm', 'in'] as const) {
        const printed = { fraction: 32, both: true } as const;
        const job = { ...request.job, units, printed };
        const report = { ...request.report, job: { ...request.report.job, units, printed } };
        const { sheets } = cuttingMap({ ...request, job, report });
        for (const sheet of sheets) {
          const scale = words(sheet).flatMap((line) => /^1:([\d.]+), /.exec(line)?.[1] ?? [])[0];
          if (scale) expect([1, 2, 2.5, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50]).toContain(Number(scale));
          if (!/^(Marking out|Joint lines)/.test(sheet.title)) continue;
          const notes = words(sheet).filter((line) => /^((upper|lower) edge|(left|right) end|flat:) /.test(line));
          expect(notes.length).toBeGreaterThan(3);
          expect(notes.filter((line) => line.endsWith('…'))).toEqual([]);
        }
      }
    },
  );
});
