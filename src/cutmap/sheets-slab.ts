import { bounds, type Point } from '../geometry';
import { DEFAULT_SAWS, type Defect, faceKey, isProposed, NOT_CONFIRMED } from '../job';
import { sawOf } from '../layout';
import { pieceName, type SlabReport } from '../plan';
import { formatArea } from '../units';
import { type Block, type Column, heading, moved, paragraph, space, table } from './blocks';
import { farNames, ownNames, PROPOSED } from './defect-names';
import { divisionOf, worstLanding } from './divisions';
import type { Sheet } from './drawing';
import { slabStem } from './file-names';
import { legend } from './legend';
import { nameOf, type SlabMeasures } from './measures';
import { type Draft, sheetGroup } from './page';
import { PAPERS } from './papers';
import { type Lengths, lengthsOf, type SheetRequest } from './request';
import { cutFirst } from './sheets-flattening';
import { sideways, subjectOf } from './sheets-hand';
import { drawSlab } from './slab-view';
import type { Typeface } from './text';
import { columnWidth, textPages } from './text-pages';
import { tiles } from './tiles';
import { enlarged, viewOf } from './view';

const FIGURE_HEIGHT = 86;

/** The drawing of a slab with its lists, then the table of all that is measured on it. */
export function slabSheets(request: SheetRequest, slab: SlabReport, measures: SlabMeasures | null): Draft[] {
  const lengths = lengthsOf(request.report);
  return [
    ...textPages(request, {
      name: `${slabStem(request.report, slab)}-drawing`,
      title: 'Slab drawing',
      subject: slab.name,
      up: slab,
      columns: 3,
      works: ['crosscut', 'rip'],
      blocks: [
        ...cutOrder(request, slab, lengths),
        ...blankList(request, slab, lengths),
        ...defectList(request, slab, lengths),
        ...offcutList(request, slab, lengths),
        ...slab.blanks.flatMap((blank) => cutFirst(request, blank)),
      ],
      figure: {
        height: FIGURE_HEIGHT,
        draw: (area) => {
          const key = legend(slab, area.maxX - area.minX, request.typeface);
          const room = { ...area, maxY: area.maxY - key.height };
          const inner = { minX: room.minX + 16, maxX: room.maxX - 14, minY: room.minY + 12, maxY: room.maxY - 6 };
          const view = viewOf(slab.outline.outer, inner, { paper: request.paper });
          const picture = request.faces.get(faceKey(slab.flitch, slab.slab, slab.face));
          const { groups } = drawSlab(slab, measures, picture, view, room, 'full', lengths, request.typeface);
          const lines = key.elements.map((element) => moved(element, area.minX, room.maxY));
          return { groups: [...groups, sheetGroup('legend', lines)], scale: view.scale };
        },
      },
    }),
    ...measureSheets(request, slab, measures, lengths),
  ];
}

/** Wood's edge to the edge of a full-size drawing, mm: room for the labels and dimensions. */
const BORDER = 14;

/** On a roll the slab's lines in full size, to be laid on it and pricked through. */
export function fullSizeSheets(request: SheetRequest, slab: SlabReport, measures: SlabMeasures | null): Draft[] {
  if (PAPERS[request.paper].times === 1) return [];
  const { minX, minY, maxX, maxY } = bounds(slab.outline.outer);
  const [width, height] = [maxX - minX + 2 * BORDER, maxY - minY + 2 * BORDER];
  const view = { map: { m: [1, 0, 0, 1, BORDER - minX, BORDER - minY] } as const, scale: 1 };
  const area = { minX: 0, minY: 0, maxX: width, maxY: height };
  const lengths = lengthsOf(request.report);
  const { groups } = drawSlab(slab, measures, undefined, view, area, 'full', lengths, request.typeface);
  const about = {
    name: `${slabStem(request.report, slab)}-full-size`,
    title: 'Full size',
    subject: slab.name,
    up: slab,
  };
  return tiles(request, { width, height, groups }, about, ['crosscut', 'rip']);
}

/** A slab at true size, for a drawing file: the same line work, without photo, title block and lists. */
export function slabDrawing(request: SheetRequest, slab: SlabReport, measures: SlabMeasures | null): Sheet {
  const { minX, minY, maxX, maxY } = bounds(slab.outline.outer);
  const scale = 10;
  const border = 20;
  const [width, height] = [(maxX - minX) / scale + 2 * border, (maxY - minY) / scale + 2 * border];
  const map = { m: [1 / scale, 0, 0, 1 / scale, border - minX / scale, border - minY / scale] } as const;
  const area = { minX: 0, minY: 0, maxX: width, maxY: height };
  const { groups } = drawSlab(
    slab,
    measures,
    undefined,
    { map, scale },
    area,
    'full',
    lengthsOf(request.report),
    request.typeface,
  );
  return {
    name: `${slabStem(request.report, slab)}-${slab.face}`,
    title: `${request.report.job.name}: ${subjectOf(slab)}`,
    width: width * scale,
    height: height * scale,
    groups: enlarged(groups, scale),
  };
}

