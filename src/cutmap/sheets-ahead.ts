import { heading, paragraph, space, table } from './blocks';
import type { Sheet } from './drawing';
import { numbered } from './page';
import { drawElevation } from './panel-view';
import type { SheetRequest } from './request';
import { columnWidth, textPages } from './text-pages';

/**
 * Doors as they are likely to look on leaves that are not sawn yet: to be shown and talked over. It says of itself that it is an estimate, and bears no
 * measure to cut by.
 * @param trust how far the estimate can be trusted, sentences
 */
export function aheadSheets(request: SheetRequest, trust: readonly string[]): Sheet[] {
  const { report, typeface } = request;
  const width = columnWidth(request, 2);
  const columns = [
    { title: 'front', share: 40 },
    { title: 'leaves to come, in sawing order', share: 60 },
  ] as const;
  const pages = report.sets.flatMap((set) =>
    textPages(request, {
      name: 'estimate',
      title: 'Estimate, nothing to cut by',
      subject: set.name,
      columns: 2,
      works: [],
      blocks: [
        heading('Estimate: no leaf has been sawn yet', width, typeface),
        ...['The figure is foretold from photos of both faces of the board, carried along its rings.', ...trust].map(
          (words) => paragraph(words, width, typeface, { bullet: '·' }),
        ),
        paragraph('Once the board is sawn, lay the doors out on its own leaves: these may differ.', width, typeface, {
          bullet: '·',
        }),
        space(3),
        ...table(
          columns,
          set.fronts.map(({ number, name, pieces }) => [
            `${number} ${name}`,
            pieces.map(({ boardName, place }) => `${boardName} ${place ?? '?'}`).join(', '),
          ]),
          width,
          typeface,
        ),
      ],
      figure: { height: 110, draw: (area) => drawElevation(request, set, { ...area, minY: area.minY + 2 }) },
    }),
  );
  return numbered(pages, request);
}
