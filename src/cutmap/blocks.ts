import type { Point } from '../geometry';
import { box, type Element, LEAST_TEXT, path, text } from './drawing';
import { shorten, type Typeface, wrap, wrapAtMost } from './text';

/**
 * Blocks of text and tables, and how they flow down the columns of a page. A block stands at (0, 0) and says how high it is;
 * one that cannot be parted from what follows says so; a table's row knows the heading that it wants at the top of a new column.
 */
export interface Block {
  readonly elements: readonly Element[];
  readonly height: number;
  readonly keepWithNext?: boolean;
  /** Repeated above this block when it begins a new column. */
  readonly head?: Block;
  /** Its lines one by one, between which it may be parted where a column is too short for it. */
  readonly lines?: readonly Block[];
  /** The same set closer. */
  readonly tight?: Block;
}

/** Distance between the baselines of a paragraph, in heights of a capital. */
const LEADING = 1.75;

/** The element moved by (dx, dy) mm. */
export function moved<E extends Element>(element: E, dx: number, dy: number): E {
  const move = ([x, y]: Point<'paper'>): Point<'paper'> => [x + dx, y + dy];
  switch (element.is) {
    case 'path':
      return { ...element, points: element.points.map(move) };
    case 'arc':
      return { ...element, centre: move(element.centre) };
    case 'text':
      return { ...element, at: move(element.at) };
    case 'image': {
      const [a, b, c, d, e, f] = element.place.m;
      return { ...element, place: { m: [a, b, c, d, e + dx, f + dy] } };
    }
  }
}

/** A heading that stays with what it heads. */
export function heading(words: string, width: number, typeface: Typeface, size = 3.5): Block {
  const line = shorten(words, width, size, true, typeface);
  return { elements: [text([0, size * 1.4], line, { size, bold: true })], height: size * 2.2, keepWithNext: true };
}

interface ParagraphStyle {
  readonly size?: number;
  readonly bold?: boolean;
  /** A sign in front of the first line, the others set in. */
  readonly bullet?: string;
}

/** A paragraph broken into lines. */
export function paragraph(words: string, width: number, typeface: Typeface, style: ParagraphStyle = {}): Block {
  const { size = LEAST_TEXT, bold = false, bullet } = style;
  const indent = bullet === undefined ? 0 : typeface.measure(`${bullet} `, size, bold) + 0.5;
  const lines = wrap(words, width - indent, size, bold, typeface);
  const blocks = lines.map((line, i): Block => {
    const elements = [text([indent, size * 1.2], line, { size, bold })];
    if (i === 0 && bullet !== undefined) elements.push(text([0, size * 1.2], bullet, { size, bold }));
    return { elements, height: size * (LEADING + (i + 1 < lines.length ? 0 : 0.5)) };
  });
  const elements = blocks.flatMap((line, i) => line.elements.map((element) => moved(element, 0, i * size * LEADING)));
  return { elements, height: heightOf(blocks), lines: blocks };
}

/** White space. */
export const space = (height: number): Block => ({ elements: [], height });

/** A column of a printed table. */
export interface Column {
  readonly title: string;
  /** Share of the table's width. */
  readonly share: number;
  /** Figures stand to the right, so that they line up. */
  readonly align?: 'left' | 'right';
  readonly bold?: boolean;
  /** A name is cut after so many lines; left out, after more than our own words take. */
  readonly lines?: number;
}

const PAD = 1.2;
/** What a row set close has over its lines, in heights of a capital; usual is 0.7. */
const TIGHT = 0.25;

/** A row cannot be parted: what it says is cut after so many lines. Our own words never take as many, only a name without end does. */
const MOST_LINES = 8;
/** For a column of names in a list of many rows. */
export const NAME_LINES = 3;

