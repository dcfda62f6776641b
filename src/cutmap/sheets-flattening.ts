import { type Bounds, centroid, type Point } from '../geometry';
import {
  type BlankReport,
  cutFirstRows,
  helpWords,
  ruledWords,
  type SlabReport,
  tooLowWords,
  warpWords,
} from '../plan';
import { formatDuration, formatShare } from '../units';
import { type Block, heading, paragraph, space, table } from './blocks';
import { type Element, ring } from './drawing';
import { blankStem, slabStem } from './file-names';
import { drawLabel, type Label, placeLabels } from './labels';
import { crossMark } from './linework';
import { nameOf } from './measures';
import type { Draft } from './page';
import { lengthsOf, type SheetRequest } from './request';
import { columnWidth, textPages } from './text-pages';
import { onPaper, pointOnPaper, viewOf } from './view';

/** One sheet a blank: what it must finish at, where the thickness goes, the passes of each face, the shims that hold it. */
export function flatteningSheets(request: SheetRequest, slab: SlabReport): Draft[] {
  return slab.blanks.flatMap((blank) => flatteningSheet(request, slab, blank));
}

function flatteningSheet(request: SheetRequest, slab: SlabReport, blank: BlankReport): Draft[] {
  const { typeface } = request;
  const width = columnWidth(request, 3);
  const about = {
    name: `${slabStem(request.report, slab)}-${blankStem(request.report, blank)}-flattening`,
    title: 'Flattening',
    subject: `${nameOf(blank)}, ${slab.name}`,
    up: slab,
    works: ['router sled'] as const,
  };
  if (!blank.flattening) {
    const words =
      'This slab has no readings, so nothing can be said about its thickness. Read both faces and print this sheet again.';
    return textPages(request, {
      ...about,
      columns: 3,
      blocks: [target(request, blank, width), paragraph(words, width, typeface, { size: 3 })],
    });
  }
  return textPages(request, {
    ...about,
    columns: 3,
    blocks: [
      target(request, blank, width),
      space(2),
      ...shims(request, blank),
      ...passes(request, blank),
      ...budget(request, blank),
    ],
    figure: { height: 42, draw: (area) => plan(request, blank, area) },
  });
}

function target(request: SheetRequest, blank: BlankReport, width: number): Block {
  const lengths = lengthsOf(request.report);
  const words = `Finish at ${lengths.at(blank.wanted)}`;
  return paragraph(words, width, request.typeface, { size: 5, bold: true });
}

/** The account of a blank's thickness in words; the first is the sum of the others. */
const ITEMS: Record<NonNullable<BlankReport['flattening']>['budget'][number]['item'], string> = {
  rough: 'rough, from its lowest spot to its highest',
  'lost under': 'planed off the under face',
  'lost over': 'planed off the upper face',
  second: 'kept for the second flattening',
  level: 'kept for levelling after glue-up',
  sanding: 'kept for sanding',
  drying: 'lost in drying',
  finished: 'left, finished',
};

function budget(request: SheetRequest, { flattening, help, ruledBy }: BlankReport): Block[] {
  if (!flattening) return [];
  const { typeface } = request;
  const lengths = lengthsOf(request.report);
  const width = columnWidth(request, 3);
  const rows = flattening.budget.map(({ item, mm }) => [ITEMS[item], lengths.at(mm)]);
  const columns = [
    { title: 'where the thickness goes', share: 70 },
    { title: 'thickness', share: 30, align: 'right' },
  ] as const;
  const words = `The thickest flat board inside this blank is ${lengths.at(flattening.thickest)} ${lengths.plusMinus(2 * flattening.sigma)}, before reserves and sanding.`;
  const doubts = [
    ...(flattening.short > 0 ? [`It falls short by ${lengths.at(flattening.short)}.`] : []),
    ...(flattening.tooLow > 0 ? [tooLowWords(flattening.tooLow, request.job.units)] : []),
    ...(help ? helpWords(help, request.job.units) : []),
    ...(ruledBy ? [ruledWords(ruledBy, request.job.units)] : []),
    ...(flattening.beyond > 0.005
      ? [
          `${formatShare(flattening.beyond)} of the blank lies beyond all readings: there it is a guess. Read more spots.`,
        ]
      : []),
  ];
  return [
    heading('Thickness', width, typeface),
    paragraph(words, width, typeface),
    ...doubts.map((doubt) => paragraph(doubt, width, typeface, { bold: true })),
    ...table(columns, rows, width, typeface),
    space(3),
  ];
}

