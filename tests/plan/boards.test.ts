import { describe, expect, test } from 'vitest';
import { rectangle } from '../../src/geometry';
import { type Board, defaultDoor, emptyJob, type Job, readJob } from '../../src/job';
import { leafCount } from '../../src/leaves';
import { boardReports, boardsForDoors, budgetRows, offcutsForLeaves } from '../../src/plan';
import { inventedReport } from '../cutmap/invented';

/** TRADE 11 c: four doors of 720 x 380, faces and backs, from a board of 46 x 210 x 1,650. */
function jobOf(board: Partial<Board> = {}, door: Partial<ReturnType<typeof defaultDoor>> = {}): Job {
  const job = emptyJob('doors', 'Doors', '2026-11-26');
  job.shop = { ...job.shop, resaw: { ...job.shop.resaw, faceAllowance: 0 } };
  job.boards.one = {
    ...{ id: 'one', name: 'Door board', species: 'walnut_black', moisture: 8, price: null, leaves: {} },
    ...{ length: 1650, width: 210, thickness: 46 },
    ...board,
  };
  job.doors.d = {
    ...defaultDoor('d'),
    name: 'Doors',
    width: 380,
    height: 720,
    count: 4,
    backed: true,
    trim: 10,
    ...door,
  };
  return job;
}
/** As it is read: no-break spaces are spaces. */
const plain = (words: readonly string[]) => words.join(' ').replaceAll('\u00a0', ' ');
const reportOf = (job: Job) => boardReports(job)[0] as ReturnType<typeof boardReports>[number];