function cutOrder(request: SheetRequest, slab: SlabReport, lengths: Lengths): Block[] {
  const width = columnWidth(request, 3);
  const rows = slab.cuts.map((cut) => [
    `${cut.number}`,
    cut.stage === 'rough' ? cut.kind : `${cut.kind}, flat`,
    lengths.at(cut.kerf),
    cut.reason,
  ]);
  const columns = [
    { title: 'cut', share: 11, bold: true },
    { title: 'kind', share: 25 },
    { title: 'kerf', share: 14, align: 'right' },
    { title: 'why', share: 40 },
  ] as const;
  const saws = request.job.shop.saws ?? DEFAULT_SAWS;
  const by = (['crosscut', 'rip', 'fine'] as const).flatMap((saw) => {
    const numbers = slab.cuts.filter((cut) => sawOf(cut) === saw).map(({ number }) => number);
    return numbers.length > 0 && saws[saw] ? [`${numbers.join(', ')}: ${saws[saw]}`] : [];
  });
  return [
    heading('Cuts in order', width, request.typeface),
    ...table(columns, rows, width, request.typeface),
    ...(by.length > 0 ? [space(1), paragraph(`By ${by.join('; ')}.`, width, request.typeface)] : []),
    space(3),
  ];
}

function blankList(request: SheetRequest, slab: SlabReport, lengths: Lengths): Block[] {
  const width = columnWidth(request, 3);
  const size = ([length, wide]: readonly [number, number]): string => `${lengths.size(length)} × ${lengths.size(wide)}`;
  const rows = slab.blanks.map((blank) => [nameOf(blank), size(blank.roughSize), size(blank.finishedSize)]);
  const columns = [
    { title: 'blank', share: 34 },
    { title: 'rough', share: 33, align: 'right' },
    { title: 'finished', share: 33, align: 'right' },
  ] as const;
  return [heading('Blanks', width, request.typeface), ...table(columns, rows, width, request.typeface), space(3)];
}

const PERMITS: Record<Defect['permit'], string> = { avoid: 'keep off', keyed: 'may show, keyed', allow: 'may show' };

function defectList(request: SheetRequest, slab: SlabReport, lengths: Lengths): Block[] {
  const [own, far] = [ownNames(slab), farNames(slab)];
  const all = [...own, ...far];
  if (all.length === 0) return [];
  const width = columnWidth(request, 3);
  const rows = all.map(({ name, defect }) => [name, defect.kind, sizeOf(defect, lengths), PERMITS[defect.permit]]);
  const columns = [
    { title: '', share: 9, bold: true },
    { title: 'defect', share: 28 },
    { title: 'size', share: 33, align: 'right' },
    { title: '', share: 32 },
  ] as const;
  const notes = [
    ...(all.some(({ defect }) => isProposed(defect)) ? [`${PROPOSED} ${NOT_CONFIRMED}`] : []),
    ...(far.some(({ defect }) => defect.through) ? ['′ seen on the other face, goes through'] : []),
    ...far
      .filter(({ defect }) => !defect.through)
      .map(({ name }) => `${name} seen on the other face; nobody said that it stops short`),
  ];
  return [
    heading('Defects', width, request.typeface),
    // Before the table, which may run on to another page.
    ...notes.map((words) => ({ ...paragraph(words, width, request.typeface), keepWithNext: true })),
    ...table(columns, rows, width, request.typeface),
    space(3),
  ];
}

function sizeOf(defect: Defect, lengths: Lengths): string {
  const { line } = defect;
  if (line) {
    const length = line.slice(1).reduce((sum, [x, y], i) => {
      const [px, py] = line[i] as (typeof line)[number];
      return sum + Math.hypot(x - px, y - py);
    }, 0);
    return `${lengths.size(length)} long`;
  }
  const { minX, minY, maxX, maxY } = bounds((defect.polygon ?? [[0, 0]]) as readonly Point<'face'>[]);
  return `${lengths.size(maxX - minX)} × ${lengths.size(maxY - minY)}`;
}

function offcutList(request: SheetRequest, slab: SlabReport, lengths: Lengths): Block[] {
  if (slab.offcuts.length === 0) return [];
  const width = columnWidth(request, 3);
  const rows = slab.offcuts.flatMap(({ area, pieces }, i) =>
    pieces.map(({ size: [length, wide], thickness }, k) => [
      pieceName(i, k, pieces.length),
      `${lengths.size(length)} × ${lengths.size(wide)}`,
      thickness === null ? '–' : lengths.size(Math.max(0, thickness.finished)),
      k === 0 ? formatArea(area, request.report.job.units) : '',
    ]),
  );
  const columns = [
    { title: 'offcut', share: 17, bold: true },
    { title: 'along × across', share: 37, align: 'right' },
    { title: 'finishes', share: 23, align: 'right' },
    { title: 'area', share: 23, align: 'right' },
  ] as const;
  return [
    heading('Offcuts worth keeping, clear', width, request.typeface),
    ...table(columns, rows, width, request.typeface),
    space(3),
  ];
}

