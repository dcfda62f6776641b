import { dryingWords, fixingRows, glueWords, pithWords, seasonWords, weightWords } from '../plan';
import type { Work } from '../wood';
import { type Block, heading, paragraph, space, table } from './blocks';
import type { Draft } from './page';
import { lengthsOf, type SheetRequest } from './request';
import { columnWidth, textPages } from './text-pages';

/** What the wood asks for: how the blanks dry and what they weigh, how the seams are glued up, how the tops are fixed. */
export function woodSheets(request: SheetRequest): Draft[] {
  const { wood } = request.report;
  if (wood.blanks.length === 0) return [];
  const works: Work[] = wood.tops.some(({ glue }) => glue.length > 0)
    ? ['lifting', 'glue-up', 'fixing']
    : ['lifting', 'fixing'];
  return textPages(request, {
    name: 'wood',
    title: 'Wood and glue',
    subject: wood.tops.map(({ name }) => name).join(', '),
    columns: 3,
    works,
    blocks: [...apart(request), ...blanks(request), ...tops(request), ...meetings(request)],
  });
}

function apart(request: SheetRequest): Block[] {
  const width = columnWidth(request, 3);
  const { typeface, report } = request;
  if (report.wood.apart.length === 0) return [];
  return [
    heading('Not to be glued yet', width, typeface),
    ...report.wood.apart.map((words) => paragraph(words, width, typeface, { bullet: '!', bold: true })),
    space(2),
  ];
}

function blanks(request: SheetRequest): Block[] {
  const width = columnWidth(request, 3);
  const { typeface, report } = request;
  const { units } = report.job;
  const named = new Map(
    report.slabs.flatMap((slab) =>
      slab.blanks.map((blank) => [blank.id, `${slab.name}, ${blank.topName} strip ${blank.strip + 1}`] as const),
    ),
  );
  return report.wood.blanks.flatMap(({ id, weight, lift, drying, pith }) => {
    const words = [
      ...(weight ? [`Rough-cut it weighs ${weightWords(weight, lift, units)}.`] : []),
      ...(drying
        ? dryingWords(drying, units)
        : ['Without a moisture and a thickness nothing can be said of its weight and of how it dries.']),
      ...(pith ? [pithWords(pith)] : []),
    ];
    return [
      heading(named.get(id) ?? id, width, typeface),
      ...words.map((line) => paragraph(line, width, typeface)),
      space(2),
    ];
  });
}

function tops(request: SheetRequest): Block[] {
  const width = columnWidth(request, 3);
  const { typeface, report } = request;
  const { units } = report.job;
  return report.wood.tops.flatMap(({ name, glue, fixing, weight, lift }) => [
    ...glue.flatMap((seam, i) => [
      heading(`${name}: gluing seam ${i + 1}`, width, typeface),
      ...glueWords(seam, units).map((line) => paragraph(line, width, typeface)),
      space(2),
    ]),
    heading(`${name}: fixing`, width, typeface),
    ...(weight ? [paragraph(`Finished it weighs ${weightWords(weight, lift, units)}.`, width, typeface)] : []),
    paragraph(seasonWords(fixing, units), width, typeface),
    paragraph(
      `${fixing.perRow} screws a row, ${lengthsOf(report).size(fixing.apart)} apart, in slots by the row:`,
      width,
      typeface,
    ),
    ...table(
      [
        { title: 'row, from the front edge', share: 45, align: 'right', bold: true },
        { title: 'hole', share: 55 },
      ],
      fixingRows(fixing, units).map(({ at, hole }) => [at, hole]),
      width,
      typeface,
    ),
    space(3),
  ]);
}

/** How the tops of a run are parted and joined. */
function meetings(request: SheetRequest): Block[] {
  const width = columnWidth(request, 3);
  const { typeface, report } = request;
  return report.wood.meetings.flatMap(({ heading: title, words }) => [
    heading(title, width, typeface),
    ...words.map((line) => paragraph(line, width, typeface)),
    space(2),
  ]);
}
