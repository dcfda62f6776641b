import { doorsDone, facesGiven, type LeafStack, leavesFor, type WantedFace } from './spare';

/** What one board gives of the faces that the boards before it left over. */
export interface HandedOut {
  /** Faces still wanted when it is its turn, those that it gives, and the leaves that they take. */
  readonly wanted: number;
  readonly given: number;
  readonly used: number;
}

/**
 * Gives the faces out to boards, one after the other, each with its stacks of leaves.
 * @param kerf between two lengths of a leaf
 */
export function handOut(
  faces: readonly WantedFace[],
  boards: readonly (readonly LeafStack[])[],
  kerf: number,
): HandedOut[] {
  let left = faces;
  return boards.map((stacks) => {
    const wanted = left.length;
    let used = 0;
    for (const stack of stacks) {
      const given = facesGiven(left, stack, kerf);
      used += leavesFor(left.slice(0, given), stack, kerf) ?? 0;
      left = left.slice(given);
    }
    return { wanted, given: wanted - left.length, used };
  });
}

/** How many doors that were to be whole are not when one leaf of a board is spoilt. */
export function doorsLost(
  faces: readonly WantedFace[],
  boards: readonly (readonly LeafStack[])[],
  board: number,
  kerf: number,
): number {
  const done = (stacks: readonly (readonly LeafStack[])[]): number =>
    doorsDone(
      faces,
      handOut(faces, stacks, kerf).reduce((sum, { given }) => sum + given, 0),
    );
  const spoilt = boards.map((stacks, i) =>
    stacks.map((stack, k) => (i === board && k === 0 ? { ...stack, leaves: Math.max(0, stack.leaves - 1) } : stack)),
  );
  return done(boards) - done(spoilt);
}
