import { type FacePicture, labPlanes } from '../raster';
import { strokeMask } from './hints';
import { cellsOf, ratherOne, sharesOf } from './likeness';
import { gridOf, seenMask } from './pictures';
import type { TraceOptions } from './trace-types';

/**
 * What a stroke teaches: a hand that marks wood which was missed, or floor which was taken for wood, means all that looks the same and hangs
 * together with it. Colours that the stroke shows rather than what was taken for the other kind are followed from the stroke on.
 */

/** Pixels that a stroke must show for its colours to be learnt. */
const ENOUGH = 20;
/** Half the side of the square over which likeness is averaged, px: a ring or a joint of the floor does not stop what spreads. */
const AROUND = 2;
/** Colours that lead to more than this share of what was taken for wood are the wood's own: a stroke beside it is then no lesson. */
const MOST = 0.4;

/** A first guess (1 for wood) with what strokes teach, on the grid of the picture. */
export function taught(picture: FacePicture, hints: TraceOptions, guess: Uint8Array): Uint8Array {
  if (!hints.strokes?.length) return guess;
  const grid = gridOf(picture);
  const [wood, rest] = [strokeMask(grid, hints, 'wood'), strokeMask(grid, hints, 'not wood')];
  const seen = seenMask(picture);
  const lab = labPlanes(picture.raster);
  const cells = cellsOf({ L: lab.L.data, a: lab.a.data, b: lab.b.data });
  const more = alike(cells, grid.width, seen, wood, (i) => !guess[i] && !wood[i]);
  const less = alike(cells, grid.width, seen, rest, (i) => guess[i] === 1 && !rest[i]);
  const [all, lost] = [count(guess, () => true), count(guess, (i) => less[i] === 1)];
  const believed = lost <= MOST * all;
  return guess.map((v, i) => ((v || more[i] || wood[i]) && !rest[i] && !(believed && less[i] && !wood[i]) ? 1 : 0));
}

/** 1 for each pixel that hangs together with a stroke through colours that are the stroke's rather than those of what `against` names. */
function alike(
  cells: Int32Array,
  width: number,
  seen: Uint8Array,
  stroke: Uint8Array,
  against: (i: number) => boolean,
): Uint8Array {
  const out = new Uint8Array(stroke.length);
  const other = stroke.map((_, i) => (seen[i] && against(i) ? 1 : 0));
  const [one, two] = [
    sharesOf(
      cells,
      stroke.map((v, i) => (v && seen[i] ? 1 : 0)),
      ENOUGH,
    ),
    sharesOf(cells, other, ENOUGH),
  ];
  if (!one || !two) return out;
  const like = averaged(ratherOne(cells, one, two), width);
  const queue: number[] = [];
  for (let i = 0; i < stroke.length; i++) if (stroke[i] && seen[i]) queue.push(i);
  for (const i of queue) out[i] = 1;
  while (queue.length > 0) {
    const i = queue.pop() as number;
    const column = i % width;
    for (const k of [column > 0 ? i - 1 : -1, column < width - 1 ? i + 1 : -1, i - width, i + width]) {
      if (k < 0 || k >= out.length || out[k] || !seen[k] || !((like[k] as number) > 0)) continue;
      out[k] = 1;
      queue.push(k);
    }
  }
  return out;
}

/** Mean over a square of AROUND pixels either way, along rows and then along columns. */
function averaged(values: Float32Array, width: number): Float32Array {
  const height = values.length / width;
  const along = (from: Float32Array, lines: number, length: number, line: number, by: number): Float32Array => {
    const out = new Float32Array(from.length);
    for (let n = 0; n < lines; n++) {
      for (let k = 0; k < length; k++) {
        const [first, last] = [Math.max(0, k - AROUND), Math.min(length - 1, k + AROUND)];
        let sum = 0;
        for (let j = first; j <= last; j++) sum += from[n * line + j * by] as number;
        out[n * line + k * by] = sum / (last - first + 1);
      }
    }
    return out;
  };
  return along(along(values, height, width, width, 1), width, height, 1, width);
}

function count(mask: Uint8Array, is: (i: number) => boolean): number {
  let sum = 0;
  for (let i = 0; i < mask.length; i++) if (mask[i] && is(i)) sum++;
  return sum;
}
