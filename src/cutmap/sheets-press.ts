import { frameRows, gradeRows, type PressReport, type SetReport, type SheetCuts } from '../plan';
import { formatArea, formatMoney, formatShare } from '../units';
import { type Block, heading, paragraph, space, table } from './blocks';
import { cutSheetBlock } from './cut-sheet-block';
import { usesWords } from './leaf-uses';
import type { Draft } from './page';
import { drawElevation } from './panel-view';
import { type Lengths, lengthsOf, type SheetRequest } from './request';
import { columnWidth, textPages } from './text-pages';

/** Height of the elevation over the text, mm. */
const FIGURE = 56;

/** What goes into the press, and which leaves it takes; then how the cores come out of sheets. */
export function pressSheets(request: SheetRequest, set: SetReport): Draft[] {
  if (set.fronts.length === 0) return [];
  const width = columnWidth(request, 2);
  const press = textPages(request, {
    name: 'press-list',
    title: 'Press list',
    subject: set.name,
    columns: 2,
    works: ['vacuum press', 'dust'],
    blocks: [
      ...misses(request, set, width),
      ...warnings(request, set, width),
      ...pressList(request, set.press, width),
      ...glue(request, set.press, width),
      ...loads(request, set.press, width),
      ...how(request, width),
      ...frames(request, set, width),
      ...grade(request, set, width),
      ...stack(request, set, width),
    ],
    figure: { height: FIGURE, draw: (area) => drawElevation(request, set, { ...area, minY: area.minY + 2 }) },
  });
  const cores = set.press.cores.flatMap(({ thickness, cuts }, i) =>
    textPages(request, {
      name: set.press.cores.length > 1 ? `cores-${i + 1}` : 'cores',
      title: 'Cores',
      subject: set.name,
      columns: 2,
      works: ['rip', 'crosscut', 'dust'],
      blocks: coreBlocks(request, thickness, cuts, width),
    }),
  );
  return [...press, ...cores];
}

function warnings(request: SheetRequest, set: SetReport, width: number): Block[] {
  if (set.warnings.length === 0) return [];
  const { typeface } = request;
  return [...set.warnings.map((words) => paragraph(words, width, typeface, { bullet: '!', bold: true })), space(2)];
}

function misses(request: SheetRequest, set: SetReport, width: number): Block[] {
  if (set.misses.length === 0) return [];
  return [
    heading('Not to be had', width, request.typeface),
    ...set.misses.map(({ reason, mend }) =>
      paragraph(`${reason} ${mend}`, width, request.typeface, { bullet: '!', bold: true }),
    ),
    space(2),
  ];
}

function pressList(request: SheetRequest, press: PressReport, width: number): Block[] {
  const { size, at, unit } = lengthsOf(request.report);
  const rows = press.panels.map(({ number, name, height, width: wide, core, finished, lines }) => [
    `${number}`,
    name,
    `${at(height)} × ${at(wide)}`,
    size(core),
    lines === 2 ? 'both' : 'face',
    `${size(finished.height)} × ${size(finished.width)}`,
  ]);
  const columns = [
    { title: 'panel', share: 14, bold: true },
    { title: 'front', share: 26 },
    { title: `pressed, high × wide${unit}`, share: 36, align: 'right', bold: true },
    { title: 'core', share: 11, align: 'right' },
    { title: 'veneer', share: 17 },
    { title: 'finished', share: 26, align: 'right' },
  ] as const;
  return [heading('Press', width, request.typeface), ...table(columns, rows, width, request.typeface), space(2)];
}

function glue(request: SheetRequest, { glue: { area, grams } }: PressReport, width: number): Block[] {
  const { units } = request.report.job;
  const mass = units === 'mm' ? `${(grams / 1000).toFixed(2)} kg` : `${(grams / 453.59237).toFixed(1)} lb`;
  return [
    paragraph(
      `Glue for ${formatArea(area, units)} of glue line: about ${mass}. Its own sheet says how much, how soon and how warm; spread it on the core, never on the leaf.`,
      width,
      request.typeface,
    ),
    space(2),
  ];
}

function loads(request: SheetRequest, { loads: all, tooLarge }: PressReport, width: number): Block[] {
  const { typeface } = request;
  if (!all) return [];
  return [
    heading('Into the bag together', width, typeface),
    ...all.map((numbers, i) => paragraph(`Panels ${numbers.join(', ')}.`, width, typeface, { bullet: `${i + 1}` })),
    ...(tooLarge.length > 0
      ? [
          paragraph(`Too large for the bag: panels ${tooLarge.join(', ')}.`, width, typeface, {
            bullet: '!',
            bold: true,
          }),
        ]
      : []),
    space(2),
  ];
}

/** Common practice, no source. */
const STEPS = [
  'Press face and back together, within the open time of the glue: a panel veneered on one side first bows, and stays so.',
  'Lay leaves of one moisture, near that of the core and of the place where the doors will hang.',
  'Flat platen, paper over the taped face, breather over all of it. Round the corners of the core a little for the bag.',
  'Ease the tape off along the joint once the glue is hard; wet it as little as can be.',
  'Stack pressed panels flat with air on both sides until they are dry; then trim from the edge that the sheet measures from.',
];

