import { bounds, crossingsAtX, type Point, type Region, rectangle } from '../geometry';
import type { Slab } from '../job';
import { BEARERS, edgeSpots, readingGrid, spotRows, USUAL_GRID } from '../surface';
import { formatLength, type UnitSystem } from '../units';
import { cautionsFor } from '../wood';
import { flow, heading, moved, paragraph } from './blocks';
import { type Element, path, ring, type Sheet, text } from './drawing';
import { crossMark } from './linework';
import { cautionBlock, contentArea, sheetGroup } from './page';
import { PAPERS, type PaperName } from './papers';
import { boxedLines } from './reading-boxes';
import type { Typeface } from './text';
import { onPaper, pointOnPaper, viewOf } from './view';

/** A sheet to write readings of a slab on, beside the slab. */
export interface ReadingSheetRequest {
  readonly slab: Slab;
  /** Name of its log. */
  readonly flitch: string;
  readonly paper: PaperName;
  readonly units: UnitSystem;
  readonly typeface: Typeface;
}

/** Height of the drawing on the first sheet, mm. */
const DRAWING = 66;
const COLUMN_GAP = 6;
/** Capitals of what is filled in by pencil, mm. */
const PENCIL = 3.2;
/** Labels under the drawing stand at least so far apart, mm. */
const APART = 15;

const HOW = [
  'Lay the slab face up as in the photo on two bearers where the drawing shows them, 0.22 of its length from each end. Wedge it: it must not rock.',
  'Chalk the spots: along from the end marked A, in from the edge marked B as it runs at that place.',
  'Set the sled rails, or two straight boards, level over the long edges. At every spot measure down from a straightedge across them: that is the drop.',
  'At the edges measure the thickness with callipers. A box may stay empty.',
  'If you read the underside (under), turn the slab over, set the rails anew, and measure down over the same spots.',
];

/** A slab with where it is read. */
interface Readable {
  readonly wood: Region<'face'>;
  readonly spots: readonly { readonly at: Point<'face'> }[];
}

/**
 * The sheet: the slab's outline to scale with its spots numbered and its bearers, how to read, and a box to fill for every reading. A slab
 * without spots is given the usual grid, numbered as the screen numbers it. Along is taped from the slab's left end as drawn, in from the
 * upper edge as it runs there.
 */
export function readingSheets(request: ReadingSheetRequest): Sheet[] {
  const { slab, paper, typeface, flitch, units } = request;
  const { width: height, height: width } = PAPERS[paper];
  const area = contentArea(paper);
  const columnWidth = (area.maxX - area.minX - 2 * COLUMN_GAP) / 3;
  const cautions = cautionBlock(cautionsFor('lifting'), area.maxX - area.minX, typeface);
  const bottom = area.maxY + 14 - cautions.height;
  const column = (k: number, page: number) => {
    const y = area.minY + (page === 0 ? DRAWING + 10 : 8);
    return { x: area.minX + k * (columnWidth + COLUMN_GAP), y, width: columnWidth, height: bottom - y };
  };
  const nth = (index: number) => column(index % 3, Math.floor(index / 3));
  const readable = readableOf(slab);
  const how = [
    heading('How', columnWidth, typeface),
    ...HOW.map((words, i) => paragraph(words, columnWidth, typeface, { bullet: `${i + 1}` })),
  ];
  const words = flow(how, nth).pages;
  // The words take the first column, the boxes all others.
  const boxes = flow(boxedLines(spotLines(readable, units), columnWidth, typeface), (index) =>
    nth(words.length + index),
  );
  const columns = [...words, ...boxes.pages];
  const count = Math.ceil(columns.length / 3);
  return Array.from({ length: count }, (_, page) => {
    const title = text([area.minX, area.minY + 4], `Readings of ${slab.name}, ${flitch}`, { size: 4.5, bold: true });
    const line = 'bow __________   cup __________   twist __________   moisture __________ %   date ______________';
    const whole = page === 0 ? [text([area.minX, area.minY + DRAWING + 7], line, { size: PENCIL })] : [];
    const number = text(
      [area.maxX, area.minY + 4],
      `lengths in ${units === 'mm' ? 'mm' : 'inches'}, sheet ${page + 1} of ${count}`,
      { anchor: 'end', ink: 'grey' },
    );
    const own = columns.slice(3 * page, 3 * page + 3).flatMap(({ elements }) => elements);
    const warned = cautions.elements.map((element) => moved(element, area.minX, bottom));
    const drawn = page === 0 ? drawing(readable, units, { ...area, maxY: area.minY + DRAWING + 2 }) : [];
    return {
      name: `readings-${page + 1}`,
      title: `Readings of ${slab.name}`,
      width,
      height,
      groups: [
        ...(page === 0 ? [{ layer: 'OUTLINE' as const, name: 'slab', elements: drawn }] : []),
        sheetGroup('table', [title, number, ...whole, ...own, ...warned]),
      ],
    };
  });
}

