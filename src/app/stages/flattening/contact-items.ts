import { apply, type Point } from '../../../geometry';
import type { BlankReport } from '../../../plan';
import type { Item, XY } from '../../canvas/items';
import type { Standing } from './use-blank-drawing';

/** Where a pass cuts. Pure. */

/** One pass of a blank. */
export interface PassShown {
  readonly face: 'top' | 'bottom';
  readonly index: number;
}

/** Wood that stands less than this over a pass is not cut by it, mm. */
const NOTHING = 0.001;
/** Every so many columns of the grid a line is hatched. */
const HATCH_EVERY = 1;

/** Hatching, across the blank, where a pass meets wood. */
export function contactItems({ wood, toUp }: Standing, blank: BlankReport, { face, index }: PassShown): Item[] {
  const passes = blank.flattening?.faces.find((each) => each.face === face)?.passes ?? [];
  const left = passes.slice(index + 1).reduce((sum, { depth }) => sum + depth, 0);
  const { step, x0, y0, columns, rows } = wood;
  const place = (c: number, y: number): XY => apply(toUp, [x0 + (c + 0.5) * step, y] as Point<'face'>);
  const lines: XY[][] = [];
  for (let c = 0; c < columns; c += HATCH_EVERY) {
    let from: number | null = null;
    for (let r = 0; r <= rows; r++) {
      const cuts = r < rows && (wood[face][r * columns + c] as number) > left + NOTHING;
      if (cuts && from === null) from = r;
      if (cuts || from === null) continue;
      lines.push([place(c, y0 + from * step), place(c, y0 + r * step)]);
      from = null;
    }
  }
  return lines.length > 0 ? [{ kind: 'strokes', id: `contact-${face}-${index}`, lines, pen: 'cut' }] : [];
}
