import type { ReadyLeaf } from './set-bench';
import type { Lane } from './window-states';

/** More ways than this of sharing out a leaf's length are not looked at. */
const MOST = 8;
/** Lengths that one leaf is cut into at most. */
const MOST_LENGTHS = 6;

/** Leaves of one board in sawing order, one length of each. */
export interface Stack {
  readonly board: string;
  readonly lane: Lane;
  /** By their place on the bench. */
  readonly leaves: readonly number[];
}

/**
 * Ways of sharing out the leaves' lengths among sheets, each as the stacks that it makes: a leaf is cut across into lengths, the same on all leaves of its board,
 * so that every length is a stack in sawing order of its own. Fewer lengths leave more choice of where along the leaf a panel is cut from, and more
 * lengths leave more spare leaves.
 * @param heights of the sheets, mm
 * @param crosscut of the saw between two lengths, mm
 */
export function stacksOf(
  leaves: readonly ReadyLeaf[],
  usable: readonly number[],
  heights: readonly number[],
  crosscut: number,
): Stack[][] {
  const boards = new Map<string, number[]>();
  for (const k of usable) {
    const { board } = (leaves[k] as ReadyLeaf).leaf;
    boards.set(board, [...(boards.get(board) ?? []), k]);
  }
  const distinct = [...new Set(heights.map((h) => Math.ceil(h * 10) / 10))].sort((a, b) => b - a);
  let ways: Stack[][] = [[]];
  for (const [board, own] of boards) {
    const length = Math.max(...own.map((k) => (leaves[k] as ReadyLeaf).length));
    const shared = partitions(length, distinct, crosscut).map((lanes) =>
      lanes.map((lane): Stack => ({ board, lane, leaves: own })),
    );
    ways = ways.flatMap((way) => shared.map((stacks) => [...way, ...stacks])).slice(0, MOST);
  }
  return ways;
}

/** Lengths that a leaf can be cut into, each long enough for one of the heights, what is over shared out evenly; more of them first. */
function partitions(length: number, heights: readonly number[], crosscut: number): Lane[][] {
  const found: number[][] = [];
  const add = (chosen: readonly number[], left: number, from: number) => {
    for (let i = from; i < heights.length; i++) {
      const h = heights[i] as number;
      if (h > left + 1e-6 || chosen.length === MOST_LENGTHS) continue;
      const next = [...chosen, h];
      found.push(next);
      add(next, left - h - crosscut, i);
    }
  };
  add([], length, 0);
  found.sort((a, b) => sum(b) - sum(a) || a.length - b.length);
  return found.slice(0, MOST).map((lengths) => {
    const over = (length - sum(lengths) - crosscut * (lengths.length - 1)) / lengths.length;
    let at = 0;
    return lengths.map((h): Lane => {
      const lane = { from: at, to: at + h + over };
      at = lane.to + crosscut;
      return lane;
    });
  });
}

const sum = (of: readonly number[]): number => of.reduce((total, x) => total + x, 0);