/**
 * The wood and its spots. Without an outline spots are taped from the slab's own corner, and as a grid stands as far from one end and edge as from
 * the other, the slab is drawn to reach as far beyond its last spots as its first ones stand in.
 */
function readableOf({ faces, spots }: Slab): Readable {
  const typed = Object.values(spots);
  if (faces.top.outline) {
    const wood = faces.top.outline;
    if (typed.length > 0) return { wood, spots: typed };
    return { wood, spots: readingGrid(wood, USUAL_GRID.rows, USUAL_GRID.columns).map((at) => ({ at })) };
  }
  const { minX, minY, maxX, maxY } = bounds(typed.length > 0 ? typed.map(({ at }) => at) : [[0, 0]]);
  const [fromX, fromY] = [Math.min(0, minX), Math.min(0, minY)];
  const ring = rectangle<'face'>(fromX, fromY, Math.max(maxX + minX, maxX, 1), Math.max(maxY + minY, maxY, 1));
  return { wood: { outer: ring, holes: [] }, spots: typed };
}

/** As a tape is read to chalk a spot: finer would be no use. */
const taped =
  (units: UnitSystem) =>
  (mm: number): string =>
    formatLength(mm, units, { decimals: 0, denominator: 8 });

function spotLines({ wood, spots }: Readable, units: UnitSystem) {
  const { minX, minY } = bounds(wood.outer);
  const reached = new Set(edgeSpots(spots));
  const say = taped(units);
  return spots.map((spot, i) => {
    const [x, y] = spot.at;
    const edge = crossingsAtX(wood.outer, x)[0] ?? minY;
    return { number: `${i + 1}`, along: say(x - minX), across: say(y - edge), calliper: reached.has(spot) };
  });
}

function drawing(
  { wood, spots }: Readable,
  units: UnitSystem,
  area: { minX: number; minY: number; maxX: number; maxY: number },
): Element[] {
  const { minX, minY, maxX, maxY } = bounds(wood.outer);
  const inner = { minX: area.minX + 10, maxX: area.maxX - 10, minY: area.minY + 12, maxY: area.maxY - 9 };
  const view = viewOf(wood.outer, inner);
  const say = taped(units);
  const [left, top] = pointOnPaper(view, [minX, minY]);
  const [right, low] = pointOnPaper(view, [maxX, maxY]);
  const bearers = [minX + BEARERS * (maxX - minX), maxX - BEARERS * (maxX - minX)].flatMap((x): Element[] => {
    const [at] = pointOnPaper(view, [x, minY]);
    return [
      path(
        [
          [at, top - 1.5],
          [at, low + 1.5],
        ],
        'rough',
      ),
      text([at, low + 5], `bearer, ${say(x - minX)} along`, { anchor: 'middle', ink: 'grey' }),
    ];
  });
  let labelled = -Infinity;
  const rows = spotRows(spots).flatMap((row): Element[] => {
    const [x] = (row[0] as { at: Point<'face'> }).at;
    const on = onPaper(
      view,
      row.map(({ at }) => at),
    );
    const [at] = on[0] as Point<'paper'>;
    const roomy = at - labelled >= APART;
    if (roomy) labelled = at;
    return [
      ...(on.length > 1 ? [path(on, 'measure')] : []),
      ...(roomy ? [text([at, top - 3], say(x - minX), { anchor: 'middle', ink: 'chalk' })] : []),
    ];
  });
  const marks = spots.flatMap(({ at }, i): Element[] => {
    const [x, y] = pointOnPaper(view, at);
    // Toward the slab's middle, so that no number stands on its edge.
    const side = x < (left + right) / 2 ? 1 : -1;
    const number = text([x + side * 2.6, y + 1.1], `${i + 1}`, {
      size: 3,
      bold: true,
      anchor: side > 0 ? 'start' : 'end',
    });
    return [...crossMark([x, y], 1.2, 'measure'), number];
  });
  const edges = [
    text([left - 5, (top + low) / 2 + 1.5], 'A', { size: 4, bold: true, anchor: 'middle' }),
    text([(left + right) / 2, top - 7], 'B', { size: 4, bold: true, anchor: 'middle' }),
    text([right, low + 5], `1 : ${view.scale}`, { anchor: 'end', ink: 'grey' }),
  ];
  return [
    ring(onPaper(view, wood.outer), 'outline'),
    ...wood.holes.map((hole) => ring(onPaper(view, hole), 'outline')),
    ...bearers,
    ...rows,
    ...marks,
    ...edges,
  ];
}
