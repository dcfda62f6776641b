import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cuttingMap } from '../../src/cutmap';
import type { Element } from '../../src/cutmap/drawing';
import { resawSection, sectionHeight } from '../../src/cutmap/resaw-section';
import { textBounds } from '../../src/cutmap/text';
import { WAYS } from '../../src/leaves';
import { boardReports } from '../../src/plan';
import { inventedRequest, typeface } from './invented';

const request = await inventedRequest(3);
const face = await typeface();

/** The invented board, of another thickness and sawn another way. */
function sawn(thickness: number, leaf: number, way: (typeof WAYS)[number]) {
  const job = structuredClone(request.job);
  const board = Object.values(job.boards)[0];
  if (!board) throw new Error('no board');
  Object.assign(board, { thickness, way });
  job.shop.resaw.leaf.thickness = leaf;
  const boards = boardReports(job);
  return { job, report: boards[0] as (typeof boards)[number], boards };
}
const cases = fc.record({
  thickness: fc.integer({ min: 200, max: 950 }).map((n) => n / 10),
  leaf: fc.integer({ min: 6, max: 40 }).map((n) => n / 10),
  way: fc.constantFrom(...WAYS),
});
const isText = (element: Element) => element.is === 'text';

describe('the resaw sheet', () => {
  it('draws every layer of the section to scale, in its place', () => {
    fc.assert(
      fc.property(cases, ({ thickness, leaf, way }) => {
        const { report } = sawn(thickness, leaf, way);
        const area = { minX: 12, minY: 12, maxX: 285, maxY: 10 + sectionHeight(report) };
        const { groups, scale } = resawSection(report, area);
        const kerfs = groups
          .flatMap(({ elements }) => elements)
          .filter((element) => element.is === 'path' && element.fill === 'pencil')
          .map((element) => (element.is === 'path' ? (element.points[0]?.[1] ?? 0) : 0))
          .sort((a, b) => a - b);
        const begins = report.sawn.cuts.map(({ at }) => at / scale).sort((a, b) => a - b);
        expect(kerfs).toHaveLength(begins.length);
        kerfs.forEach((y, i) => {
          expect(y - (kerfs[0] as number)).toBeCloseTo((begins[i] as number) - (begins[0] as number), 6);
        });
        if (thickness <= 88) expect(scale).toBe(1);
      }),
      { numRuns: 25 },
    );
  });

  it('names leaves and cuts without one name over another, and within its room', () => {
    fc.assert(
      fc.property(cases, ({ thickness, leaf, way }) => {
        const { report } = sawn(thickness, leaf, way);
        const area = { minX: 12, minY: 12, maxX: 285, maxY: 10 + sectionHeight(report) };
        const boxes = resawSection(report, area)
          .groups.flatMap(({ elements }) => elements)
          .filter(isText)
          .map((element) => textBounds(element, face));
        boxes.forEach((one, i) => {
          for (const other of boxes.slice(i + 1)) {
            const apart =
              one.maxX <= other.minX || other.maxX <= one.minX || one.maxY <= other.minY || other.maxY <= one.minY;
            expect(apart).toBe(true);
          }
          expect(one.minX).toBeGreaterThanOrEqual(area.minX);
          expect(one.maxX).toBeLessThanOrEqual(area.maxX);
        });
      }),
      { numRuns: 25 },
    );
  });

  it('prints a fence setting for every cut, in the order of work, and an account that adds up', () => {
    const way = { start: 'both faces', dressed: true, carrier: false } as const;
    const { job, report, boards } = sawn(52, 2, way);
    const { sheets } = cuttingMap({ ...request, job, report: { ...request.report, boards } });
    const words = sheets
      .filter(({ title }) => title.startsWith('Resawing'))
      .flatMap(({ groups }) => groups.flatMap(({ elements }) => elements.filter(isText)))
      .map((element) => (element.is === 'text' ? element.text : ''));
    for (const { stays } of report.sawn.cuts) expect(words).toContain(stays.toFixed(2));
    const places = report.sawn.cuts.map(({ at }) => words.indexOf(at.toFixed(2)));
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(words).toContain('52.00');
    expect(report.budget.reduce((sum, { mm }) => sum + Math.round(mm * 1000), 0)).toBe(52_000);
  });
});
