import { describe, expect, it } from 'vitest';
import { cuttingMap, type Sheet } from '../../src/cutmap';
import { overlap, placeLabels } from '../../src/cutmap/labels';
import { measuresOf } from '../../src/cutmap/measures';
import { contentArea } from '../../src/cutmap/page';
import { lengthsOf } from '../../src/cutmap/request';
import { drawSlab } from '../../src/cutmap/slab-view';
import { type Typeface, textBounds } from '../../src/cutmap/text';
import { viewOf } from '../../src/cutmap/view';
import { planVersion } from '../../src/plan';
import { inventedReport, inventedRequest, typeface } from './invented';

/** Boxes of all text of a sheet that is not cut off by a clip (a tile shows its neighbour's text in part). */
const textBoxes = (groups: Sheet['groups'], face: Typeface) =>
  groups
    .filter((group) => !group.clip || group.layer !== 'MEASURE')
    .flatMap((group) => group.elements)
    .flatMap((element) =>
      element.is === 'text' && element.text !== ''
        ? [{ words: element.text, box: textBounds(element, face), size: element.size }]
        : [],
    );

function clashes(boxes: ReturnType<typeof textBoxes>): string[] {
  const out: string[] = [];
  boxes.forEach((a, i) => {
    for (const b of boxes.slice(i + 1)) if (overlap(a.box, b.box)) out.push(`"${a.words}" over "${b.words}"`);
  });
  return out;
}

describe('labels', () => {
  it('are disjoint and inside the drawing on invented slabs (with SLOW 200), in both details', async () => {
    const face = await typeface();
    for (let seed = 1; seed <= (process.env.SLOW ? 100 : 8); seed++) {
      const { report } = inventedReport(seed, seed % 2 === 0 ? 'in' : 'mm');
      for (const slab of report.slabs) {
        const measures = measuresOf(slab);
        for (const detail of ['hand', 'full'] as const) {
          const area = { ...contentArea('A4'), maxY: 100 };
          const inner = { minX: area.minX + 16, maxX: area.maxX - 14, minY: area.minY + 12, maxY: area.maxY - 6 };
          const view = viewOf(slab.outline.outer, inner);
          const { groups, unlabelled } = drawSlab(
            slab,
            measures,
            undefined,
            view,
            area,
            detail,
            lengthsOf(report),
            face,
          );
          const boxes = textBoxes(groups, face);
          expect(clashes(boxes)).toEqual([]);
          expect(unlabelled).toEqual([]);
          for (const { box, size } of boxes) {
            expect(size).toBeGreaterThanOrEqual(2.5);
            expect(box.minX).toBeGreaterThanOrEqual(area.minX);
            expect(box.maxX).toBeLessThanOrEqual(area.maxX);
            expect(box.minY).toBeGreaterThanOrEqual(area.minY);
            expect(box.maxY).toBeLessThanOrEqual(area.maxY);
          }
        }
      }
    }
  });

  it('refuses a label rather than lay it over another where there is no room', async () => {
    const label = { text: 'knot', at: [6, 0.3] as const, shape: 'tag' as const };
    const area = { minX: 0, minY: 0, maxX: 12, maxY: 6 };
    const { placed, refused } = placeLabels([label, label], area, [], await typeface());
    expect(placed).toHaveLength(1);
    expect(refused).toHaveLength(1);
  });
});

describe('whole sheets', () => {
  it('carry job, date, plan, page and, where a cut follows, cautions', async () => {
    const request = await inventedRequest(5);
    const { sheets } = cuttingMap(request);
    sheets.forEach((sheet, i) => {
      const words = sheet.groups
        .flatMap((group) => group.elements)
        .flatMap((element) => (element.is === 'text' ? [element.text] : []));
      for (const needed of [
        'North wall counter',
        '2026-11-25',
        `Plan 1, ${planVersion(request.report)}`,
        `${i + 1} of ${sheets.length}`,
      ])
        expect(words).toContain(needed);
      if (!/materials$|labels/.test(sheet.name)) expect(words).toContain('Cautions');
    });
  });

  it('give ten big numbers at most on a page for the hand', async () => {
    for (const seed of [1, 2, 3, 4]) {
      const { sheets } = cuttingMap(await inventedRequest(seed));
      const hands = sheets.filter(({ name: stem }) => stem.includes('marking'));
      expect(hands).toHaveLength(2);
      for (const { groups } of hands) {
        const big = groups
          .flatMap((group) => group.elements)
          .filter((element) => element.is === 'text' && element.size >= 8);
        expect(big).toHaveLength(9);
      }
    }
  });
});