/** What cutting to rough size first has gained, so that nobody flattens the slab whole. */
export function cutFirst(request: SheetRequest, blank: BlankReport): Block[] {
  if (!blank.cutFirst) return [];
  const { typeface, job } = request;
  const width = columnWidth(request, 3);
  const columns = [
    { title: 'the slab', share: 50 },
    { title: 'can finish at', share: 28, align: 'right' },
    { title: 'gains', share: 22, align: 'right' },
  ] as const;
  const rows = cutFirstRows(blank.cutFirst, job.units).map(({ way, finished, gain }) => [way, finished, gain]);
  return [
    heading(`Cut before flattening: ${nameOf(blank)}`, width, typeface),
    ...table(columns, rows, width, typeface),
    space(1),
    paragraph(`Rough-cut, the blank has ${warpWords(blank.cutFirst, job.units)}.`, width, typeface),
    space(3),
  ];
}

const BY = { sled: 'on the sled', planer: 'through the planer', 'drum sander': 'through the drum sander' } as const;

function passes(request: SheetRequest, { flattening }: BlankReport): Block[] {
  if (!flattening) return [];
  const { typeface } = request;
  const lengths = lengthsOf(request.report);
  const width = columnWidth(request, 3);
  const rows = flattening.faces.flatMap((face) =>
    face.passes.map((pass, i) => [
      i === 0 ? (face.face === 'top' ? 'upper' : 'under') : '',
      `${i + 1}`,
      lengths.at(pass.depth),
      formatShare(pass.contact),
    ]),
  );
  const columns = [
    { title: 'face', share: 25 },
    { title: 'pass', share: 20, align: 'right' },
    { title: 'deep', share: 25, align: 'right', bold: true },
    { title: 'of the face', share: 30, align: 'right' },
  ] as const;
  const sums = flattening.faces.map((face) => {
    const depth = face.passes.reduce((sum, pass) => sum + pass.depth, 0);
    const side = face.face === 'top' ? 'Upper' : 'Under';
    if (face.tool === 'none') return `${side} face: needs no pass.`;
    const strokes = face.tool === 'sled' ? `, ${face.strokes} strokes a pass` : '';
    return `${side} face: ${lengths.at(depth)} off ${BY[face.tool]}${strokes}, about ${formatDuration(face.minutes * 60)}.`;
  });
  return [
    heading('Passes', width, typeface),
    ...sums.map((words) => paragraph(words, width, typeface)),
    ...table(columns, rows, width, typeface),
    space(3),
  ];
}

function shims(request: SheetRequest, { flattening }: BlankReport): Block[] {
  if (!flattening || flattening.shims.length === 0) return [];
  const { typeface } = request;
  const lengths = lengthsOf(request.report);
  const width = columnWidth(request, 3);
  const rows = flattening.shims.map(({ height }, i) => [`S${i + 1}`, lengths.at(height)]);
  const columns = [
    { title: 'shim', share: 50, bold: true },
    { title: 'high', share: 50, align: 'right' },
  ] as const;
  return [heading('Shims for the first face', width, typeface), ...table(columns, rows, width, typeface), space(3)];
}

/** The blank from above, with its shims and the spots that hold its thickness down. */
function plan(request: SheetRequest, blank: BlankReport, area: Bounds) {
  const inner = { minX: area.minX + 16, maxX: area.maxX - 16, minY: area.minY + 7, maxY: area.maxY - 7 };
  const view = viewOf(blank.rough, inner, { paper: request.paper });
  const { flattening } = blank;
  const lengths = lengthsOf(request.report);
  const at = (p: Point<'face'>): Point<'paper'> => pointOnPaper(view, p);
  const shimList = flattening?.shims ?? [];
  const limits = flattening?.limits ?? [];
  const marks: Element[] = [
    ...shimList.flatMap((shim) => crossMark(at(shim.at), 1, 'measure')),
    ...limits.flatMap((limit) => crossMark(at(limit.at), 0.6, 'frame')),
  ];
  const labels: Label[] = [
    { text: nameOf(blank), at: at(centroid(blank.rough)), shape: 'plain', bold: true, size: 3, gap: 0.1 },
    ...shimList.map(
      (shim, i): Label => ({ text: `S${i + 1} ${lengths.at(shim.height)}`, at: at(shim.at), shape: 'tag', bold: true }),
    ),
    ...limits.map(
      (limit): Label => ({
        text: limit.face === 'top' ? 'low spot' : 'high spot below',
        at: at(limit.at),
        shape: 'plain',
      }),
    ),
  ];
  const { placed } = placeLabels(labels, area, [], request.typeface);
  return {
    groups: [
      { layer: 'ROUGH' as const, name: 'rough blank', elements: [ring(onPaper(view, blank.rough), 'rough')] },
      {
        layer: 'FINISHED' as const,
        name: 'finished piece',
        elements: [ring(onPaper(view, blank.finished), 'finished')],
      },
      { layer: 'MEASURE' as const, name: 'shims', elements: [...marks, ...placed.flatMap(drawLabel)] },
    ],
    scale: view.scale,
  };
}
