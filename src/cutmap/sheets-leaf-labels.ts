import type { LeafUse, SetReport } from '../plan';
import { box, type Element, text } from './drawing';
import { usesWords } from './leaf-uses';
import { contentArea, type Draft, laidOut, sheetGroup } from './page';
import { sequenceArrow } from './panel-view';
import type { SheetRequest } from './request';
import { shorten, wrap } from './text';

/** Labels across and down a sheet. */
const ACROSS = 4;
const DOWN = 6;
/** Lines that say where a leaf goes. */
const LINES = 3;

/** Labels to be cut out and stuck on, one for every leaf: the arrow goes towards its marked end. */
export function leafLabels(request: SheetRequest, set: SetReport): Draft[] {
  const pages = Math.ceil(set.stack.length / (ACROSS * DOWN));
  return Array.from({ length: pages }, (_, page) => {
    const own = set.stack.slice(page * ACROSS * DOWN, (page + 1) * ACROSS * DOWN);
    return {
      name: pages > 1 ? `leaf-labels-${page + 1}` : 'leaf-labels',
      title: pages > 1 ? `Leaf labels ${page + 1}/${pages}` : 'Leaf labels',
      subject: set.name,
      scale: null,
      size: laidOut(request.paper),
      groups: [
        sheetGroup(
          'labels',
          own.flatMap((leaf, i) => label(request, leaf, i)),
        ),
      ],
    };
  });
}

function label({ paper, typeface }: SheetRequest, { place, boardName, uses, without }: LeafUse, i: number): Element[] {
  const { minX, minY, maxX, maxY } = contentArea(paper);
  const [width, height] = [(maxX - minX) / ACROSS, (maxY - minY) / DOWN];
  const [x, y] = [minX + (i % ACROSS) * width, minY + Math.floor(i / ACROSS) * height];
  const print = (words: string, room: number, size: number, bold: boolean) =>
    shorten(typeface.printable(words), room, size, bold, typeface);
  const goes = wrap(usesWords(uses, 'panel ') || (without ? 'left out' : 'spare'), width - 4, 2.5, true, typeface);
  const lines = goes.length > LINES ? [...goes.slice(0, LINES - 1), 'and more: see the stack'] : goes;
  return [
    box(x, y, width, height, 'rule'),
    ...sequenceArrow([x + 7, y + 9], [-1, 0], true),
    text([x + 14, y + 12], `${place}`, { size: 7, bold: true }),
    text([x + 27, y + 12], print(boardName, width - 29, 2.5, false), {}),
    ...lines.map((line, k) => text([x + 2, y + 17.5 + 4 * k], line, { bold: true })),
  ];
}
