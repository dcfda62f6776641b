import type { Bounds } from '../geometry';
import { planVersion, type SlabReport, type TopReport } from '../plan';
import { type Area, type Block, flow, heightOf, paragraph } from './blocks';
import { box, type Element, type Group, path, type Sheet, text } from './drawing';
import { facePicture, faceUp } from './face-picture';
import { PAPERS, type PaperName } from './papers';
import type { SheetRequest } from './request';
import { shorten, type Typeface } from './text';
import { enlarged } from './view';

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
  /** What lies before the reader, face up: shown small beside the word. */
  readonly up?: SlabReport | TopReport;
  /** Denominator of its drawing's scale; null where nothing is to scale. */
  readonly scale: number | null;
  /** mm, of what has to be printed in its true size; left out, the sheet is as large as the paper. */
  readonly size?: Size;
  readonly groups: readonly Group[];
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** A sheet of this paper as it is laid out: all lie landscape, as a slab does. */
export const laidOut = (paper: PaperName): Size => ({ width: PAPERS[paper].height, height: PAPERS[paper].width });

/** What may be drawn on, over the title block. */
export const contentArea = (paper: PaperName): Bounds => contentOf(laidOut(paper));
export const contentOf = ({ width, height }: Size): Bounds => ({
  minX: MARGIN,
  minY: MARGIN,
  maxX: width - MARGIN,
  maxY: height - MARGIN - TITLE_HEIGHT - GAP,
});

/** Gives every draft its title block and number. Their names sort in their order, however many they are. */
export function numbered(drafts: readonly Draft[], request: SheetRequest): Sheet[] {
  const digits = Math.max(2, String(drafts.length).length);
  return drafts.map((draft, i) => {
    const { width, height } = draft.size ?? laidOut(request.paper);
    const times = draft.size ? 1 : PAPERS[request.paper].times;
    const scaled = { ...draft, scale: draft.scale && draft.scale / times };
    const groups = [...draft.groups, ...titleBlock(scaled, request, `${i + 1} of ${drafts.length}`, width, height)];
    return {
      name: `${String(i + 1).padStart(digits, '0')}-${draft.name}`,
      title: `${draft.title}: ${draft.subject}`,
      width: width * times,
      height: height * times,
      groups: times === 1 ? groups : enlarged(groups, times),
    };
  });
}

const ratio = (scale: number): string => (scale < 1 ? `${1 / scale}:1` : `1:${scale}`);

/** A title block is never longer than on the longest sheet of a box of paper, mm: on a roll it stands in the corner. */
const LONGEST_TITLE = 410;
/** Room for the face's small picture, beside its word, mm. */
const PICTURE = 19;

function titleBlock(draft: Draft, request: SheetRequest, page: string, width: number, height: number): Group[] {
  const { report, typeface } = request;
  const top = height - MARGIN - TITLE_HEIGHT;
  const full = Math.min(width - 2 * MARGIN, LONGEST_TITLE);
  const left = width - MARGIN - full;
  const units = report.job.printed?.both ? 'mm, in' : report.job.units;
  const fixed: [label: string, value: string, width: number][] = [
    ['face up', draft.up ? faceUp(draft.up) : '–', 15 + PICTURE],
    [
      'scale',
      draft.scale === null ? units : `${ratio(draft.scale)}, ${units}`,
      Math.max(
        typeface.measure('scale', 2.5, false),
        typeface.measure(units, 3, true) + (draft.scale === null ? 0 : 13),
      ) + 4,
    ],
    ['date', report.job.date, 27],
    ['page', page, typeface.measure(page, 3, true) + 3.4],
  ];
  const rest = full - fixed.reduce((sum, [, , w]) => sum + w, 0);
  const cells: [label: string, value: string, width: number][] = [
    ['job', report.job.name, rest * 0.27],
    ['subject', draft.subject, rest * 0.27],
    ['sheet', draft.title, rest * 0.25],
    ['plan, version', report.plan.name, rest * 0.21],
    ...fixed,
  ];
  const elements: Element[] = [box(left, top, full, TITLE_HEIGHT, 'frame')];
  const pictures: Group[] = [];
  let x = left;
  for (const [label, value, w] of cells) {
    if (x > left)
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
    // The version is what tells two plans apart: the name gives way to it.
    const ending = label.startsWith('plan') ? `, ${planVersion(report)}` : '';
    const room = w - 2.6 - typeface.measure(ending, 3, true) - (label === 'face up' ? PICTURE : 0);
    const fits = shorten(typeface.printable(value), room, 3, true, typeface);
    elements.push(text([x + 1.3, top + 10], fits + ending, { size: 3, bold: true }));
    if (label === 'face up' && draft.up) {
      const area = { minX: x + w - PICTURE, maxX: x + w - 1, minY: top + 1, maxY: top + TITLE_HEIGHT - 1 };
      pictures.push(...facePicture(request, draft.up, area));
    }
    x += w;
  }
  return [...pictures, { layer: 'SHEET', name: 'title block', elements }];
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
