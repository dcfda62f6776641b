import { type Bounds, bounds } from '../geometry';
import type { PieceReport } from '../plan';
import { type Block, moved, paragraph } from './blocks';
import { type Element, path, ring, text } from './drawing';
import { dimension } from './linework';
import { sequenceArrow } from './panel-view';
import type { Lengths } from './request';
import type { Typeface } from './text';
import { onPaper, pointOnPaper, viewOf } from './view';

/** Most that a leaf takes of a column's height, mm. */
const HIGH = 26;
/** Room over the leaf for the marked edge and the ends of its cut lines, under it for two dimensions. */
const OVER = 3;
const UNDER = 12;

/** The line of the marked edge stands off the wood by this, mm. */
const OFF = 1.2;

/** Height of a figure, mm, and how wide one of its letters is as a share of that, at most. */
const FIGURE = 2.5;
const LETTER = 0.62;

/** How far something lies from the marked end, under the leaf; a figure that has no room over its line stands behind it. */
function fromEnd([left, foot]: readonly [number, number], mm: number, line: number, figure: string): Element[] {
  const drawn = dimension([left, foot], [left + mm, foot], -line, figure, FIGURE);
  if (mm > LETTER * FIGURE * figure.length + 1) return drawn;
  const at = [left + mm + 2, foot + line + 0.35 * FIGURE] as const;
  return [...drawn.filter(({ is }) => is !== 'text'), text(at, figure, { size: FIGURE, bold: true, ink: 'chalk' })];
}

/** What the far side of a leaf shows, in words. */
const UP = { top: 'outer face up', bottom: 'inner face up' } as const;

/** How a leaf lies, and which way its marks point, as one says it at the bench. */
export function liesWords({ face, flip, end, edge }: PieceReport): string {
  const flips = {
    none: '',
    over: ', turned over',
    end: ', end for end',
    'over and end': ', turned over and end for end',
  };
  return `${UP[face]}${flips[flip]}; marked end ${end}, edge ${edge}`;
}

/** A leaf as it lies before one, marked end at the left and marked edge at the top, with the lines that a piece is cut at. */
export function leafBlock(piece: PieceReport, lengths: Lengths, width: number, typeface: Typeface): Block {
  const { outline, window, along, inward, place, number, boardName } = piece;
  const called = paragraph(`${number}: leaf ${place ?? '?'} of ${boardName}`, width, typeface, { bold: true });
  const lies = paragraph(liesWords(piece), width, typeface);
  const name = called.height + lies.height + OVER;
  const own = bounds(outline);
  const scale = Math.max((own.maxX - own.minX) / (width - 14), (own.maxY - own.minY) / HIGH);
  const high = (own.maxY - own.minY) / scale;
  const area: Bounds = { minX: 8, maxX: 8 + (own.maxX - own.minX) / scale, minY: name, maxY: name + high };
  const view = viewOf(outline, area, { any: true });
  const [left, top] = pointOnPaper(view, [own.minX, own.minY]);
  const at = ([from, to]: readonly [number, number]) => [from / scale, to / scale] as const;
  const [x0, x1] = at(along).map((x) => left + x) as [number, number];
  const [y0, y1] = at(inward).map((y) => top + y) as [number, number];
  const foot = name + high;
  const lines: Element[] = piece.isRectangle
    ? [
        // Across the whole leaf first, then along it.
        path(
          [
            [x0, top - 2],
            [x0, foot + 1.5],
          ],
          'rough',
        ),
        path(
          [
            [x1, top - 2],
            [x1, foot + 1.5],
          ],
          'rough',
        ),
        path(
          [
            [x0, y0],
            [x1, y0],
          ],
          'finished',
        ),
        path(
          [
            [x0, y1],
            [x1, y1],
          ],
          'finished',
        ),
      ]
    : [ring(onPaper(view, window), 'finished')];
  const right = left + (own.maxX - own.minX) / scale;
  const elements: Element[] = [
    ...called.elements,
    ...lies.elements.map((element) => moved(element, 0, called.height)),
    ring(onPaper(view, outline), 'outline'),
    ...lines,
    // The marked edge and the marked end, a little off the wood.
    path(
      [
        [left - OFF, foot],
        [left - OFF, top - OFF],
        [right, top - OFF],
      ],
      'datum',
    ),
    ...sequenceArrow([(x0 + x1) / 2, (y0 + y1) / 2], [-1, 0], true),
    ...[...new Set(along)]
      .filter((mm) => mm > 0)
      .flatMap((mm, i) => fromEnd([left, foot], mm / scale, 4.5 + 5.5 * i, lengths.at(mm))),
  ];
  const words = piece.isRectangle
    ? `From the marked edge ${lengths.at(inward[0])} to ${lengths.at(inward[1])}.`
    : `Corners, from the marked end | from the marked edge: ${piece.corners
        .map(({ along: a, inward: b }) => `${lengths.at(a)} | ${lengths.at(b)}`)
        .join('; ')}.`;
  const under = paragraph(words, width, typeface, { bold: true });
  return {
    elements: [...elements, ...under.elements.map((element) => moved(element, 0, foot + UNDER))],
    height: foot + UNDER + under.height + 1,
  };
}
