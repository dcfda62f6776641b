import fc from 'fast-check';
import { cuttingMap, PAPERS, type PaperName, type Sheet, type SheetRequest, type Typeface } from '../../src/cutmap';
import { overlap } from '../../src/cutmap/labels';
import { MARGIN } from '../../src/cutmap/page';
import { textBounds } from '../../src/cutmap/text';
import { type Bounds, bounds, type Point } from '../../src/geometry';
import { DEFECT_KINDS, type Defect, type Job } from '../../src/job';
import { planReport } from '../../src/plan';
import { laidPlans } from '../support/laid-plans';
import { inventedReport } from './invented';

/** Plans laid at random, and reports drawn at random, which are richer: on every paper, in both units, with names of all kinds. */

export type RandomMap = Pick<SheetRequest, 'job' | 'report' | 'paper'>;

const NAMES = [
  'Top',
  'Counter by the north window, left of the sink',
  'W'.repeat(90),
  'A very long name of a job that goes on and on, with no end in sight, '.repeat(7),
  'Küche Ж שולחן 🪵',
  '<b>&"%%',
  '1 ½ ⁄ 3/4',
];
const name = fc.constantFrom(...NAMES);
const paper = fc.constantFrom(...(Object.keys(PAPERS) as PaperName[]));
const units = fc.constantFrom('mm' as const, 'in' as const);
const printed = fc.record({ fraction: fc.constantFrom(16 as const, 32 as const), both: fc.boolean() });
const share = fc.double({ min: 0, max: 1, noNaN: true });

/** A defect of a kind in the box of a slab. */
const defect = fc.tuple(
  fc.constantFrom(...DEFECT_KINDS),
  share,
  share,
  share,
  fc.constantFrom('avoid' as const, 'keyed' as const, 'allow' as const),
);

function withDefects(
  job: Job,
  wanted: readonly (readonly [Defect['kind'], number, number, number, Defect['permit']])[],
): Job {
  const { one, two } = job.flitches.log!.slabs;
  wanted.forEach(([kind, u, v, w, permit], i) => {
    const face = (i % 2 === 0 ? one! : two!).faces.top;
    const { minX, minY, maxX, maxY } = bounds(face.outline!.outer);
    const [x, y, r] = [minX + u * (maxX - minX), minY + v * (maxY - minY), 4 + w * 40];
    const thin = kind === 'crack' || kind === 'shake';
    const shape = thin
      ? { line: [0, 1, 2].map((k) => [x + k * r * 3, y + (k % 2) * 3, k === 1 ? 2 : 0] as [number, number, number]) }
      : {
          polygon: [
            [x - r, y - r],
            [x + r, y - r],
            [x, y + r],
          ] as Point<'face'>[],
        };
    face.defects[`d${i + 1}`] = { id: `d${i + 1}`, kind, permit, ...shape };
  });
  return job;
}

export const laidMaps: fc.Arbitrary<RandomMap> = fc
  .record({
    laid: laidPlans,
    paper,
    units,
    names: fc.tuple(name, name, name, name),
    printed,
    defects: fc.array(defect, { maxLength: 25 }),
  })
  .map(({ laid: { job: bare, plan }, paper: on, units: counted, names, defects, printed: lengths }) => {
    const [whole, a, slab, called] = names;
    const job = structuredClone({ ...bare, name: whole, units: counted, printed: lengths });
    job.tops.a!.name = a;
    job.flitches.log!.slabs.one!.name = slab;
    withDefects(job, defects);
    return { job, paper: on, report: planReport(job, { ...plan, name: called }) };
  });

export const inventedMaps: fc.Arbitrary<RandomMap> = fc
  .record({ seed: fc.integer({ min: 2, max: 1e6 }), paper, units, name, printed })
  .map(({ seed, paper: on, units: counted, name: called, printed: lengths }) => {
    const { job, report } = inventedReport(seed, counted, called);
    const printing = { printed: lengths };
    return { job: { ...job, ...printing }, report: { ...report, job: { ...report.job, ...printing } }, paper: on };
  });

/** All text of a sheet that is not cut off by a clip (a tile shows its neighbour's text in part), and what is painted over it later. */
function parts(
  sheet: Sheet,
  face: Typeface,
): { texts: { words: string; box: Bounds; size: number; over: number }[]; fills: { box: Bounds; over: number }[] } {
  const elements = sheet.groups.filter(({ clip }) => !clip).flatMap((group) => group.elements);
  return {
    texts: elements.flatMap((element, over) =>
      element.is === 'text' && element.text !== ''
        ? [{ words: element.text, box: textBounds(element, face), size: element.size, over }]
        : [],
    ),
    fills: elements.flatMap((element, over) => {
      if (element.is === 'path' && element.fill && element.fill !== 'pale')
        return [{ box: bounds(element.points), over }];
      if (element.is !== 'arc' || !element.fill) return [];
      const {
        centre: [x, y],
        radius: r,
      } = element;
      // The square in the circle: no text in a ring reaches farther.
      const s = r * Math.SQRT1_2;
      return [{ box: { minX: x - s, maxX: x + s, minY: y - s, maxY: y + s }, over }];
    }),
  };
}

/** What is wrong with how the sheets are set; a sentence each. */
export function sheetFaults(request: SheetRequest): string[] {
  const out: string[] = [];
  for (const sheet of cuttingMap(request).sheets) {
    const { texts, fills } = parts(sheet, request.typeface);
    const say = (words: string) => out.push(`${request.paper}, ${sheet.name}: ${words}`);
    texts.forEach((a, i) => {
      for (const b of texts.slice(i + 1)) if (overlap(a.box, b.box)) say(`"${a.words}" over "${b.words}"`);
      for (const fill of fills) if (fill.over > a.over && overlap(a.box, fill.box)) say(`"${a.words}" is painted over`);
      if (a.size < 2.5) say(`"${a.words}" is ${a.size} mm high`);
      const [w, h] = [sheet.width - MARGIN + 1e-6, sheet.height - MARGIN + 1e-6];
      if (a.box.minX < MARGIN - 1e-6 || a.box.maxX > w || a.box.minY < MARGIN - 1e-6 || a.box.maxY > h)
        say(`"${a.words}" is outside the margins`);
    });
  }
  return out;
}
