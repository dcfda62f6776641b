import { bounds, type Point } from '../geometry';
import { wantedTop } from '../job';
import type { TopReport } from '../plan';
import type { Work } from '../wood';
import { type Block, paragraph } from './blocks';
import { type Element, type Group, path, ring, type Sheet, text } from './drawing';
import { topStem } from './file-names';
import { dimension } from './linework';
import type { Draft } from './page';
import { PAPERS, type PaperName } from './papers';
import { lengthsOf, type SheetRequest } from './request';
import { columnWidth, textPages } from './text-pages';
import { type TrueSize, tileGrid, tiles } from './tiles';
import { onPaper, type View, viewOf } from './view';

/** Full-size lines of what a top is cut to: its drawn, round or oval outline, and its holes. */

const WORKS: readonly Work[] = ['router template'];
/** Line to the edge of its drawing, mm: room for the register of two tiles. */
const BORDER = 12;
/** So many tiles are still taped together; more want a larger paper or the drawing file (practice, no source). */
const MOST_TILES = 40;

interface Shape {
  readonly name: string;
  readonly ring: readonly Point<'top'>[];
}

/** What of a top is no straight line along its blank. */
function shapesOf({ job }: SheetRequest, { id, name, outline, lines }: TopReport): Shape[] {
  const shaped = wantedTop(job, id)?.shape ?? null;
  return [
    ...(shaped ? [{ name, ring: outline }] : []),
    ...lines.holes.map((hole) => ({ name: hole.name, ring: hole.polygon })),
  ];
}

/** What a rule and a square draw as well, without paper. */
const isBox = ({ ring: line }: Shape): boolean => {
  const { minX, maxX, minY, maxY } = bounds(line);
  return line.length === 4 && line.every(([x, y]) => (x === minX || x === maxX) && (y === minY || y === maxY));
};

/**
 * Paper templates of them, one after the other, each over as many sheets as it takes; of one that would take more than can be taped together a
 * sheet that says so.
 */
export function shapeTemplates(request: SheetRequest, top: TopReport): Draft[] {
  const shapes = shapesOf(request, top).filter((shape) => !isBox(shape));
  return shapes.flatMap((shape, i) => {
    const drawing = trueSize(shape);
    const about = {
      name: `${topStem(request.report, top)}-shape-${i + 1}`,
      title: `Shape ${i + 1}`,
      subject: shape.name,
    };
    if (countOf(drawing, request) > MOST_TILES) return tooLarge(request, top, shape, about);
    return tiles(request, drawing, about, WORKS);
  });
}

function countOf(drawing: TrueSize, request: SheetRequest): number {
  const { columns, rows } = tileGrid(drawing, request, WORKS);
  return columns * rows;
}

const FIGURE_HEIGHT = 110;

/** Why a shape is not printed in full size, and how one gets it all the same, under a small drawing of it. */
function tooLarge(
  request: SheetRequest,
  top: TopReport,
  { name, ring: line }: Shape,
  about: Pick<Draft, 'name' | 'title' | 'subject'>,
): Draft[] {
  const { typeface, paper } = request;
  const drawing = trueSize({ name, ring: line });
  const width = columnWidth(request, 1);
  const say = (words: string, bold = false): Block => paragraph(words, width, typeface, { size: 4, bold });
  const others = (Object.keys(PAPERS) as PaperName[]).flatMap((other) => {
    const count = countOf(drawing, { ...request, paper: other });
    return count <= MOST_TILES ? [`${PAPERS[other].called}: ${count} ${count === 1 ? 'sheet' : 'sheets'}`] : [];
  });
  const file = `${topStem(request.report, top)}-finished.dxf`;
  return textPages(request, {
    ...about,
    columns: 1,
    works: [],
    blocks: [
      say(
        `This shape is not printed in full size: on ${PAPERS[paper].called} it would take ${countOf(drawing, request)} sheets, more than can be taped together and stay true.`,
        true,
      ),
      ...(others.length > 0 ? [say(`Choose another paper in the cutting map. ${others.join('; ')}.`)] : []),
      say(`Or have it cut or plotted from the drawing file ${file}, which is in full size.`),
    ],
    figure: {
      height: FIGURE_HEIGHT,
      draw: (area) => {
        const inner = { minX: area.minX + 14, maxX: area.maxX - 14, minY: area.minY + 12, maxY: area.maxY - 4 };
        const view = viewOf(line, inner, { turned: true, paper });
        const shown = onPaper(view, line);
        const { minX, maxX, minY, maxY } = bounds(line);
        const lengths = lengthsOf(request.report);
        const box = bounds(shown);
        const sizes = [
          ...dimension([box.minX, box.minY], [box.maxX, box.minY], 5, lengths.size(maxX - minX)),
          ...dimension([box.maxX, box.minY], [box.maxX, box.maxY], 8, lengths.size(maxY - minY)),
        ];
        const groups: Group[] = [
          { layer: 'TEMPLATE', name, elements: [ring(shown, 'template')] },
          { layer: 'MEASURE', name: 'sizes', elements: sizes },
        ];
        return { groups, scale: view.scale };
      },
    },
  });
}

/** A ring in full size as one stands before the top, its front below, with the middle lines by which it is laid. */
function trueSize({ name, ring: line }: Shape): TrueSize {
  const { minX, maxX, minY, maxY } = bounds(line);
  const [width, height] = [maxX - minX + 2 * BORDER, maxY - minY + 2 * BORDER];
  const view: View<'top'> = { map: { m: [-1, 0, 0, -1, BORDER + maxX, BORDER + maxY] }, scale: 1 };
  const [x, y] = [width / 2, height / 2];
  const cross: Element[] = [
    path(
      [
        [x, 2],
        [x, height - 2],
      ],
      'measure',
    ),
    path(
      [
        [2, y],
        [width - 2, y],
      ],
      'measure',
    ),
    text([x + 2, height - BORDER - 3], `${name}: front`, { bold: true }),
  ];
  const groups: Group[] = [
    { layer: 'TEMPLATE', name, elements: [ring(onPaper(view, line), 'template')] },
    { layer: 'MEASURE', name: 'middle lines', elements: cross },
  ];
  return { width, height, groups };
}

/** A finished top in full size for a drawing file, where it has a shape or holes: outline, holes, seams and pockets; else null. */
export function topDrawing(request: SheetRequest, top: TopReport): Sheet | null {
  if (shapesOf(request, top).length === 0) return null;
  const { minX, maxX, minY, maxY } = bounds(top.outline);
  const view: View<'top'> = { map: { m: [-1, 0, 0, -1, BORDER + maxX, BORDER + maxY] }, scale: 1 };
  const groups: Group[] = [
    {
      layer: 'FINISHED',
      name: 'outline and holes',
      elements: [top.outline, ...top.lines.holes.map(({ polygon }) => polygon)].map((line) =>
        ring(onPaper(view, line), 'finished'),
      ),
    },
    { layer: 'JOINT', name: 'seams', elements: top.seams.map(({ line }) => path(onPaper(view, line), 'joint')) },
    { layer: 'POCKET', name: 'pockets', elements: top.keys.map(({ pocket }) => ring(onPaper(view, pocket), 'pocket')) },
  ];
  return {
    name: `${topStem(request.report, top)}-finished`,
    title: `${request.report.job.name}: ${top.name}, finished`,
    width: maxX - minX + 2 * BORDER,
    height: maxY - minY + 2 * BORDER,
    groups: groups.filter(({ elements }) => elements.length > 0),
  };
}
