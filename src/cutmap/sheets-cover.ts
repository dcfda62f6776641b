import type { Bounds } from '../geometry';
import { seamDoes } from '../grain';
import { judgedBefore, type SetReport, sapwoodWords, seamName, type TopReport } from '../plan';
import { formatDuration, formatMass, formatMoney, formatShare } from '../units';
import { type Block, heading, NAME_LINES, paragraph, space, table } from './blocks';
import { type Group, text } from './drawing';
import { type Draft, sheetGroup } from './page';
import { drawElevation } from './panel-view';
import { lengthsOf, type SheetRequest } from './request';
import { shorten } from './text';
import { columnWidth, textPages } from './text-pages';
import { drawTop } from './top-view';

const FIGURE_HEIGHT = 78;

/**
 * The cover: the finished tops' pictures, what the plan comes to, the order of work, and the list of sheets.
 * @param sheets titles of all sheets that follow the cover, in order
 */
export function coverSheets(request: SheetRequest, sheets: readonly Pick<Draft, 'title' | 'subject'>[]): Draft[] {
  const { report } = request;
  const cover = (pages: number): Draft[] =>
    textPages(request, {
      name: 'cover',
      title: 'Cover',
      subject:
        report.tops.map((top) => top.name).join(', ') || report.sets.map(({ name }) => name).join(', ') || 'no tops',
      columns: 3,
      works: ['lifting', 'dust'],
      blocks: [...totals(request), ...verdict(request), ...order(request), ...sheetList(request, sheets, pages)],
      figure: { height: FIGURE_HEIGHT, draw: (area) => pictures(request, area) },
    });
  // The list says each sheet's page, which the cover's own length shifts.
  const pages = cover(1).length;
  return cover(pages);
}

function pictures(request: SheetRequest, area: Bounds) {
  const { tops, sets } = request.report;
  const [doors] = sets;
  if (tops.length === 0 && doors) return drawElevation(request, doors, { ...area, minY: area.minY + 2 });
  const groups: Group[] = [];
  const width = (area.maxX - area.minX) / Math.max(1, tops.length);
  let scale: number | null = null;
  const called = (name: string, room: number) => shorten(name, room, 3.5, true, request.typeface);
  tops.forEach((top, i) => {
    const own = { ...area, minX: area.minX + i * width, maxX: area.minX + (i + 1) * width - 3, minY: area.minY + 6 };
    const drawn = drawTop(request, top, own, 'picture');
    groups.push(
      ...drawn.groups,
      sheetGroup('name', [
        text([own.minX, area.minY + 4], called(top.name, own.maxX - own.minX), { size: 3.5, bold: true }),
      ]),
    );
    scale = i === 0 || drawn.view.scale === scale ? drawn.view.scale : null;
  });
  return { groups, scale };
}

function totals(request: SheetRequest): Block[] {
  const { report, typeface } = request;
  const width = columnWidth(request, 3);
  const { plan, job, cost } = report;
  return [
    heading('What this plan gives', width, typeface),
    ...report.tops.map((top) => paragraph(sayTop(request, top), width, typeface, { size: 3 })),
    ...[judgedBefore(report.tops)].flatMap((words) =>
      words
        ? [paragraph(`${words} Lay out again to have it judged anew.`, width, typeface, { size: 3, bold: true })]
        : [],
    ),
    ...report.sets.map((set) => paragraph(saySet(set), width, typeface, { size: 3 })),
    ...(report.slabs.length === 0 && report.sets.length > 0
      ? []
      : [
          paragraph(
            `From ${report.slabs.map((slab) => slab.name).join(', ') || 'no slab'}: ${formatShare(plan.waste)} waste` +
              `${cost.slabs === null ? '' : `, ${formatMoney(cost.slabs, job.currency)} of slabs`}` +
              `${cost.total === null || cost.total === cost.slabs ? '' : `, ${formatMoney(cost.total, job.currency)} with the boards`}.`,
            width,
            typeface,
            { size: 3 },
          ),
        ]),
    ...flattening(request).map((words) => paragraph(words, width, typeface, { size: 3 })),
    ...report.misses.map((miss) => paragraph(`Missed: ${miss.message}`, width, typeface, { size: 3, bold: true })),
    ...report.wood.apart.map((words) =>
      paragraph(`Not to be glued yet: ${words}`, width, typeface, { size: 3, bold: true }),
    ),
    space(2),
  ];
}