function how(request: SheetRequest, width: number): Block[] {
  return [
    heading('How', width, request.typeface),
    ...STEPS.map((words, i) => paragraph(words, width, request.typeface, { bullet: `${i + 1}` })),
    space(2),
  ];
}

/** Rails and stiles to be cut of solid wood. */
function frames(request: SheetRequest, set: SetReport, width: number): Block[] {
  if (set.frames.length === 0) return [];
  const columns = [
    { title: 'solid wood', share: 24, bold: true },
    { title: 'cut to', share: 40, align: 'right' },
    { title: 'shows', share: 24, align: 'right' },
    { title: 'for panels', share: 30 },
  ] as const;
  const rows = frameRows(set.frames, request.report.job.units);
  return [
    heading('Rails and stiles', width, request.typeface),
    ...table(columns, rows, width, request.typeface),
    space(2),
  ];
}

/** The set against the grade that was asked for. */
function grade(request: SheetRequest, set: SetReport, width: number): Block[] {
  if (!set.grade) return [];
  const columns = [
    { title: `${set.grade.grade} grade`, share: 44 },
    { title: 'allowed', share: 18, align: 'right' },
    { title: 'found', share: 18, align: 'right' },
    { title: 'holds', share: 18, bold: true },
    { title: 'section', share: 30 },
  ] as const;
  const number = (front: string) => set.fronts.find(({ id }) => id === front)?.number ?? null;
  const rows = gradeRows(set.grade, request.report.job.units, number);
  return [
    heading('Held against a grade', width, request.typeface),
    ...table(columns, rows, width, request.typeface),
    space(1),
    paragraph(
      'Sections of the Architectural Woodwork Standards, 1st edition, 2009. A report of limits, not a certificate.',
      width,
      request.typeface,
    ),
    space(2),
  ];
}

/** Every leaf in its order, with what it is used for. */
function stack(request: SheetRequest, { stack: leaves }: SetReport, width: number): Block[] {
  const rows = leaves.map(({ boardName, place, uses, without }) => [
    `${place}`,
    boardName,
    usesWords(uses) || (without ? 'left out' : 'spare'),
  ]);
  const columns = [
    { title: 'leaf', share: 14, bold: true },
    { title: 'board', share: 46 },
    { title: 'panel, and pieces of its face or back', share: 70 },
  ] as const;
  return [
    heading('The stack of leaves, in sawing order', width, request.typeface),
    ...table(columns, rows, width, request.typeface),
  ];
}

function coreBlocks(request: SheetRequest, thickness: number, cuts: SheetCuts, width: number): Block[] {
  const { typeface, job } = request;
  const lengths = lengthsOf(request.report);
  const { sheets, stock, tooLarge, first } = cuts;
  const core = job.shop.pressing?.core ?? 'MDF';
  const price = job.shop.pressing?.price ?? null;
  const cost = price === null ? '' : `, ${formatMoney(price * sheets.length, job.currency)}`;
  const grain = { none: '', along: ' Its grain runs with the veneer.', across: ' Its grain runs across the veneer.' };
  const named = `${sheets.length} ${sheets.length === 1 ? 'sheet' : 'sheets'} of ${core}, ${lengths.size(thickness)} thick`;
  return [
    paragraph(named + cost, width, typeface, { size: 4, bold: true }),
    paragraph(
      `Sheets of ${lengths.size(stock.length)} × ${lengths.size(stock.width)}, kerf ${lengths.at(cuts.kerf)}; ${formatShare(cuts.used)} becomes cores.${grain[stock.grain]} ${sureness(cuts)}`,
      width,
      typeface,
    ),
    paragraph(
      first === 'along'
        ? 'Rip strips along the sheet first, then crosscut them; the stop stands at the figure in the table.'
        : 'Crosscut the sheet into strips first, then cut those to length; the stop stands at the figure in the table.',
      width,
      typeface,
    ),
    ...tooLarge.map(({ name, height, width: wide }) =>
      paragraph(
        `${name} (${lengths.size(height)} × ${lengths.size(wide)}) does not come out of such a sheet.`,
        width,
        typeface,
        {
          bullet: '!',
          bold: true,
        },
      ),
    ),
    space(2),
    ...sheets.flatMap((sheet, i) => [
      cutSheetBlock(sheet, i + 1, stock, width, typeface),
      ...cutTable(request, sheet.cuts, lengths, width),
      space(3),
    ]),
  ];
}

function sureness({ sheets, least, proven }: SheetCuts): string {
  if (sheets.length <= least) return 'No fewer would do.';
  return proven
    ? 'No fewer would do with strips cut from end to end.'
    : `Perhaps ${least === 1 ? 'one sheet' : `${least} sheets`} would do: fewer were looked for and not found.`;
}

const STAGES = { edge: 'edge', strip: 'strip', part: 'part', width: 'to width' } as const;

function cutTable(request: SheetRequest, cuts: SheetCuts['sheets'][number]['cuts'], lengths: Lengths, width: number) {
  const rows = cuts.map(({ number, stage, fence, frees }) => [`${number}`, STAGES[stage], lengths.at(fence), frees]);
  const columns = [
    { title: 'cut', share: 12, bold: true },
    { title: 'what', share: 22 },
    { title: `fence or stop at${lengths.unit}`, share: 36, align: 'right', bold: true },
    { title: 'frees', share: 50 },
  ] as const;
  return table(columns, rows, width, request.typeface);
}
