import { bounds } from '../geometry';
import { type SlabReport, suppliesOf } from '../plan';
import { formatArea, formatMass, formatMoney, formatShare } from '../units';
import { boardFeet, findSpecies } from '../wood';
import { type Block, heading, NAME_LINES, paragraph, space, table } from './blocks';
import type { DataTable } from './csv';
import type { Draft } from './page';
import { lengthsOf, type SheetRequest } from './request';
import { columnWidth, textPages } from './text-pages';

/** What is bought, what it costs, and what becomes of every slab. */
export function costSheets(request: SheetRequest): Draft[] {
  return textPages(request, {
    name: 'materials',
    title: 'Material and cost',
    subject: request.report.job.name,
    columns: 2,
    works: [],
    blocks: [...material(request), ...costs(request), ...supplies(request), ...areas(request)],
  });
}

function material(request: SheetRequest): Block[] {
  const { report, job, typeface } = request;
  const width = columnWidth(request, 2);
  const lengths = lengthsOf(report);
  const slabs = report.slabs.map((slab) => {
    const { minX, minY, maxX, maxY } = bounds(slab.outline.outer);
    const flitch = job.flitches[slab.flitch];
    const thickness = flitch?.slabs[slab.slab]?.thickness ?? null;
    return [
      `${flitch?.name ?? slab.flitch}, ${slab.name}`,
      speciesName(flitch?.species),
      `${lengths.size(maxX - minX)} × ${lengths.size(maxY - minY)}${thickness ? ` × ${lengths.size(thickness)}` : ''}`,
      thickness ? feet(slab, thickness) : '–',
      slab.weight ? `${formatMass(slab.weight.least, job.units)} – ${formatMass(slab.weight.most, job.units)}` : '–',
    ];
  });
  const boards = report.boards.flatMap(({ id }) => {
    const board = job.boards[id];
    if (!board) return [];
    const { name, species, length, width: wide, thickness } = board;
    const size = `${lengths.size(length)} × ${lengths.size(wide)} × ${lengths.size(thickness)}`;
    return [[name, speciesName(species), size, boardFeet({ thickness, width: wide, length }).toFixed(1), '–']];
  });
  const columns = [
    { title: 'stock', share: 28, lines: NAME_LINES },
    { title: 'species', share: 23 },
    { title: 'over all', share: 28, align: 'right' },
    { title: 'board feet', share: 14, align: 'right' },
    { title: 'weight', share: 22, align: 'right' },
  ] as const;
  return [
    heading('Material', width, typeface),
    ...table(columns, [...slabs, ...boards], width, typeface),
    ...(slabs.length > 0
      ? [
          space(1.5),
          paragraph(
            "A slab's board feet are of the wood inside the traced edge, at the thickness as read.",
            width,
            typeface,
          ),
        ]
      : []),
    space(3),
  ];
}

const speciesName = (id: string | undefined): string => (id ? (findSpecies(id)?.name ?? id) : '–');

/** Board feet of the traced outline: its mean width over its length. */
function feet(slab: SlabReport, thickness: number): string {
  const { minX, maxX } = bounds(slab.outline.outer);
  const length = maxX - minX;
  return boardFeet({ thickness, length, width: slab.areas.stock / length }).toFixed(1);
}

/** m2, of the inch of 25.4 mm. */
const SQUARE_FOOT = 0.3048 ** 2;

function costs(request: SheetRequest): Block[] {
  const { report, typeface } = request;
  const width = columnWidth(request, 2);
  const { cost, job } = report;
  const money = (amount: number | null): string => (amount === null ? 'no price' : formatMoney(amount, job.currency));
  const rows = cost.lines.map(({ item, quantity, price }) => [item, quantity, money(price)]);
  const columns = [
    { title: 'cost', share: 60, lines: NAME_LINES },
    { title: 'quantity', share: 19, align: 'right' },
    { title: 'price', share: 31, align: 'right' },
  ] as const;
  const total = cost.total === null ? 'No total: a price is missing' : `Total ${money(cost.total)}`;
  const each =
    cost.perSquareMetre === null
      ? ''
      : `; slabs cost ${
          job.units === 'mm'
            ? `${money(cost.perSquareMetre)} a square metre`
            : `${money(cost.perSquareMetre * SQUARE_FOOT)} a square foot`
        } of finished top`;
  return [
    heading('Cost', width, typeface),
    ...table(columns, rows, width, typeface),
    space(1.5),
    paragraph(`${total}${cost.total === null ? '' : each}.`, width, typeface, { size: 3, bold: true }),
    space(3),
  ];
}

function supplies(request: SheetRequest): Block[] {
  const { report, job, typeface } = request;
  const width = columnWidth(request, 2);
  const rows = suppliesOf(job, report).map(({ item, quantity, of }) => [item, quantity, of]);
  if (rows.length === 0) return [];
  const columns = [
    { title: 'besides', share: 42 },
    { title: 'about', share: 18, align: 'right' },
    { title: 'for', share: 50, lines: NAME_LINES },
  ] as const;
  return [
    heading('Besides, to buy or at hand', width, typeface),
    ...table(columns, rows, width, typeface),
    space(1.5),
    paragraph('What a glue or a resin needs, only its own sheet says: these are usual figures.', width, typeface),
    space(3),
  ];
}

function areas(request: SheetRequest): Block[] {
  const { report, typeface } = request;
  if (report.slabs.length === 0) return [];
  const width = columnWidth(request, 2);
  const area = (mm2: number): string => formatArea(mm2, report.job.units);
  const rows = report.slabs.map(({ name, areas: a }) => [
    name,
    area(a.stock),
    area(a.parts),
    area(a.kerf),
    area(a.offcuts),
    area(a.waste),
    formatShare(a.parts / a.stock),
  ]);
  const columns = [
    { title: 'slab', share: 24, lines: NAME_LINES },
    { title: 'stock', share: 18, align: 'right' },
    { title: 'parts', share: 18, align: 'right' },
    { title: 'kerf', share: 18, align: 'right' },
    { title: 'offcuts', share: 18, align: 'right' },
    { title: 'waste', share: 18, align: 'right' },
    { title: 'yield', share: 14, align: 'right' },
  ] as const;
  return [heading('What becomes of the slabs', width, typeface), ...table(columns, rows, width, typeface)];
}

/** The same cost and areas for a spreadsheet. */
export function costTable({ report }: SheetRequest): DataTable {
  return {
    name: 'costs',
    columns: [{ title: 'item' }, { title: 'quantity' }, { title: 'price', unit: report.job.currency }],
    rows: [
      ...report.cost.lines.map(({ item, quantity, price }) => [item, quantity, price]),
      ['total', '', report.cost.total],
    ],
  };
}
