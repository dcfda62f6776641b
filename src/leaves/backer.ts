import { affine, applyAll, type Bounds, bounds, invert, type Point, rectangle } from '../geometry';
import type { Cell } from '../job';
import type { Bench, ReadyLeaf } from './set-bench';
import type { SizedFront } from './set-slots';

/** A back is made of no more leaves than this. */
const MOST_LEAVES = 12;
/** Places are tried so far apart along and across a leaf, mm. */
const STEP = 4;

/** What is left of the leaves of a bench while panels are cut from them. */
export class WoodLeft {
  readonly #taken = new Map<number, Bounds[]>();

  constructor(
    readonly bench: Bench,
    /** Leaves that may be used, by their place on the bench. */
    readonly usable: readonly number[],
  ) {}

  taken(leaf: number): readonly Bounds[] {
    return this.#taken.get(leaf) ?? [];
  }

  /** Takes a window out, and the saw's kerf before and behind it. */
  take(leaf: number, window: Cell['window']): void {
    const { crosscut } = this.bench.rules;
    const { minX, minY, maxX, maxY } = bounds(window);
    const box = { minX: minX - crosscut, maxX: maxX + crosscut, minY, maxY };
    this.#taken.set(leaf, [...this.taken(leaf), box]);
  }

  /** Puts back what a caller has seen taken. */
  restore(leaf: number, to: readonly Bounds[]): void {
    this.#taken.set(leaf, [...to]);
  }

  /** Free lengths of a leaf over its whole width, mm in its own frame, the shortest first. */
  lengths(leaf: number): [from: number, to: number][] {
    const { origin, length } = this.bench.leaves[leaf] as ReadyLeaf;
    const free: [number, number][] = [];
    let at = origin[0];
    for (const { minX, maxX } of [...this.taken(leaf)].sort((a, b) => a.minX - b.minX)) {
      if (minX > at) free.push([at, minX]);
      at = Math.max(at, maxX);
    }
    if (origin[0] + length > at) free.push([at, origin[0] + length]);
    return free.sort((a, b) => a[1] - a[0] - (b[1] - b[0]));
  }

  /** Where a rectangle of wood can still be cut, in the shortest length that holds it and as near the leaf's middle as may be; null nowhere. */
  place(leaf: number, along: number, across: number): Point<'face'> | null {
    const { origin, width, wood } = this.bench.leaves[leaf] as ReadyLeaf;
    const middle = (width - across) / 2;
    if (middle < 0) return null;
    for (const [from, to] of this.lengths(leaf)) {
      for (let u = from; u + along <= to + 1e-6; u += STEP) {
        for (let dv = 0; dv <= middle + 1e-6; dv += STEP) {
          for (const v of dv === 0 ? [middle] : [middle - dv, middle + dv]) {
            if (wood.every((of) => of.fits(u - of.origin[0], origin[1] + v - of.origin[1], along, across)))
              return [u, origin[1] + v];
          }
        }
      }
    }
    return null;
  }
}

/** Leaves by how little they are worth on a face: most faults first, and the first in sawing order of those alike. */
function poorestFirst({ leaves }: Bench, usable: readonly number[]): number[] {
  return [...usable].sort((a, b) => (leaves[b] as ReadyLeaf).poor - (leaves[a] as ReadyLeaf).poor || a - b);
}

/** Backs by front; where a front has none, how many leaves it wants and how many would do. */
export interface Backs {
  readonly cells: ReadonlyMap<string, Cell[]>;
  readonly short: ReadonlyMap<string, { readonly want: number; readonly have: number }>;
}

/**
 * A back for each front, so that both sides of the panel pull alike: from the poorer leaves, in strips of equal width, the tallest fronts first since
 * short ones find room in what is left.
 * @param counts leaves in each front's face, which its back has too where they suffice
 */
export function backsOf(fronts: readonly SizedFront[], counts: ReadonlyMap<string, number>, left: WoodLeft): Backs {
  const cells = new Map<string, Cell[]>();
  const short = new Map<string, { want: number; have: number }>();
  const order = poorestFirst(left.bench, left.usable);
  const tallest = [...fronts].sort(
    (a, b) => b.sizes.pressed.height - a.sizes.pressed.height || b.sizes.pressed.width - a.sizes.pressed.width,
  );
  for (const front of tallest) {
    const rows = front.door.ends?.rows ?? 1;
    const like = Math.max(1, Math.round((counts.get(front.id) ?? 1) / rows));
    // Leaves that are too narrow for so few strips are no reason to speak of so few.
    const widest = Math.max(0, ...left.usable.map((k) => (left.bench.leaves[k] as ReadyLeaf).width));
    const more = Array.from({ length: MOST_LEAVES }, (_, i) => i + 1).filter(
      (n) => n !== like && front.sizes.pressed.width / n <= widest,
    );
    const tries = [like, ...more];
    let nearest = { want: like * rows, have: -1 };
    for (const n of tries) {
      const made = backOf(front, n, rows, order, left);
      if (made.length === n * rows) {
        cells.set(front.id, made);
        break;
      }
      if (nearest.want - nearest.have > n - made.length || nearest.have < 0) nearest = { want: n, have: made.length };
    }
    if (!cells.has(front.id)) short.set(front.id, nearest);
  }
  return { cells, short };
}

/** A back of so many strips, end to end in as many rows as the face; fewer pieces where the wood does not suffice, and then none of it is taken. */
function backOf({ sizes }: SizedFront, n: number, rows: number, order: readonly number[], left: WoodLeft): Cell[] {
  const across = sizes.pressed.width / n;
  const along = sizes.pressed.height / rows;
  const made: Cell[] = [];
  const before = new Map<number, readonly Bounds[]>();
  for (const leaf of order) {
    if (made.length === n * rows) break;
    for (let at = left.place(leaf, along, across); at && made.length < n * rows; at = left.place(leaf, along, across)) {
      if (!before.has(leaf)) before.set(leaf, left.taken(leaf));
      const [x, y] = [(made.length % n) * across, Math.floor(made.length / n) * along];
      const cell = strip(left, leaf, at, rectangle<'panel'>(x, y, x + across, y + along));
      left.take(leaf, cell.window);
      made.push(cell);
    }
  }
  if (made.length < n * rows) for (const [leaf, boxes] of before) left.restore(leaf, boxes);
  return made;
}

function strip({ bench }: WoodLeft, leaf: number, [u, v]: Point<'face'>, cell: Cell['cell']): Cell {
  const { board, leaf: id } = (bench.leaves[leaf] as ReadyLeaf).leaf;
  const { minX, maxY } = bounds(cell);
  const toPanel = affine<'face', 'panel'>(0, -1, 1, 0, minX - v, maxY + u);
  return {
    board,
    leaf: id,
    face: 'top',
    flip: 'none',
    toPanel: [...toPanel.m],
    window: applyAll(invert(toPanel), cell),
    cell,
  };
}
