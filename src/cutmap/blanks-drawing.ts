import type { BlankUse } from '../keys';
import type { Block } from './blocks';
import { box, type Element, text } from './drawing';
import { shorten, type Typeface } from './text';

/** Most that a piece takes of a column's height, mm. */
const HIGH = 32;
/** Room over the piece for its name. */
const NAME = 5;

/** Blanks as they lie on an offcut, as large as the column takes, the grain along it. Of a strip split in its thickness the upper layer, with the count of layers. */
export function blanksDrawing(
  { piece, of: [length, across], strips, blanks }: BlankUse,
  width: number,
  typeface: Typeface,
): Block {
  const scale = Math.min((width - 2) / length, HIGH / across);
  const at = (x: number, y: number): [number, number] => [1 + x * scale, NAME + y * scale];
  const layers = (y: number): number => strips.find((strip) => strip.y === y)?.layers ?? 1;
  const seen = blanks.filter(({ layer }) => layer === 0);
  const drawn = seen.flatMap(({ size, x, y, length: long, width: wide }): Element[] => {
    const [left, top] = at(x, y);
    const [w, h] = [long * scale, wide * scale];
    const words = layers(y) > 1 ? `${size} ×${layers(y)}` : size;
    return [
      box(left, top, w, h, 'finished'),
      ...(h >= 4 && w >= 6
        ? [text([left + w / 2, top + h / 2 + 1.2], shorten(words, w - 1, 2.5, false, typeface), { anchor: 'middle' })]
        : []),
    ];
  });
  const [left, foot] = at(0, across);
  return {
    elements: [
      text([1, 3.4], piece, { bold: true }),
      box(left, NAME, length * scale, across * scale, 'outline'),
      ...drawn,
    ],
    height: foot + 2,
  };
}
