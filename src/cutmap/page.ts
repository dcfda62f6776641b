import type { Bounds } from '../geometry';
import type { PlanReport } from '../plan';
import { type Area, type Block, flow, heightOf, paragraph } from './blocks';
import { box, type Element, type Group, path, type Sheet, text } from './drawing';
import { shorten, type Typeface } from './text';

/** Paper sizes, portrait, mm: ISO 216 for the A sizes; US Letter and Tabloid from memory (8.5 x 11 and 11 x 17 in). */
export const PAPERS = {
  A4: { width: 210, height: 297 },
  Letter: { width: 215.9, height: 279.4 },
  A3: { width: 297, height: 420 },
  Tabloid: { width: 279.4, height: 431.8 },
} as const;
export type PaperName = keyof typeof PAPERS;

/** Kept clear at every edge: more than any common printer needs (mm). */
export const MARGIN = 12;
const TITLE_HEIGHT = 12;
const GAP = 3;

/** A sheet before it knows its number among the others. */
export interface Draft {
  /** Plain, for the file's name. */
  readonly name: string;
  readonly title: string;
  readonly subject: string;
  /** The slab's face that is up, where that matters. */
  readonly face?: 'top' | 'bottom';
  /** Denominator of its drawing's scale; null where nothing is to scale. */
  readonly scale: number | null;
  readonly groups: readonly Group[];
}

/** What may be drawn on, over the title block. All sheets lie landscape, as a slab does. */
export function contentArea(paper: PaperName): Bounds {
  const { width, height } = PAPERS[paper];
  return { minX: MARGIN, minY: MARGIN, maxX: height - MARGIN, maxY: width - MARGIN - TITLE_HEIGHT - GAP };
}

/** Gives every draft its title block and number. */
export function numbered(drafts: readonly Draft[], report: PlanReport, paper: PaperName, typeface: Typeface): Sheet[] {
  const { width: height, height: width } = PAPERS[paper];
  return drafts.map((draft, i) => ({
    name: `${String(i + 1).padStart(2, '0')}-${draft.name}`,
    title: `${draft.title}: ${draft.subject}`,
    width,
    height,
    groups: [...draft.groups, titleBlock(draft, report, i + 1, drafts.length, width, height, typeface)],
  }));
}

function titleBlock(
  draft: Draft,
  { job, plan }: PlanReport,
  page: number,
  pages: number,
  width: number,
  height: number,
  typeface: Typeface,
): Group {
  const top = height - MARGIN - TITLE_HEIGHT;
  const full = width - 2 * MARGIN;
  const fixed: [label: string, value: string, width: number][] = [
    ['face up', draft.face === undefined ? '–' : draft.face === 'top' ? 'upper' : 'under', 19],
    ['scale', draft.scale === null ? '–' : `1:${draft.scale}`, 17],
    ['lengths', job.units === 'mm' ? 'mm' : 'inches', 19],
    ['date', job.date, 27],
    ['page', `${page} of ${pages}`, 22],
  ];
  const rest = full - fixed.reduce((sum, [, , w]) => sum + w, 0);
  const cells: [string, string, number][] = [
    ['job', job.name, rest * 0.29],
    ['subject', draft.subject, rest * 0.29],
    ['sheet', draft.title, rest * 0.25],
    ['plan', plan.name, rest * 0.17],
    ...fixed,
  ];
  const elements: Element[] = [box(MARGIN, top, full, TITLE_HEIGHT, 'frame')];
  let x = MARGIN;
  cells.forEach(([label, value, w], i) => {
    if (i > 0)
      elements.push(
        path(
          [
            [x, top],
            [x, top + TITLE_HEIGHT],
          ],
          'frame',
        ),
      );
    elements.push(text([x + 1.3, top + 4], label, { ink: 'grey' }));
    const fits = shorten(typeface.printable(value), w - 2.6, 3, true, typeface);
    elements.push(text([x + 1.3, top + 10], fits, { size: 3, bold: true }));
    x += w;
  });
  return { layer: 'SHEET', name: 'title block', elements };
}

/** A group of what belongs to the sheet itself. */
export const sheetGroup = (name: string, elements: readonly Element[]): Group => ({ layer: 'SHEET', name, elements });

const CAUTION_COLUMNS = 3;

/** The cautions of a sheet as one boxed block, in columns. */
export function cautionBlock(cautions: readonly string[], width: number, typeface: Typeface): Block {
  const [pad, gap] = [2.5, 4];
  const columnWidth = (width - 2 * pad - (CAUTION_COLUMNS - 1) * gap) / CAUTION_COLUMNS;
  const blocks = cautions.map((words) => paragraph(words, columnWidth, typeface, { bullet: '!' }));
  const total = heightOf(blocks);
  // The least height of a column at which all of them take everything: a few trials from the fair share up.
  let height = total / CAUTION_COLUMNS;
  const areas = (index: number): Area => ({ x: pad + index * (columnWidth + gap), y: 5.5, width: columnWidth, height });
  while (flow(blocks, areas).pages.length > CAUTION_COLUMNS) height += 1;
  const elements = flow(blocks, areas).pages.flatMap((page) => page.elements);
  return {
    elements: [box(0, 0, width, height + 6.5, 'frame'), text([pad, 4.2], 'Cautions', { bold: true }), ...elements],
    height: height + 6.5,
  };
}