/** A table as one block a row: cells wrap, a figure too long for its column is set on more lines, never cut. */
export function table(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  width: number,
  typeface: Typeface,
  size = LEAST_TEXT,
): Block[] {
  const total = columns.reduce((sum, column) => sum + column.share, 0);
  const widths = columns.map((column) => (column.share / total) * width);
  const wrappedIn = (cells: readonly string[], header: boolean): string[][] =>
    columns.map(({ align, bold, lines = MOST_LINES }, i) =>
      wrapAtMost(
        align === 'right' ? Infinity : lines,
        cells[i] ?? '',
        (widths[i] as number) - 2 * PAD,
        size,
        header || bold === true,
        typeface,
      ),
    );
  const row = (wrapped: readonly string[][], header: boolean, pad = 0.7): Block => {
    const height = Math.max(...wrapped.map((lines) => lines.length)) * size * LEADING + size * pad;
    const elements: Element[] = header ? [box(0, 0, width, height, null, 'pale')] : [];
    let x = 0;
    columns.forEach((column, i) => {
      const right = column.align === 'right';
      const at = right ? x + (widths[i] as number) - PAD : x + PAD;
      (wrapped[i] as string[]).forEach((line, k) => {
        elements.push(
          text([at, size * (1.25 + pad / 2 + k * LEADING)], line, {
            size,
            bold: header || column.bold === true,
            anchor: right ? 'end' : 'start',
          }),
        );
      });
      x += widths[i] as number;
    });
    elements.push(
      path(
        [
          [0, height],
          [width, height],
        ],
        header ? 'frame' : 'rule',
      ),
    );
    return { elements, height };
  };
  const head = row(
    wrappedIn(
      columns.map((column) => column.title),
      true,
    ),
    true,
  );
  // Rows keep together: see flow.
  const body = rows.map((cells, i): Block => {
    const as = { head, keepWithNext: i + 1 < rows.length };
    const wrapped = wrappedIn(cells, false);
    return { ...row(wrapped, false), ...as, tight: { ...row(wrapped, false, TIGHT), ...as } };
  });
  return [{ ...head, keepWithNext: true }, ...body];
}

/** A column of a page, mm. */
export interface Area {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** So many rows at least stand together at the end of a table: one alone is overlooked. */
const LAST_ROWS = 3;
/** A column filled to this share is well filled. */
const FILLED = 0.6;

/**
 * Lets blocks flow down areas, one after the other.
 * @param areas the next area each time one is full; it may begin a new page
 * @returns for every area used its elements, and where the last one ends
 */
export function flow(
  blocks: readonly Block[],
  areas: (index: number) => Area,
): { pages: { area: Area; elements: Element[] }[]; end: number } {
  const pages: { area: Area; elements: Element[] }[] = [];
  let area = areas(0);
  let page = { area, elements: [] as Element[] };
  pages.push(page);
  let y = 0;
  const put = (block: Block): void => {
    page.elements.push(...block.elements.map((element) => moved(element, area.x, area.y + y)));
    y += block.height;
  };
  const next = (): void => {
    area = areas(pages.length);
    page = { area, elements: [] };
    pages.push(page);
    y = 0;
  };
  for (let i = 0; i < blocks.length; ) {
    let end = i + 1;
    while (blocks[end - 1]?.keepWithNext && end < blocks.length) end++;
    const chain = blocks.slice(i, end);
    // A table goes to the next column whole where that leaves this one well filled; else it begins here and is parted.
    const whole = heightOf(chain) <= area.height && y > FILLED * area.height;
    if (whole && y > 0 && y + heightOf(chain) > area.height) next();
    // What is parted is parted between its rows; all that heads them stays with the first two.
    const first = chain.findIndex(({ head }) => head);
    const last = Math.max(first + 2, chain.length - LAST_ROWS);
    chain.forEach((block, k) => {
      const needed =
        k === 0
          ? heightOf(chain.slice(0, first < 0 ? 3 : first + 2))
          : k === last && block.head
            ? heightOf(chain.slice(k))
            : block.height;
      const fits = y + needed <= area.height;
      // A paragraph is parted only where even a column of its own is too short for it.
      if (!fits && block.lines && block.height > area.height) {
        for (const line of block.lines) {
          if (y > 0 && y + line.height > area.height) next();
          put(line);
        }
        return;
      }
      if (!whole && y > 0 && !fits) {
        next();
        if (block.head) put(block.head);
      }
      put(block);
    });
    i = end;
  }
  return { pages, end: area.y + y };
}

/** Height of blocks one under the other. */
export const heightOf = (blocks: readonly Block[]): number => blocks.reduce((sum, block) => sum + block.height, 0);
