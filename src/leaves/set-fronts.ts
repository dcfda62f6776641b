import type { Door } from '../job';
import type { Front } from './set-types';

/** Between fronts that are given no place, mm: the usual gap of inset and overlay doors (practice). */
const GAP = 3;

/**
 * Every copy of every door in its place. Copies without a place stand in a row to the right of all others, their upper edges level.
 * Sorted as a set is numbered: left to right, and top to bottom within a stack.
 */
export function frontsOf(doors: readonly Door[]): Front[] {
  const placed: Front[] = [];
  const loose: Omit<Front, 'at'>[] = [];
  for (const door of doors) {
    for (let copy = 1; copy <= door.count; copy++) {
      const at = door.at[copy - 1];
      const front = { id: `${door.id}-${copy}`, door, copy };
      if (at) placed.push({ ...front, at });
      else loose.push(front);
    }
  }
  let x = placed.length === 0 ? 0 : Math.max(...placed.map(({ at, door }) => at[0] + door.width)) + GAP;
  const y = Math.min(...placed.map(({ at }) => at[1]), placed.length === 0 ? 0 : Infinity);
  for (const front of loose) {
    placed.push({ ...front, at: [x, y] });
    x += front.door.width + GAP;
  }
  return inSequence(placed);
}

/**
 * Left to right by stacks, top to bottom within one (blueprint-matched work is numbered so; AWS 8-1.2.10.6.7). A front belongs to a stack whose
 * first front it shares more than half of its own width with.
 */
function inSequence(fronts: readonly Front[]): Front[] {
  const stacks: Front[][] = [];
  for (const front of [...fronts].sort((a, b) => a.at[0] - b.at[0] || a.at[1] - b.at[1])) {
    const stack = stacks.find(([first]) => first && shared(front, first) > front.door.width / 2);
    if (stack) stack.push(front);
    else stacks.push([front]);
  }
  return stacks.flatMap((stack) => stack.sort((a, b) => a.at[1] - b.at[1] || a.at[0] - b.at[0]));
}

/** How much of their widths two fronts have above each other, mm. */
const shared = (a: Front, b: Front): number =>
  Math.min(a.at[0] + a.door.width, b.at[0] + b.door.width) - Math.max(a.at[0], b.at[0]);
