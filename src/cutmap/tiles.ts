import { bounds, type Point } from '../geometry';
import { cautionsFor, type Work } from '../wood';
import { type Block, moved } from './blocks';
import { checkLines } from './check-lines';
import { box, type Element, type Group, text } from './drawing';
import { crossMark } from './linework';
import { cautionBlock, contentOf, type Draft, laidOut, MARGIN, sheetGroup } from './page';
import { PAPERS, type PaperName } from './papers';
import type { SheetRequest } from './request';
import type { Typeface } from './text';

/** Neighbouring tiles show this much of each other, mm: room to overlap and tape them. */
const OVERLAP = 10;
const HEAD = 20;

/** A drawing of true size, from (0, 0) to its size in mm. */
export interface TrueSize {
  readonly width: number;
  readonly height: number;
  readonly groups: readonly Group[];
}

/** Cautions are set no wider than on a large sheet, mm: on a roll's long one they could not be read. */
const WIDEST_CAUTIONS = 410;
/** What a roll gives in one piece is limited by the format of the file: a PDF page is 200 in long at most (PDF 32000-1, annex C), mm. */
const LONGEST = 5000;

/** The cautions that stand on every tile, since each is cut after. */
const cautionsOf = (typeface: Typeface, width: number, works: readonly Work[]): Block =>
  cautionBlock(cautionsFor(...works), Math.min(width, WIDEST_CAUTIONS), typeface);

/** The sheet that a drawing so wide is printed on: the paper, or of a roll as much as it takes. */
function sheetFor(drawing: number, paper: PaperName): { width: number; height: number } {
  const { width, height, times } = PAPERS[paper];
  if (times === 1) return laidOut(paper);
  return { width: Math.min(LONGEST, Math.max(height, drawing + 2 * MARGIN)), height: width * times };
}

/** How many tiles a drawing takes on this paper, how large each is, and the sheet under it. */
export function tileGrid(
  { width, height }: Pick<TrueSize, 'width' | 'height'>,
  { paper, typeface }: SheetRequest,
  works: readonly Work[],
) {
  const sheet = sheetFor(width, paper);
  const area = contentOf(sheet);
  const used = HEAD + cautionsOf(typeface, area.maxX - area.minX, works).height + 2;
  const tile = { width: area.maxX - area.minX, height: area.maxY - area.minY - used };
  const count = (whole: number, one: number): number => Math.max(1, Math.ceil((whole - OVERLAP) / (one - OVERLAP)));
  return { sheet, tile, columns: count(width, tile.width), rows: count(height, tile.height) };
}

/**
 * A true-size drawing over as many sheets as it takes: each with register marks in its overlaps (the same spot of the drawing on both
 * neighbours), a map of the tiles, and two lines to check the printer by.
 */
export function tiles(
  request: SheetRequest,
  drawing: TrueSize,
  about: Pick<Draft, 'name' | 'title' | 'subject' | 'up'>,
  works: readonly Work[],
): Draft[] {
  const { sheet, tile, columns, rows } = tileGrid(drawing, request, works);
  const whole = contentOf(sheet);
  const top = whole.minY + HEAD;
  const area = { ...whole, maxY: top + tile.height };
  const cautions = cautionsOf(request.typeface, whole.maxX - whole.minX, works);
  const warned = cautions.elements.map((element) => moved(element, whole.minX, whole.maxY - cautions.height));
  const many = columns * rows > 1;
  const out: Draft[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const dx = area.minX - column * (tile.width - OVERLAP);
      const dy = top - row * (tile.height - OVERLAP);
      const label = rowLetters(row) + (column + 1);
      const clip: Point<'paper'>[] = [
        [area.minX, top],
        [area.maxX, top],
        [area.maxX, area.maxY],
        [area.minX, area.maxY],
      ];
      const groups = drawing.groups
        .map((group) => ({ ...group, clip, elements: group.elements.map((element) => moved(element, dx, dy)) }))
        .filter((group) => group.elements.some((element) => touches(element, area)));
      const marks = many ? registerMarks(clip, row, column, rows, columns) : [];
      const map = many ? tileMap(area.maxX, area.minY, rows, columns, row, column, label) : [];
      out.push({
        ...about,
        name: many ? `${about.name}-${label.toLowerCase()}` : about.name,
        title: many ? `${about.title} ${label}` : about.title,
        scale: 1,
        size: sheet,
        groups: [
          ...(many ? [sheetGroup('tile', [box(area.minX, top, tile.width, tile.height, 'rule'), ...marks])] : []),
          ...groups,
          sheetGroup('check lines and cautions', [
            ...checkLines(area.minX, area.minY, '. If not, print at actual size (100 %)'),
            ...map,
            ...warned,
          ]),
        ],
      });
    }
  }
  return out;
}

/** A, B ... Z, AA: of a tile's row. */
const rowLetters = (row: number): string =>
  (row < 26 ? '' : rowLetters(Math.floor(row / 26) - 1)) + String.fromCharCode(65 + (row % 26));

function touches(element: Element, area: { minX: number; minY: number; maxX: number; maxY: number }): boolean {
  if (element.is !== 'path') return true;
  const own = bounds(element.points);
  return own.maxX >= area.minX && own.minX <= area.maxX && own.maxY >= area.minY && own.minY <= area.maxY;
}

/** A cross in the middle of every overlap's corner that has a neighbour. */
function registerMarks(
  clip: readonly Point<'paper'>[],
  row: number,
  column: number,
  rows: number,
  columns: number,
): Element[] {
  const half = OVERLAP / 2;
  const [[minX, minY], , [maxX, maxY]] = clip as [Point<'paper'>, Point<'paper'>, Point<'paper'>];
  return [
    [minX + half, minY + half, column > 0 || row > 0],
    [maxX - half, minY + half, column < columns - 1 || row > 0],
    [maxX - half, maxY - half, column < columns - 1 || row < rows - 1],
    [minX + half, maxY - half, column > 0 || row < rows - 1],
  ].flatMap(([x, y, wanted]) => (wanted ? crossMark([x as number, y as number], 2, 'frame') : []));
}

function tileMap(
  right: number,
  top: number,
  rows: number,
  columns: number,
  row: number,
  column: number,
  label: string,
): Element[] {
  const cell = Math.min(5, 14 / rows, 30 / columns);
  const left = right - columns * cell;
  const out: Element[] = [text([left - 2, top + 5], `tile ${label}`, { size: 3.5, bold: true, anchor: 'end' })];
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      const here = j === row && i === column;
      const [x, y] = [left + i * cell, top + j * cell];
      out.push(here ? box(x, y, cell, cell, 'frame', 'ink') : box(x, y, cell, cell, 'rule'));
    }
  }
  return out;
}