/** The doors in a sentence. */
function saySet({ name, fronts, press, misses, stack }: SetReport): string {
  const told = fronts.filter(({ blend }) => blend !== null).sort((a, b) => (a.blend as number) - (b.blend as number));
  const sheets = press.cores.reduce((sum, { cuts }) => sum + cuts.sheets.length, 0);
  const spare = stack.filter(({ uses, without }) => uses.length === 0 && !without).length;
  return [
    `${name}: ${fronts.length} ${fronts.length === 1 ? 'front' : 'fronts'} of ${stack.length} leaves, ${spare} to spare`,
    ...(told[0]?.word ? [`the weakest joint ${seamDoes(told[0].word)} (panel ${told[0].number})`] : []),
    `${sheets} ${sheets === 1 ? 'sheet' : 'sheets'} of core`,
    ...(misses.length > 0 ? ['not all can be had: see the press list'] : []),
  ].join('; ');
}

/** Time and chips of all flattening together. */
function flattening({ report }: SheetRequest): string[] {
  const { sled, machines, bags, cutting } = report.sledWork;
  if (sled + machines === 0) return [];
  const times = [
    ...(sled > 0 ? [`${formatDuration(sled * 60)} on the sled`] : []),
    ...(machines > 0 ? [`${formatDuration(machines * 60)} at other machines`] : []),
  ];
  return [
    `Flattening: ${times.join(', ')}, ${bags} ${bags === 1 ? 'bag' : 'bags'} of chips; the bit meets wood on ${Math.round(cutting)} m.`,
  ];
}

function sayTop({ report }: SheetRequest, top: TopReport): string {
  const lengths = lengthsOf(report);
  const depth = [...new Set(top.size.depth.map(lengths.size))].join(' to ');
  const seams = top.seams.map((seam, i) => `${seamName(seam, i)} ${seam.word ?? 'has no picture to judge it by'}`);
  const spare = top.placement.thickness;
  return [
    `${top.name}: ${lengths.size(top.size.length)} × ${depth} × ${lengths.size(top.size.thickness)}`,
    spare === null
      ? 'no readings, so no word on its thickness'
      : `its thinnest strip can finish at ${lengths.at(spare)}`,
    ...seams,
    ...sapwoodWords(top.sapwood).map((words) => words.replace(/^./, (first) => first.toLowerCase()).replace(/\.$/, '')),
    ...(top.keys.length > 0 ? [`${top.keys.length} keys`] : []),
    ...(top.weight
      ? [`${formatMass(top.weight.least, report.job.units)} to ${formatMass(top.weight.most, report.job.units)}`]
      : []),
    ...(top.movement
      ? [`moves about ${lengths.at(Math.abs(top.movement.change))} across its depth on the way to the site's moisture`]
      : []),
  ].join('; ');
}

function verdict(request: SheetRequest): Block[] {
  const { report, typeface } = request;
  const width = columnWidth(request, 3);
  const { passed, faults } = report.verdict;
  if (passed)
    return [
      paragraph('Checked: every piece lies on sound wood, clear of its neighbours and saw cuts.', width, typeface),
      space(2),
    ];
  return [
    heading('Do not cut: the check found faults', width, typeface),
    ...faults.map(({ message }) => paragraph(message, width, typeface, { bullet: '!', bold: true })),
    space(2),
  ];
}

function order(request: SheetRequest): Block[] {
  const { report, typeface } = request;
  const width = columnWidth(request, 3);
  return [
    heading('Order of work', width, typeface),
    ...report.order.map(({ step, detail }, i) =>
      paragraph(`${step}. ${detail}`, width, typeface, { bullet: `${i + 1}` }),
    ),
    space(2),
  ];
}

function sheetList(request: SheetRequest, sheets: readonly Pick<Draft, 'title' | 'subject'>[], pages: number): Block[] {
  const width = columnWidth(request, 3);
  const rows = sheets.map(({ title, subject }, i) => [`${i + 1 + pages}`, title, subject]);
  const columns = [
    { title: 'page', share: 16, align: 'right', bold: true },
    { title: 'sheet', share: 40 },
    { title: 'of', share: 60, lines: NAME_LINES },
  ] as const;
  return [heading('Sheets', width, request.typeface), ...table(columns, rows, width, request.typeface)];
}
