import { bounds, type Point, rectangle } from '../geometry';
import type { Slab } from '../job';
import { formatLength, type UnitSystem } from '../units';
import { cautionsFor } from '../wood';
import { flow, heading, moved, paragraph, table } from './blocks';
import { type Element, path, ring, type Sheet, text } from './drawing';
import { crossMark } from './linework';
import { cautionBlock, contentArea, PAPERS, type PaperName, sheetGroup } from './page';
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

/** Share of the length from each end at which a slab sags least between two bearers (practice: near the points of least sag of an even beam, derived). */
const BEARERS = 0.22;
const DRAWING = 66;
const COLUMN_GAP = 6;
/** Capitals of what is filled in by pencil leave a row of this height free, mm. */
const PENCIL = 3.2;

const HOW = [
  'Lay the slab on two bearers where the drawing shows them, face up as in the photo, and wedge it so that it does not rock.',
  'Set the sled rails, or two straight boards, level over its long edges. At every spot measure down from a straightedge across them to the wood: that is the drop.',
  'At the spots along both edges measure the thickness with callipers. A box may stay empty.',
  'Only where the underside is read, too: turn the slab over end for end, set the rails anew, and measure down at the same numbered spots.',
];

/**
 * The sheet: the slab's outline to scale with its spots numbered and its bearers, how to read, and a table with boxes to fill. Lengths along are
 * taped from the slab's left end as drawn, lengths in from the upper edge of the drawing's frame.
 */
export function readingSheets(request: ReadingSheetRequest): Sheet[] {
  const { slab, paper, typeface, flitch } = request;
  const { width: height, height: width } = PAPERS[paper];
  const area = contentArea(paper);
  const columnWidth = (area.maxX - area.minX - 2 * COLUMN_GAP) / 3;
  const cautions = cautionBlock(cautionsFor('lifting'), area.maxX - area.minX, typeface);
  const bottom = area.maxY + 10 - cautions.height;
  const how = [
    heading('How', columnWidth, typeface),
    ...HOW.map((words, i) => paragraph(words, columnWidth, typeface, { bullet: `${i + 1}` })),
  ];
  const blanks = table(
    [
      { title: 'spot', share: 17, bold: true },
      { title: 'along', share: 20, align: 'right' },
      { title: 'in', share: 17, align: 'right' },
      { title: 'drop', share: 23 },
      { title: 'thick', share: 23 },
    ],
    boxes(request),
    columnWidth,
    typeface,
    PENCIL,
  );
  const column = (k: number, page: number) => {
    const y = area.minY + (page === 0 ? DRAWING + 10 : 8);
    return { x: area.minX + k * (columnWidth + COLUMN_GAP), y, width: columnWidth, height: bottom - y };
  };
  const words = flow(how, () => column(0, 0)).pages;
  // The words take the first column of the first page, the table all others.
  const filled = flow(blanks, (index) => column((index + 1) % 3, Math.floor((index + 1) / 3))).pages;
  const pages = [...words.slice(0, 1), ...filled];
  const count = Math.ceil(pages.length / 3);
  return Array.from({ length: count }, (_, page) => {
    const title = text([area.minX, area.minY + 4], `Readings of ${slab.name}, ${flitch}`, { size: 4.5, bold: true });
    const line = 'bow __________   cup __________   twist __________   moisture __________   date ______________';
    const whole = page === 0 ? [text([area.minX, area.minY + DRAWING + 6], line, { size: PENCIL })] : [];
    const number = text([area.maxX, area.minY + 4], `sheet ${page + 1} of ${count}`, { anchor: 'end', ink: 'grey' });
    const own = pages.slice(3 * page, 3 * page + 3).flatMap(({ elements }) => elements);
    const warned = cautions.elements.map((element) => moved(element, area.minX, bottom));
    return {
      name: `readings-${page + 1}`,
      title: `Readings of ${slab.name}`,
      width,
      height,
      groups: [
        ...(page === 0
          ? [
              {
                layer: 'OUTLINE' as const,
                name: 'slab',
                elements: drawing(request, { ...area, minY: area.minY + 6, maxY: area.minY + DRAWING + 4 }),
              },
            ]
          : []),
        sheetGroup('table', [title, number, ...whole, ...own, ...warned]),
      ],
    };
  });
}

/** The slab's outline, or a frame around its spots where it has none. */
function outlineOf({ faces, spots }: Slab): readonly Point<'face'>[] {
  const { outline } = faces.top;
  if (outline) return outline.outer;
  const at = Object.values(spots).map((spot) => spot.at);
  const { minX, minY, maxX, maxY } = bounds(
    at.length > 0
      ? at
      : [
          [0, 0],
          [1000, 300],
        ],
  );
  return rectangle<'face'>(minX, minY, Math.max(maxX, minX + 1), Math.max(maxY, minY + 1));
}

function boxes({ slab, units }: ReadingSheetRequest): string[][] {
  const { minX, minY } = bounds(outlineOf(slab));
  const say = (mm: number): string => formatLength(mm, units, { decimals: 0 });
  return Object.values(slab.spots).map(({ at: [x, y] }, i) => [`${i + 1}`, say(x - minX), say(y - minY), '', '']);
}

function drawing(
  { slab, units }: ReadingSheetRequest,
  area: { minX: number; minY: number; maxX: number; maxY: number },
): Element[] {
  const outline = outlineOf(slab);
  const { minX, minY, maxX, maxY } = bounds(outline);
  const inner = { minX: area.minX + 6, maxX: area.maxX - 6, minY: area.minY + 6, maxY: area.maxY - 8 };
  const view = viewOf(outline, inner);
  const bearers = [minX + BEARERS * (maxX - minX), maxX - BEARERS * (maxX - minX)].flatMap((x): Element[] => {
    const [from, to] = onPaper(view, [
      [x, minY],
      [x, maxY],
    ]) as [Point<'paper'>, Point<'paper'>];
    const label = `bearer, ${formatLength(x - minX, units, { decimals: 0 })} along`;
    return [
      path(
        [
          [from[0], from[1] - 2],
          [to[0], to[1] + 2],
        ],
        'rough',
      ),
      text([to[0], to[1] + 6], label, { anchor: 'middle', ink: 'grey' }),
    ];
  });
  const spots = Object.values(slab.spots).flatMap(({ at }, i): Element[] => {
    const [x, y] = pointOnPaper(view, at);
    return [...crossMark([x, y], 1.2, 'measure'), text([x + 1.8, y - 1.2], `${i + 1}`, { size: 3, bold: true })];
  });
  return [ring(onPaper(view, outline), 'outline'), ...bearers, ...spots];
}
