/**
 * Rectangles on shelves: each bin is cut into shelves from one side to the other, each shelf into pieces that stand on its foot, so that
 * straight cuts from edge to edge part them all. Sizes in mm; `run` lies along a shelf, `rise` across it.
 */

/** How a piece may stand. */
export interface Pose {
  readonly run: number;
  readonly rise: number;
}

/** One piece and the ways it may stand, at least one of which fits a bin. */
export interface Piece {
  readonly id: string;
  readonly number: number;
  readonly poses: readonly Pose[];
}

/** A shelf with what stands on it, in order. */
export interface Shelved {
  readonly rise: number;
  readonly pieces: readonly { readonly piece: Piece; readonly pose: Pose }[];
}

/** What was found. */
export interface Shelves {
  readonly bins: readonly (readonly Shelved[])[];
  /** No fewer bins hold these pieces, however they are parted by straight cuts. */
  readonly least: number;
  /** Whether no fewer bins hold them on shelves. */
  readonly proven: boolean;
}

const SLACK = 1e-9;
/** Most steps of the exact search over all ways to stand; about a tenth of a second. */
const MOST_STEPS = 60_000;
/** Kinds of piece of which every way to stand is tried in the quick packing. */
const MOST_KINDS = 8;

interface Standing {
  readonly piece: Piece;
  readonly pose: Pose;
}
interface Shelf {
  readonly rise: number;
  free: number;
  readonly pieces: Standing[];
}
interface Bin {
  free: number;
  readonly shelves: Shelf[];
}

/**
 * The fewest bins that pieces stand in on shelves, a kerf between neighbours. Quick packings come first; where they reach the bound nothing
 * better can be. Else a depth-first search looks for one bin fewer, until it finds none or its steps are spent: a shelf is as high as
 * its highest piece, so pieces taken from high to low either stand on an open shelf or open one (Lodi, Martello and Vigo 2004, from memory).
 */
export function fewestShelves(pieces: readonly Piece[], room: Pose, kerf: number): Shelves {
  if (pieces.length === 0) return { bins: [], least: 0, proven: true };
  const stances = stancesOf(pieces);
  let best: readonly Bin[] | null = null;
  for (const stance of stances.uniform) {
    const bins = packed(stance, room, kerf);
    if (!best || worth(bins, room) > worth(best, room)) best = bins;
  }
  let found = best as readonly Bin[];
  const least = leastBins(pieces, room, kerf);
  const steps = { left: MOST_STEPS };
  let proven = found.length <= least;
  while (!proven) {
    const fewer = searched(stances.all(), found.length - 1, room, kerf, steps);
    if (fewer) found = fewer;
    proven = fewer ? found.length <= least : steps.left > 0;
    if (!fewer) break;
  }
  return { bins: found.map(({ shelves }) => shelves), least, proven };
}

/** How much the bins leave in one piece, mm2: the run of a bin times what its shelves leave of its rise, over the emptiest bin. */
export const emptiedIn = ({ bins }: Shelves, room: Pose): number =>
  Math.max(0, ...bins.map((bin) => (room.rise - bin.reduce((sum, { rise }) => sum + rise, 0)) * room.run));

const worth = (bins: readonly Bin[], room: Pose): number =>
  -bins.length + Math.max(...bins.map(({ free }) => free)) / (room.rise * 2 + 1);

/** Ways for all pieces to stand: those in which like pieces stand alike, and all that differ. */
function stancesOf(pieces: readonly Piece[]) {
  const kinds = new Map<string, Piece[]>();
  for (const piece of pieces) {
    const key = piece.poses.map(({ run, rise }) => `${run}x${rise}`).join();
    kinds.set(key, [...(kinds.get(key) ?? []), piece]);
  }
  const groups = [...kinds.values()];
  const free = groups.filter(([one]) => (one?.poses.length ?? 0) > 1);
  // Of more kinds than that only the first ones are turned.
  const turning = new Set(free.slice(0, MOST_KINDS));
  const uniform = groups.reduce<Standing[][]>(
    (sets, group) => {
      const poses = group[0]?.poses ?? [];
      return (turning.has(group) ? poses : poses.slice(0, 1)).flatMap((pose) =>
        sets.map((set) => [...set, ...group.map((piece) => ({ piece, pose }))]),
      );
    },
    [[]],
  );
  function* all(from = 0): Generator<Standing[]> {
    const group = groups[from];
    if (!group) {
      yield [];
      return;
    }
    const [first, second] = group[0]?.poses ?? [];
    const turns = second ? group.length : 0;
    for (let turned = 0; turned <= turns; turned++) {
      const own = group.map((piece, i) => ({ piece, pose: (i < turned ? second : first) as Pose }));
      for (const rest of all(from + 1)) yield [...own, ...rest];
    }
  }
  return { uniform, all };
}

const fromHighToLow = (standing: readonly Standing[]): Standing[] =>
  [...standing].sort(
    (a, b) =>
      b.pose.rise - a.pose.rise ||
      b.pose.run - a.pose.run ||
      (a.piece.id < b.piece.id ? -1 : a.piece.id > b.piece.id ? 1 : a.piece.number - b.piece.number),
  );