describe('boards and the doors that want their leaves', () => {
  test('eight leaves are just enough for four doors: no spare is warned of, with what would give one (TRADE 11 c)', () => {
    const report = reportOf(jobOf());
    expect(report).toMatchObject({ leaves: 8, wanted: 8, given: 8, spare: 0, lost: 1, remnant: 11.3 });
    expect(report.warning).toContain('No leaf to spare');
    expect(report.help).toContain('Sawn from one face, not dressed between cuts: 9 leaves.');
    // 9 (2.6 + k) + 8 x 0.5 + 8 = 46 at k = 1.178, and the micrometre below it.
    expect(report.next?.kerf).toBe(1.177);
    expect(plain(report.help)).toContain('a kerf of at most 1.17 mm');
  });

  test('the usual way is what the command counts, and plan.json keeps its figures', () => {
    const job = jobOf({ thickness: 61.3 });
    const { leaf, kerf, dressing, faceAllowance, lastPiece } = job.shop.resaw;
    const told = leafCount({
      board: { length: 1650, width: 210, thickness: 61.3 },
      ...{ leaf, kerf, dressing, faceAllowance, lastPiece },
    });
    const { leaves, remnant, cuts } = reportOf(job);
    expect({ leaves, remnant, cuts }).toEqual(told);
  });

  test('too few leaves: how many faces are short, and a board that would do, which does', () => {
    const job = jobOf({ thickness: 30 });
    const report = reportOf(job);
    expect(report.given).toBeLessThan(8);
    expect(report.warning).toContain(`${8 - report.given} short`);
    const buy = report.toBuy[0];
    if (!buy) throw new Error('nothing to buy');
    const { length, width, thickness } = buy;
    for (let i = 0; i < buy.boards; i++)
      job.boards[`more${i}`] = { ...(job.boards.one as Board), id: `more${i}`, length, width, thickness };
    const given = boardReports(job).reduce((sum, one) => sum + one.given, 0);
    expect(given).toBe(8);
    expect(boardReports(job).every(({ warning }) => !warning?.includes('short'))).toBe(true);
  });

  test('a panel taller than the leaves is offered an end match that makes it', () => {
    const tall = { height: 1400, width: 180, count: 1 };
    const job = jobOf({ length: 1000 }, tall);
    const report = reportOf(job);
    expect(report.given).toBe(0);
    expect(plain(report.help)).toContain('End-matched from 2 lengths of 710 mm');
    expect(reportOf(jobOf({ length: 1000 }, { ...tall, ends: { match: 'book', rows: 2 } })).given).toBe(2);
  });

  test('what is spoilt gives no faces, a ripped board gives leaves of each strip and says its joint', () => {
    const spoilt = [{ id: 's', from: 700, to: 950 }];
    expect(reportOf(jobOf({ spoilt })).given).toBe(0);
    const beside = [{ id: 's', polygon: rectangle<'face'>(700, 0, 900, 12) }];
    expect(reportOf(jobOf({ spoilt: beside, width: 222 })).given).toBe(8);
    const job = jobOf({ width: 430 });
    job.shop.resaw.height = 250;
    const report = reportOf(job);
    expect(report.leaves).toBe(16);
    expect(plain(report.mind)).toMatch(/rip it into 2 strips of 213\.8 mm.*1 joint.*2\.4 mm of figure/);
  });

  test('the account adds up as it is printed, in millimetres and in inches', () => {
    for (let n = 0; n < 16; n++) {
      const job = jobOf({ thickness: 30 + n * 2.713, warp: { bow: 0.37, cup: 0.81, twist: null, sigma: 0.2 } });
      job.shop.resaw = { ...job.shop.resaw, kerf: 1.137, dressing: 0.263, drift: { per100: 0.117, tolerance: 0.05 } };
      const { budget } = reportOf(job);
      for (const units of ['mm', 'in'] as const) {
        const printed = budgetRows(budget, units).map(([, mm]) => Math.round(Number.parseFloat(mm) * 1000));
        const sum = printed.pop();
        expect(printed.reduce((all, one) => all + one, 0)).toBe(sum);
      }
    }
  });

  test('leaves over 2.5 mm finished are said to move like solid wood, thinner ones are not (TRADE 11)', () => {
    const said = (thickness: number) => {
      const job = jobOf();
      job.shop.resaw.leaf = { thickness, sanding: 0.6 };
      return reportOf(job).mind.some((words) => words.includes('moves like solid wood'));
    };
    expect([said(2.5), said(2.51)]).toEqual([false, true]);
  });

  test('whatever is typed, a report comes: planing over the board, warp over the board, no door, a frame without a panel', () => {
    const job = jobOf({ thickness: 5, warp: { bow: 9, cup: 0, twist: null, sigma: 0.2 } });
    job.shop.resaw.faceAllowance = 7;
    expect(reportOf(job)).toMatchObject({ leaves: 0, given: 0, cuts: [] });
    expect(reportOf(job).warning).toContain('gives no leaf');
    const frame = { stile: 200, topRail: 60, bottomRail: 60, groove: 8, clearance: 1 };
    expect(reportOf(jobOf({}, { frame })).wanted).toBe(0);
    const none = jobOf();
    none.doors = {};
    expect(reportOf(none)).toMatchObject({ leaves: 8, wanted: 0, warning: null });
    expect(boardsForDoors(none)).toEqual([]);
  });

  test('a job of before opens, and one with all that is new comes back as it was', () => {
    const job = jobOf({
      ringDegrees: [50, null, 40],
      warp: { bow: 1, cup: null, twist: null, sigma: 0.2 },
      spoilt: [{ id: 'a', from: 0, to: 30 }],
      way: { start: 'halved', dressed: true, carrier: false },
    });
    job.shop.resaw = { ...job.shop.resaw, height: 300, drift: { per100: 0.1, tolerance: 0.1 }, spareLeaves: 2 };
    expect(readJob(structuredClone(job))).toEqual(job);
    expect(readJob(structuredClone(jobOf()))).toEqual(jobOf());
    const wrong = structuredClone(job);
    wrong.boards.one = { ...(wrong.boards.one as Board), spoilt: [{ id: 'a', from: 40, to: 30 }] };
    expect(() => readJob(wrong)).toThrow(expect.objectContaining({ where: expect.stringContaining('/spoilt/0') }));
  });

  test('an offcut becomes a board of its clear piece, flattened by itself; without readings it has no thickness', () => {
    const { job, report } = inventedReport(3);
    const offcuts = offcutsForLeaves(job, report);
    expect(offcuts).toHaveLength(
      report.slabs.flatMap(({ offcuts: all }) => all.flatMap(({ pieces }) => pieces)).length,
    );
    for (const { board, leaves, name } of offcuts) {
      if (!board) continue;
      job.boards.off = { ...board, id: 'off' };
      const own = boardReports(job).find(({ id }) => id === 'off');
      expect(own?.leaves).toBe(leaves);
      expect(own?.name).toBe(name);
    }
  });
});
