import { describe, expect, it } from 'vitest';
import type { Sheet } from '../../src/cutmap';
import { blanksDrawing } from '../../src/cutmap/blanks-drawing';
import { keySheets, templateDrawing } from '../../src/cutmap/sheets-keys';
import { applyAll, bounds, rigid } from '../../src/geometry';
import type { Job } from '../../src/job';
import { nestBlanks } from '../../src/keys';
import { keyWork } from '../../src/plan';
import { inventedRequest, typeface } from './invented';

/** The key sheets of an invented plan, its shop changed. */
async function sheetsOf(shop: Partial<Job['shop']> = {}) {
  const request = await inventedRequest(1);
  const [given] = request.report.tops;
  if (!given) throw new Error('no top');
  const job = { ...request.job, shop: { ...request.job.shop, ...shop } };
  const work = keyWork(job, given, given.keyWork?.notes ?? [])!;
  const top = { ...given, keyWork: work };
  const asked = { ...request, job, report: { ...request.report, tops: [top] } };
  const sheets = keySheets(asked, top);
  return {
    top,
    work,
    keys: sheets.filter(({ name }) => /-keys/.test(name)),
    templates: sheets.filter(({ name }) => /-templates/.test(name)),
    drawing: templateDrawing(asked, top)!,
  };
}

const wordsOn = (sheets: readonly Pick<Sheet, 'groups'>[]): string =>
  sheets
    .flatMap(({ groups }) =>
      groups.flatMap(({ elements }) => elements.flatMap((e) => (e.is === 'text' ? [e.text] : []))),
    )
    .join(' ');

const ringsOn = (sheets: readonly Pick<Sheet, 'groups'>[], layer: string) =>
  sheets.flatMap(({ groups }) =>
    groups
      .filter((group) => group.layer === layer)
      .flatMap(({ elements }) => elements.flatMap((e) => (e.is === 'path' && e.closed ? [e.points] : []))),
  );

describe('key sheets', () => {
  it('say what keys do not do, how places are measured, what fills the crack and where blanks come from', async () => {
    const { keys } = await sheetsOf();
    const words = wordsOn(keys);
    for (const needed of ['Keys hold a crack; they do not stop drying.', 'from A', 'resin, ml', 'Key blanks', 'stop'])
      expect(words).toContain(needed);
  });

  it('warn of router, chisel and dust wherever a template is cut after, of resin where a crack is filled', async () => {
    const { keys, templates } = await sheetsOf();
    for (const sheet of templates) {
      expect(wordsOn([sheet])).toMatch(/Plunge in steps.*Pare with both hands.*Wood dust harms/);
      expect(wordsOn([sheet])).toContain('100 mm: must measure 100 mm');
      expect(wordsOn([sheet])).toContain('4 in: must measure 4 in');
    }
    for (const sheet of keys) expect(wordsOn([sheet])).toContain('Epoxy can make you allergic');
  });

  it('draw the datum table from a straight edge: middle and ends of every axis lie where it says', async () => {
    const { top, work } = await sheetsOf();
    const [a, b] = work.datum.line;
    // The invented top is a rectangle: its longer straight sides are the front and the back edge.
    expect(work.datum.name).toMatch(/^(front|back) edge$/);
    expect(a[0]).toBeGreaterThan(b[0]);
    top.keys.forEach((key, i) => {
      const { middle, ends } = work.marks[i]!.datum;
      expect(middle.along).toBeCloseTo(top.size.length - key.at[0], 6);
      expect(Math.abs(middle.off)).toBeCloseTo(
        work.datum.name === 'front edge' ? key.at[1] : bounds(top.outline).maxY - key.at[1],
        6,
      );
      // Square to the front: both ends of the axis as far along as its middle, a key's length apart.
      for (const end of ends) expect(end.along).toBeCloseTo(middle.along, 6);
      expect(Math.abs(ends[0].off - ends[1].off)).toBeCloseTo(i < 2 ? 90 : 70, 6);
    });
  });

  it('hold for each size a paper key, an opening, the pocket and four corners for the chisel, on no more sheets than needed', async () => {
    const { templates, drawing } = await sheetsOf();
    for (const sheets of [templates, [drawing]]) {
      expect(ringsOn(sheets, 'KEY')).toHaveLength(2);
      expect(ringsOn(sheets, 'TEMPLATE')).toHaveLength(2);
      expect(ringsOn(sheets, 'POCKET')).toHaveLength(2);
      expect(ringsOn(sheets, 'CHISEL')).toHaveLength(8);
    }
    // Nothing is cut in two by the edge of a sheet that could stand whole on one.
    for (const sheet of templates) {
      for (const group of sheet.groups) {
        if (!group.clip) continue;
        const room = bounds(group.clip);
        for (const element of group.elements) {
          if (element.is !== 'path') continue;
          const own = bounds(element.points);
          expect(own.minX >= room.minX - 1e-6 && own.maxX <= room.maxX + 1e-6).toBe(true);
          expect(own.minY >= room.minY - 1e-6 && own.maxY <= room.maxY + 1e-6).toBe(true);
        }
      }
    }
  });

  it('leave out what cannot be cut and say why, and add the pair where there is a collar', async () => {
    const wide = await sheetsOf({ router: { bushing: 40, bit: 28 } });
    expect(ringsOn([wide.drawing], 'TEMPLATE')).toHaveLength(0);
    expect(ringsOn([wide.drawing], 'KEY')).toHaveLength(2);
    expect(wordsOn(wide.keys)).toContain('is wider than the waist of');

    const short = await sheetsOf({ router: { bushing: 30, bit: 10, reach: 12 } });
    expect(ringsOn([short.drawing], 'TEMPLATE')).toHaveLength(2);
    expect(wordsOn(short.keys)).toContain('The bit cuts 12');

    const pair = await sheetsOf({ router: { bushing: 16, bit: 6, collar: 27.8 } });
    expect(ringsOn([pair.drawing], 'TEMPLATE')).toHaveLength(4);
    expect(wordsOn(pair.keys)).toContain('Key and pocket from one template');
    const wrong = await sheetsOf({ router: { bushing: 16, bit: 6, collar: 30 } });
    expect(ringsOn([wrong.drawing], 'TEMPLATE')).toHaveLength(2);
    expect(wordsOn(wrong.keys)).toContain('does not go in');
  });
});