/** From high to low, each on the shelf where it leaves least, else on a new shelf of the bin where that leaves least. */
function packed(standing: readonly Standing[], room: Pose, kerf: number): Bin[] {
  const bins: Bin[] = [];
  for (const one of fromHighToLow(standing)) {
    const { run, rise } = one.pose;
    const able = bins.flatMap(({ shelves }) =>
      shelves.filter((shelf) => shelf.rise + SLACK >= rise && shelf.free + SLACK >= run),
    );
    const tightest = able.reduce<Shelf | null>((best, shelf) => (best && best.free <= shelf.free ? best : shelf), null);
    if (tightest) {
      tightest.pieces.push(one);
      tightest.free -= run + kerf;
      continue;
    }
    const open = bins
      .filter(({ free }) => free + SLACK >= rise)
      .reduce<Bin | null>((best, bin) => (best && best.free <= bin.free ? best : bin), null);
    const bin = open ?? { free: room.rise, shelves: [] };
    if (!open) bins.push(bin);
    bin.shelves.push({ rise, free: room.run - run - kerf, pieces: [one] });
    bin.free -= rise + kerf;
  }
  return bins;
}

/** A packing in no more than `most` bins, or null where there is none or the steps are spent. */
function searched(
  stances: Iterable<Standing[]>,
  most: number,
  room: Pose,
  kerf: number,
  steps: { left: number },
): Bin[] | null {
  for (const stance of stances) {
    if (steps.left <= 0) return null;
    const order = fromHighToLow(stance);
    // Area that pieces take with a kerf each, from place i on.
    const need = order.map(({ pose }) => (pose.run + kerf) * (pose.rise + kerf));
    for (let i = need.length - 2; i >= 0; i--) need[i] = (need[i] as number) + (need[i + 1] as number);
    const bins: Bin[] = Array.from({ length: most }, () => ({ free: room.rise, shelves: [] }));
    if (placed(order, 0, bins, [], need, room, kerf, steps, -1))
      return bins.filter(({ shelves }) => shelves.length > 0);
  }
  return null;
}

function placed(
  order: readonly Standing[],
  at: number,
  bins: readonly Bin[],
  shelves: readonly Shelf[],
  need: readonly number[],
  room: Pose,
  kerf: number,
  steps: { left: number },
  twin: number,
): boolean {
  const one = order[at];
  if (!one) return true;
  if (steps.left-- <= 0) return false;
  const left =
    bins.reduce((sum, { free }) => sum + Math.max(0, free + kerf) * (room.run + kerf), 0) +
    shelves.reduce((sum, { free, rise }) => sum + Math.max(0, free + kerf) * (rise + kerf), 0);
  if (left + SLACK < (need[at] as number)) return false;
  const { run, rise } = one.pose;
  const next = order[at + 1];
  const isTwin = next?.pose.run === run && next.pose.rise === rise;
  const go = (all: readonly Shelf[], place: number): boolean =>
    placed(order, at + 1, bins, all, need, room, kerf, steps, isTwin ? place : -1);
  const tried = new Set<string>();
  for (const [i, shelf] of shelves.entries()) {
    // Of two alike the second stands on no earlier shelf: else every packing would be met twice.
    if (i < twin || shelf.free + SLACK < run) continue;
    const key = `${shelf.rise}/${shelf.free}`;
    if (tried.has(key)) continue;
    tried.add(key);
    shelf.pieces.push(one);
    shelf.free -= run + kerf;
    if (go(shelves, i)) return true;
    shelf.free += run + kerf;
    shelf.pieces.pop();
  }
  const opened = new Set<number>();
  for (const bin of bins) {
    if (bin.free + SLACK < rise || opened.has(bin.free)) continue;
    opened.add(bin.free);
    const shelf: Shelf = { rise, free: room.run - run - kerf, pieces: [one] };
    bin.shelves.push(shelf);
    bin.free -= rise + kerf;
    if (go([...shelves, shelf], shelves.length)) return true;
    bin.free += rise + kerf;
    bin.shelves.pop();
  }
  return false;
}

/**
 * No fewer bins: by area, each piece with a kerf at two sides and the bin with one kerf more each way; and by the pieces that are over
 * half of the bin both ways however they stand, of which no two share one.
 */
function leastBins(pieces: readonly Piece[], room: Pose, kerf: number): number {
  const whole = (room.run + kerf) * (room.rise + kerf);
  const area = pieces.reduce((sum, { poses }) => {
    const [one] = poses;
    return one ? sum + (one.run + kerf) * (one.rise + kerf) : sum;
  }, 0);
  const large = pieces.filter(({ poses }) =>
    poses.every(({ run, rise }) => 2 * run + kerf > room.run + SLACK && 2 * rise + kerf > room.rise + SLACK),
  );
  return Math.max(Math.ceil(area / whole - 1e-9), large.length);
}
