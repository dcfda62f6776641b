import type { Bounds } from '../geometry';
import type { BoardReport } from '../plan';
import { type Block, heading, paragraph, space, table } from './blocks';
import { box, type Element, type Group, path } from './drawing';
import { drawLabel, placeLabels } from './labels';
import type { Draft } from './page';
import { lengthsOf, type SheetRequest } from './request';
import { columnWidth, textPages } from './text-pages';

/** One sheet a board: how often it is resawn, where the fence stands for each cut, and what is left. */
export function resawSheets(request: SheetRequest, board: BoardReport): Draft[] {
  const whole = request.job.boards[board.id];
  if (!whole || board.leaves === 0) return [];
  const { typeface } = request;
  const width = columnWidth(request, 2);
  return textPages(request, {
    name: `${board.id}-resawing`,
    title: 'Resawing',
    subject: board.name,
    columns: 2,
    works: ['resaw', 'dust'],
    blocks: [...facts(request, board, width), ...settings(request, board, whole.thickness, width)],
    figure: { height: 64, draw: (area) => endView(request, board, whole.thickness, whole.width, area) },
  });
  function facts(from: SheetRequest, { leaves, remnant, wanted, given, warning }: BoardReport, wide: number): Block[] {
    const lengths = lengthsOf(from.report);
    const { leaf, dressing, faceAllowance } = from.job.shop.resaw;
    const sawn = leaf.thickness + leaf.sanding;
    return [
      paragraph(`${leaves} leaves, sawn ${lengths.at(sawn)}`, wide, typeface, { size: 5, bold: true }),
      paragraph(
        `Finished ${lengths.at(leaf.thickness)}; ${lengths.at(leaf.sanding)} is for sanding both faces. What is left of the board: ${lengths.at(remnant)}.`,
        wide,
        typeface,
      ),
      paragraph(
        `Panel faces wanted ${wanted}, this board gives ${given}.${warning ? ` ${warning}` : ''}`,
        wide,
        typeface,
      ),
      space(2),
      heading('How', wide, typeface),
      ...[
        `Dress the outer face first: ${lengths.at(faceAllowance)} comes off once.`,
        `With the leaf against the fence, the fence stands at ${lengths.at(sawn)} for every cut.`,
        'With the board against the fence, it stands at the figure in the table, and the leaf falls away.',
        `Dress the board's face after each cut (${lengths.at(dressing)}), not after the last.`,
        'Number every leaf as it comes off, and mark the same end on all.',
      ].map((words, i) => paragraph(words, wide, typeface, { bullet: `${i + 1}` })),
    ];
  }
}

function settings(request: SheetRequest, board: BoardReport, thickness: number, width: number): Block[] {
  const { typeface } = request;
  const lengths = lengthsOf(request.report);
  const { kerf } = request.job.shop.resaw;
  const rows = board.cuts.map((at, i) => [
    `${i + 1}`,
    `leaf ${i + 1}`,
    lengths.at(at),
    lengths.at(thickness - at - kerf),
  ]);
  const columns = [
    { title: 'cut', share: 15, bold: true },
    { title: 'frees', share: 25 },
    { title: 'begins at', share: 30, align: 'right' },
    { title: 'fence, board against it', share: 40, align: 'right', bold: true },
  ] as const;
  return [
    heading('Fence', width, typeface),
    paragraph('Where each cut begins is counted from the outer face as it was.', width, typeface),
    ...table(columns, rows, width, typeface),
  ];
}

/** The board's end in true size (as much of its width as fits): outer face above, leaves white, saw cuts dark. */
function endView(request: SheetRequest, board: BoardReport, thickness: number, boardWidth: number, area: Bounds) {
  const { kerf } = request.job.shop.resaw;
  const scale = Math.max(1, Math.ceil(thickness / (area.maxY - area.minY - 4)));
  const width = Math.min(boardWidth / scale, area.maxX - area.minX - 40);
  const [x, y] = [area.minX + 2, area.minY + 2];
  const elements: Element[] = [
    box(x, y, width, thickness / scale, 'outline'),
    ...board.cuts.map((at) => box(x, y + at / scale, width, Math.max(0.2, kerf / scale), null, 'pencil')),
  ];
  // One label stands beside every cut where there is room; elsewhere its leader leads to it.
  const labels = board.cuts.map((at, i) => ({
    text: `cut ${i + 1}`,
    at: [x + width, y + (at + kerf / 2) / scale] as const,
    shape: 'plain' as const,
    gap: 1.5 + (i % 3) * 9,
  }));
  const right = { ...area, minX: x + width + 1 };
  const { placed } = placeLabels(labels, right, [], request.typeface);
  const leaders = placed.map(({ label, bounds }) =>
    path([label.at, [bounds.minX, (bounds.minY + bounds.maxY) / 2]], 'rule'),
  );
  const groups: Group[] = [
    { layer: 'OUTLINE', name: 'end of the board', elements },
    { layer: 'MEASURE', name: 'labels', elements: [...leaders, ...placed.flatMap(drawLabel)] },
  ];
  return { groups, scale };
}
