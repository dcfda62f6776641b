import { encode } from 'uqr';
import { box, type Element } from './drawing';

/** White that a reader wants round the code, in its cells (ISO/IEC 18004, from memory). */
const QUIET = 4;

/**
 * Words as a QR code that any phone reads without a net, its upper left corner at (x, y), its white border within `side` mm. Level M: what dust
 * or a scratch hides of a label is made up for.
 */
export function codeMark(words: string, x: number, y: number, side: number): Element[] {
  const { data, size } = encode(words, { ecc: 'M', border: QUIET });
  const cell = side / size;
  // Neighbouring dark cells of a row are one box, so that no printer leaves a white line between them.
  return data.flatMap((row, j) => {
    const boxes: Element[] = [];
    for (let from = 0; from < size; from++) {
      if (!row[from]) continue;
      let to = from;
      while (row[to]) to++;
      boxes.push(box(x + from * cell, y + j * cell, (to - from) * cell, cell, null, 'black'));
      from = to;
    }
    return boxes;
  });
}
