import type { Block } from './blocks';
import { box, type Element, text } from './drawing';
import type { Typeface } from './text';

/** A spot's line on a reading sheet: its number, where it is taped out, and whether callipers reach it. */
export interface SpotLine {
  readonly number: string;
  readonly along: string;
  readonly across: string;
  readonly calliper: boolean;
}

/** What a pencil fills in: the drop to the upper face, the thickness, the drop to the underside. */
const PENCIL = ['drop', 'thick', 'under'] as const;

/** Height of a box, mm: two lines of a ruled pad of 4 mm (practice, no source). */
const TALL = 8;
const [SIZE, PAD] = [3, 1];

/** The lines as blocks, a framed box for every reading; where callipers do not reach, the box is shaded. The heading stands over each new column. */
export function boxedLines(lines: readonly SpotLine[], width: number, typeface: Typeface): Block[] {
  const wide = (words: string, bold: boolean): number => 2 * PAD + typeface.measure(words, SIZE, bold);
  const printed = (column: (line: SpotLine) => string, title: string): number =>
    Math.max(wide(title, true), ...lines.map((line) => wide(column(line), false)));
  const [number, along, across] = [
    printed((line) => line.number, 'spot'),
    printed((line) => line.along, 'along'),
    printed((line) => line.across, 'in'),
  ];
  const [afterNumber, afterAlong, boxes] = [number, number + along, number + along + across];
  const each = (width - boxes) / PENCIL.length;
  const words = (line: Omit<SpotLine, 'calliper'>, bold: boolean): Element[] => [
    text([PAD, TALL * 0.68], line.number, { size: SIZE, bold: true }),
    text([afterAlong - PAD, TALL * 0.68], line.along, { size: SIZE, bold, anchor: 'end' }),
    text([boxes - PAD, TALL * 0.68], line.across, { size: SIZE, bold, anchor: 'end' }),
  ];
  const head: Block = {
    elements: [
      box(0, 0, width, TALL, 'frame', 'pale'),
      ...words({ number: 'spot', along: 'along', across: 'in' }, true),
      ...PENCIL.map((title, i) =>
        text([boxes + (i + 0.5) * each, TALL * 0.68], title, { size: SIZE, bold: true, anchor: 'middle' }),
      ),
    ],
    height: TALL,
    keepWithNext: true,
  };
  const body = lines.map(
    (line, i): Block => ({
      elements: [
        box(0, 0, afterNumber, TALL, 'rule'),
        box(afterNumber, 0, along + across, TALL, 'rule'),
        ...PENCIL.map((which, k) =>
          which === 'thick' && !line.calliper
            ? box(boxes + k * each, 0, each, TALL, 'frame', 'pale')
            : box(boxes + k * each, 0, each, TALL, 'frame'),
        ),
        ...words(line, false),
      ],
      height: TALL,
      head,
      keepWithNext: i + 1 < lines.length,
    }),
  );
  return [head, ...body];
}
