import { type BoardReport, budgetRows, freesWords, lookWords, restWords, sawLength, wayWords } from '../plan';
import { type Block, heading, paragraph, space, table } from './blocks';
import { boardStem } from './file-names';
import type { Draft } from './page';
import { lengthsOf, type SheetRequest } from './request';
import { resawSection, sectionHeight } from './resaw-section';
import { columnWidth, textPages } from './text-pages';

/** One sheet a board: how it is sawn, where the fence stands for each cut, where its thickness goes, and what to mind. */
export function resawSheets(request: SheetRequest, board: BoardReport): Draft[] {
  if (board.leaves === 0) return [];
  const width = columnWidth(request, 2);
  return textPages(request, {
    name: `${boardStem(request.report, board)}-resawing`,
    title: 'Resawing',
    subject: board.name,
    columns: 2,
    works: ['resaw', 'dust'],
    blocks: [
      ...facts(request, board, width),
      ...mind(request, board, width),
      ...fence(request, board, width),
      ...order(request, board, width),
      ...budget(request, board, width),
    ],
    figure: { height: sectionHeight(board), draw: (area) => resawSection(board, area) },
  });
}

function facts({ typeface, job }: SheetRequest, report: BoardReport, width: number): Block[] {
  const { leaves, wanted, given, warning, ready, way, look, rest } = report;
  const { leaf } = job.shop.resaw;
  const say = (mm: number) => sawLength(mm, job.units);
  const of = ready.strips.count > 1 ? ` out of ${ready.strips.count} strips` : '';
  const drift = ready.wedge.added > 0 ? `, ${say(ready.wedge.added)} for the drift of the blade` : '';
  const text = [
    `Sawn ${wayWords(way)}.`,
    `Finished ${say(leaf.thickness)}; ${say(leaf.sanding)} is for sanding both faces${drift}.`,
    ...(wanted > 0 ? [`Panel faces wanted ${wanted}, this board gives ${given}.${warning ? ` ${warning}` : ''}`] : []),
    ...(look ? [lookWords(look)] : []),
    ...(rest ? [restWords(rest, job.units)] : []),
  ];
  return [
    paragraph(`${leaves} leaves${of}, sawn ${say(ready.saw.leaf)}`, width, typeface, { size: 5, bold: true }),
    ...text.map((words) => paragraph(words, width, typeface)),
    space(2),
  ];
}

/** What is done, in order, by the way of working. */
function order({ typeface, job, report }: SheetRequest, board: BoardReport, width: number): Block[] {
  const { ready, way, sawn } = board;
  const { strips, saw, warped } = ready;
  const lengths = lengthsOf(report);
  const say = (mm: number) => sawLength(mm, job.units);
  const planed = (what: 'outer face' | 'back'): number =>
    sawn.slices.filter((slice) => slice.what === what).reduce((sum, { from, to }) => sum + to - from, 0);
  const steps = [
    ...(strips.count > 1 ? [`Rip it into ${strips.count} strips of ${lengths.at(strips.width)}.`] : []),
    ...(warped > 0
      ? [
          `Flatten ${planed('back') > 0 ? 'both faces' : 'the outer face'}: cup, bow and twist take ${say(warped)} altogether.`,
        ]
      : []),
    ...(planed('outer face') > 0 ? [`Plane the outer face once: ${say(planed('outer face'))}.`] : []),
    ...(planed('back') > 0 ? [`Plane the back once: ${say(planed('back'))}.`] : []),
    ...(way.carrier ? ['Stick the back to a flat carrier board, all over.'] : []),
    'Mark a triangle across one end, through all leaves to come, and the same end and edge on both faces.',
    ...(way.start === 'halved'
      ? ['Halve it by cut 1, then saw each half from its fresh face.']
      : way.start === 'both faces'
        ? ['Saw from the outer face and the back in turn.']
        : []),
    `Leaf against the fence: it stands at ${say(saw.leaf)} for every leaf. Board against the fence: at the figure in the table${way.carrier ? ', and the carrier over it' : ''}.`,
    ...(way.dressed && saw.dressing > 0
      ? [`Dress the sawn face before the next cut off it: ${say(saw.dressing)}.`]
      : ['The face is not dressed between cuts.']),
    'Number every leaf as it comes off, as the table has it: from the outer face on, so that the sequence is kept.',
  ];
  return [
    heading('How', width, typeface),
    ...steps.map((words, i) => paragraph(words, width, typeface, { bullet: `${i + 1}` })),
    space(2),
  ];
}

function fence({ typeface, job }: SheetRequest, { sawn, ready, leaves }: BoardReport, width: number): Block[] {
  const say = (mm: number) => sawLength(mm, job.units);
  const unit = job.units === 'mm' ? ', mm' : '';
  const rows = sawn.cuts.map((cut) => [
    `${cut.number}`,
    freesWords(cut, sawn.way),
    cut.dressed > 0 ? say(cut.dressed) : '–',
    say(cut.at),
    say(cut.stays),
  ]);
  const columns = [
    { title: 'cut', share: 10, bold: true },
    { title: 'frees', share: 38 },
    { title: 'dress first', share: 20, align: 'right' },
    { title: `begins at${unit}`, share: 24, align: 'right' },
    { title: 'fence, board against it', share: 28, align: 'right', bold: true },
  ] as const;
  const last = sawn.leaves > sawn.cuts.filter(({ leaf }) => leaf !== null).length;
  const notes = [
    'Where each cut begins is counted from the outer face as it was once flat.',
    ...(ready.strips.count > 1 ? [`The same for each strip: ${leaves} leaves in all.`] : []),
    ...(last ? ['What is left at last is a leaf too, once its sawn face is dressed.'] : []),
  ];
  return [
    heading('Fence, in the order of work', width, typeface),
    ...notes.map((words) => ({ ...paragraph(words, width, typeface), keepWithNext: true })),
    ...table(columns, rows, width, typeface),
    space(3),
  ];
}

function budget({ typeface, job }: SheetRequest, { budget: lines }: BoardReport, width: number): Block[] {
  const rows = budgetRows(lines, job.units);
  const columns = [
    { title: 'thickness', share: 70 },
    { title: job.units === 'mm' ? 'mm' : 'in', share: 30, align: 'right' },
  ] as const;
  return [heading('Where the thickness goes', width, typeface), ...table(columns, rows, width, typeface), space(3)];
}

const mind = ({ typeface }: SheetRequest, { mind: words }: BoardReport, width: number): Block[] =>
  words.length === 0
    ? []
    : [heading('Mind', width, typeface), ...words.map((each) => paragraph(each, width, typeface, { bullet: '–' }))];
