import type { Door } from '../job';
import { panelSizes } from './frame-panel';
import { fewestPackets } from './leaf-packets';
import type { ClearFace, ClearPiece } from './yield-clear';

/** The front or the back of one door, as leaves must be found for it. */
export interface WantedFace {
  readonly door: string;
  /** Copy of the door, from 1. */
  readonly copy: number;
  readonly side: 'front' | 'back';
  /** As it is pressed, along the grain and across it, mm. */
  readonly length: number;
  readonly width: number;
  /** In how many lengths, end to end. */
  readonly rows: number;
  /** Least number of leaves side by side that its match asks for. */
  readonly abreast: number;
}

/** Matches that are pieced from four windows or more: two rows of two. */
const FOUR: readonly Door['match'][] = ['four-piece', 'diamond', 'reverse diamond'];

/** Whether rails and stiles leave anything of a front for its panel. */
const hasPanel = ({ width, height, frame }: Door): boolean =>
  frame === null || (width > 2 * frame.stile && height > frame.topRail + frame.bottomRail);

/**
 * Every face of the doors, door by door and copy by copy, front and back in turn: the order in which leaves are given out. A door whose rails and
 * stiles leave no panel wants none.
 */
export function wantedFaces(doors: readonly Door[]): WantedFace[] {
  return doors.filter(hasPanel).flatMap((door) => {
    const { width, height } = panelSizes(door).pressed;
    const four = FOUR.includes(door.match);
    return Array.from({ length: door.count }, (_, i) =>
      (door.backed ? (['front', 'back'] as const) : (['front'] as const)).map((side): WantedFace => {
        const front = side === 'front';
        return {
          door: door.id,
          copy: i + 1,
          side,
          length: height,
          width,
          rows: door.ends?.rows ?? (four && front ? 2 : 1),
          abreast: front ? (door.leaves ?? (four ? 2 : 1)) : 1,
        };
      }),
    ).flat();
  });
}

/** A board's leaves, one strip of it: so many, all cut up from the same face. */
export interface LeafStack {
  readonly face: ClearFace;
  readonly leaves: number;
}

/** Leaves side by side that a face takes of a stack. */
export const abreastOf = ({ width, abreast }: WantedFace, { face }: Pick<LeafStack, 'face'>): number =>
  Math.max(abreast, Math.ceil(width / face.width - 1e-9));

/**
 * How many leaves of one stack the faces take, or null where one of them fits none. A row of a face is made of leaves that follow each other in the
 * sawing order, all from one place along the board; rows that meet end to end may come from one leaf or from others. Rows of as many leaves side by side are
 * packed together: exact for faces of one size and for a few of several, else it may be a leaf more (`fewestPackets`).
 * @param kerf between two lengths
 */
export function leavesFor(
  faces: readonly WantedFace[],
  { face }: Pick<LeafStack, 'face'>,
  kerf: number,
): number | null {
  const bySize = new Map<number, ClearPiece[]>();
  for (const one of faces) {
    const size = abreastOf(one, { face });
    const row = { length: one.length / one.rows, width: one.width / size };
    const rows = bySize.get(size) ?? [];
    for (let k = 0; k < one.rows; k++) rows.push(row);
    bySize.set(size, rows);
  }
  let leaves = 0;
  for (const [size, rows] of bySize) {
    const packets = fewestPackets(rows, face, kerf);
    if (packets === null) return null;
    leaves += packets * size;
  }
  return leaves;
}

/** How many of the faces, in their order, the stack's leaves give. */
export function facesGiven(faces: readonly WantedFace[], stack: LeafStack, kerf: number): number {
  const gives = (count: number): boolean => {
    const takes = leavesFor(faces.slice(0, count), stack, kerf);
    return takes !== null && takes <= stack.leaves;
  };
  let [low, high] = [0, 1];
  while (high <= faces.length && gives(high)) [low, high] = [high, 2 * high];
  high = Math.min(high, faces.length + 1);
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (gives(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** Doors that have all their faces when the first `given` of them are there. */
export const doorsDone = (faces: readonly WantedFace[], given: number): number =>
  faces.filter(({ door, copy }, i) => {
    const next = faces[i + 1];
    return i < given && !(next && next.door === door && next.copy === copy);
  }).length;