describe('blanks on an offcut', () => {
  it('are drawn inside it, in its proportions, the layers of a split strip as one', async () => {
    const wanted = [{ size: 'm', length: 73, width: 42, thickness: 12, count: 14 }];
    const stock = [{ name: 'O1 of Slab 1', length: 600, width: 60, thickness: 30 }];
    const [use] = nestBlanks(wanted, stock, { crosscut: 2.4, rip: 2.4, resaw: 1.3 }).uses;
    const { elements, height } = blanksDrawing(use!, 130, await typeface());
    const [piece, ...blanks] = elements.flatMap((e) => (e.is === 'path' ? [bounds(e.points)] : []));
    expect((piece!.maxX - piece!.minX) / (piece!.maxY - piece!.minY)).toBeCloseTo(10, 6);
    expect(blanks).toHaveLength(7);
    for (const { minX, maxX, minY, maxY } of blanks) {
      expect((maxX - minX) / (maxY - minY)).toBeCloseTo(73 / 42, 6);
      expect(minX >= piece!.minX - 1e-9 && maxX <= piece!.maxX + 1e-9).toBe(true);
      expect(minY >= piece!.minY - 1e-9 && maxY <= piece!.maxY + 1e-9).toBe(true);
    }
    expect(piece!.maxY).toBeLessThan(height);
    expect(elements.some((e) => e.is === 'text' && e.text === 'm ×2')).toBe(true);
  });
});

describe('the datum line of a top', () => {
  const length = 2000;
  const live = (y: number, way: number) =>
    Array.from({ length: 81 }, (_, i) => [i * 25, y + way * 12 * Math.sin(i / 4)] as const);
  const of = (outline: readonly (readonly [number, number])[]) =>
    keyWork(
      { shop: { keySizes: [], router: { bushing: 30, bit: 10 } }, units: 'mm' } as unknown as Job,
      {
        outline,
        size: { length, depth: [600, 600], thickness: 38 },
        cracks: [
          {
            id: 'c',
            mark: 'C1',
            short: 'a',
            called: 'a on Slab 1',
            seam: false,
            far: null,
            line: [
              [400, 300, 2],
              [900, 310, 0],
            ],
            through: false,
            proposed: false,
          },
        ],
        keys: [],
      },
      [],
    )!.datum;

  it('is the straight back where the front is live, from its left end', () => {
    const datum = of([...live(0, 1), [length, 600], [0, 600]]);
    expect(datum.name).toBe('back edge');
    expect(datum.line).toEqual([
      [length, 600],
      [0, 600],
    ]);
  });

  it('is the straight front where the back is live, also of a top that stands askew', () => {
    const ring = [[0, 0] as const, [length, 0] as const, ...live(600, 1).reverse()];
    expect(of(ring).name).toBe('front edge');
    const turned = applyAll(rigid<'top', 'top'>(3, 10, 20), ring);
    expect(of(turned).name).toBe('front edge');
  });

  it('is the front line, which is snapped first, where both are live', () => {
    const datum = of([...live(0, 1), ...live(600, 1).reverse()]);
    expect(datum).toEqual({
      name: 'front line',
      line: [
        [length, 0],
        [0, 0],
      ],
    });
  });
});