const HOW_TO_READ =
  'Snap the chalk line from A to B. Along is counted from A on the line, in square to it: → is right of the line as you look from A to B, ← is left. ' +
  'From A and from B are two tapes that cross at the point. The ± comes from the photo (two standard deviations); a tape adds about 1 mm of its own.';

function measureSheets(
  request: SheetRequest,
  slab: SlabReport,
  measures: SlabMeasures | null,
  lengths: Lengths,
): Draft[] {
  const width = columnWidth(request, 1);
  const { typeface } = request;
  const page = (blocks: readonly Block[]): Draft[] =>
    textPages(request, {
      name: `${slabStem(request.report, slab)}-measures`,
      title: 'Measures',
      subject: slab.name,
      up: slab,
      columns: 1,
      works: ['crosscut', 'rip'],
      blocks,
    });
  if (!measures) {
    return page([
      paragraph(
        'This slab has no place for two marks in sound wood. Set two marks by hand in the cutting map.',
        width,
        typeface,
        { size: 3.5 },
      ),
    ]);
  }
  const edge = (check: (typeof measures.points)[number]['across']): string =>
    check ? `${lengths.size(check.mm)} ${lengths.plusMinus(check.plusMinus)} ${check.edge}` : '';
  const taped = measures.points.filter(({ flat, kind }) => !flat && kind !== 'key').map(({ at }) => at);
  const rounded = worstLanding(taped, measures.datum, divisionOf(request.job));
  const notes = [
    ...(rounded === null
      ? []
      : [`Rounded as printed here, two tapes cross within ${lengths.plusMinus(rounded).slice(1)} of the plan.`]),
    ...(measures.points.some(({ flat }) => flat) ? ['Flat: the tapes cross at too flat an angle.'] : []),
    ...(measures.points.some(({ confirmed }) => !confirmed) ? [`${PROPOSED} crack not confirmed.`] : []),
  ];
  const rows = measures.points.map((point) => [
    `${point.label}${point.confirmed ? '' : PROPOSED}`,
    point.what,
    lengths.at(point.offsets.along),
    sideways(point.offsets.inward, lengths),
    lengths.at(point.tapes.fromA),
    lengths.plusMinus(point.plusMinus.fromA),
    lengths.at(point.tapes.fromB),
    lengths.plusMinus(point.plusMinus.fromB),
    [edge(point.across), edge(point.alongside)].filter((words) => words !== '').join('; '),
    point.flags.join('; '),
  ]);
  const minded = measures.points.some((point) => point.flags.length > 0);
  const columns: Column[] = [
    { title: 'point', share: 13, bold: true },
    { title: 'what', share: 31 },
    { title: 'along', share: 21, align: 'right' },
    { title: 'in', share: 22, align: 'right' },
    { title: 'from A', share: 21, align: 'right', bold: true },
    { title: '±', share: 14, align: 'right' },
    { title: 'from B', share: 21, align: 'right', bold: true },
    { title: '±', share: 14, align: 'right' },
    { title: 'check: to the edge, to the end', share: minded ? 67 : 102 },
    ...(minded ? [{ title: 'mind', share: 35 }] : []),
  ];
  return page([
    paragraph([HOW_TO_READ, ...notes].join(' '), width, typeface),
    space(1),
    ...table(columns, rows, width, typeface),
    space(3),
    ...checkList(measures.checks, width, lengths, typeface),
  ]);
}

/** So many checks stand beside each other. */
const ABREAST = 6;

/** What is taped from point to point after the marking, with what it should read. */
function checkList(checks: SlabMeasures['checks'], width: number, lengths: Lengths, typeface: Typeface): Block[] {
  const rows = Array.from({ length: Math.ceil(checks.length / ABREAST) }, (_, i) =>
    checks.slice(i * ABREAST, (i + 1) * ABREAST),
  );
  return rows.flatMap((row) => {
    const columns = [
      { title: 'check the marking', share: 36, bold: true },
      ...row.map(({ from, to }) => ({ title: `${from} to ${to}`, share: 30, align: 'right' }) as const),
    ];
    const cells = row.map(({ mm, plusMinus }) => `${lengths.at(mm)} ${lengths.plusMinus(plusMinus)}`);
    const share = (36 + 30 * row.length) / (36 + 30 * ABREAST);
    return table(columns, [['should read', ...cells]], width * share, typeface);
  });
}
