import type { CutSheet, SheetCuts } from '../plan';
import type { Block } from './blocks';
import { box, type Element, path, text } from './drawing';
import { shorten, type Typeface } from './text';

/** Room over the sheet for its name. */
const NAME = 5;
/** Most that a sheet takes of a column's height, mm. */
const HIGH = 62;

/** A sheet with its parts and cuts, its length across the column; stays with its table. */
export function cutSheetBlock(
  { parts, cuts, rest }: CutSheet,
  number: number,
  { length, width: across, grain }: SheetCuts['stock'],
  width: number,
  typeface: Typeface,
): Block {
  const scale = Math.min((width - 2) / length, HIGH / across);
  const at = ([x, y]: readonly [number, number]) => [1 + x * scale, NAME + y * scale] as const;
  const drawn = parts.flatMap(({ name, x, y, long, across: wide, turned }): Element[] => {
    const [left, top] = at([x, y]);
    const [w, h] = [long * scale, wide * scale];
    const middle = [left + w / 2, top + h / 2] as const;
    return [
      box(left, top, w, h, 'finished', 'paper'),
      text([middle[0], middle[1] + 0.5], called(name, w - 1, typeface), { bold: true, anchor: 'middle' }),
      ...grainLine(middle, Math.min(w, h), turned),
    ];
  });
  const words = `Sheet ${number}${rest ? '' : ', used up'}${grain === 'none' ? '' : '; its grain runs along it'}`;
  return {
    elements: [
      text([1, 3.4], words, { bold: true }),
      box(1, NAME, length * scale, across * scale, 'outline', 'pale'),
      ...drawn,
      ...cuts.map(({ line: [a, b] }) => path([at(a), at(b)], 'rough')),
    ],
    height: NAME + across * scale + 2.5,
    keepWithNext: true,
  };
}

/** A part's name, or its number alone where there is no room. */
function called(name: string, room: number, typeface: Typeface): string {
  const number = /\d+$/.exec(name)?.[0];
  return number && typeface.measure(name, 2.5, true) > room ? number : shorten(name, room, 2.5, true, typeface);
}

/** Which way the veneer will run over a part: a stroke under its name. */
function grainLine([x, y]: readonly [number, number], room: number, turned: boolean): Element[] {
  const half = Math.min(8, room / 3);
  return [
    path(
      turned
        ? [
            [x, y + 2.2],
            [x, y + 2.2 + half],
          ]
        : [
            [x - half, y + 3],
            [x + half, y + 3],
          ],
      'measure',
    ),
  ];
}
