import { type Affine, affine, apply, bounds, centroid, invert, type Point, type Segment } from '../geometry';
import type { Cell, CellJoint, PanelSet, SetFront } from '../job';
import { checkWood } from './check-cells';
import type { Bench, ReadyLeaf } from './set-bench';
import { leastBlend } from './set-build';
import type { SlotJoint } from './set-slots';

/** Leaves of a laid set exchanged by hand: what is asked for is done where the wood allows, joints are measured anew, and what speaks against it is said. */

/** Which piece of a set. */
export interface CellName {
  readonly front: string;
  readonly side: 'face' | 'back';
  readonly cell: number;
}

/** A set after an exchange, and what the wood says against it, a sentence each. */
export interface Exchanged {
  readonly set: PanelSet;
  readonly faults: readonly string[];
}

const nameOf = ({ board, leaf }: Pick<Cell, 'board' | 'leaf'>): string => `${board} ${leaf}`;
const cellsOf = (front: SetFront, side: CellName['side']): readonly Cell[] =>
  side === 'face' ? front.cells : front.backer;

/** How far a window is moved to find good wood on another leaf, mm, and in what steps. */
const REACH = 120;
const STEP = 2;

/**
 * Lays another leaf in a cell, its window at the same place of the leaf, or the nearest that is good wood. Where that leaf is used in the same length of another
 * piece, that one gets the leaf which comes free.
 * @param to `board leaf`
 * @returns null where there is no such cell or leaf
 */
export function exchangeLeaf(bench: Bench, set: PanelSet, at: CellName, to: string): Exchanged | null {
  const cell = set.fronts[at.front] && cellsOf(set.fronts[at.front] as SetFront, at.side)[at.cell];
  if (!cell || !leafOf(bench, to)) return null;
  if (nameOf(cell) === to) return { set, faults: [] };
  const other = holderOf(set, to, cell, at);
  const changes: [CellName, Cell][] = [[at, moved(bench, cell, to)]];
  if (other) changes.push([other.name, moved(bench, other.cell, nameOf(cell))]);
  return withCells(bench, set, changes);
}

/**
 * Two fronts of one size change their leaves, faces and backs.
 * @returns null where they are not of one size, or are not both laid
 */
export function exchangeFronts(bench: Bench, set: PanelSet, one: string, other: string): Exchanged | null {
  const [a, b] = [set.fronts[one], set.fronts[other]];
  if (!a || !b || !alike(a, b)) return null;
  const fronts = {
    ...set.fronts,
    [one]: { ...a, cells: b.cells, joints: b.joints, backer: b.backer, blend: b.blend },
    [other]: { ...b, cells: a.cells, joints: a.joints, backer: a.backer, blend: a.blend },
  };
  const touched = new Set([one, other]);
  return {
    set: { ...set, fronts, joints: withoutBlend(set, touched) },
    faults: woodFaults(bench, fronts, [one, other]),
  };
}

/** Whether two fronts are pressed and seen in one size, so that leaves can go from one to the other. */
export const alike = (a: SetFront, b: SetFront): boolean =>
  Math.abs(a.pressed.width - b.pressed.width) < 0.01 &&
  Math.abs(a.pressed.height - b.pressed.height) < 0.01 &&
  a.cells.length === b.cells.length;

const leafOf = (bench: Bench, name: string): ReadyLeaf | undefined => bench.leaves.find((leaf) => leaf.name === name);

/** The piece that has a leaf in the length that a cell takes of its own. */
function holderOf(set: PanelSet, leaf: string, cell: Cell, but: CellName): { name: CellName; cell: Cell } | null {
  const own = bounds(cell.window);
  for (const [front, laid] of Object.entries(set.fronts)) {
    for (const side of ['face', 'back'] as const) {
      for (const [i, one] of cellsOf(laid, side).entries()) {
        if (nameOf(one) !== leaf || (front === but.front && side === but.side && i === but.cell)) continue;
        const box = bounds(one.window);
        if (box.minX < own.maxX && own.minX < box.maxX) return { name: { front, side, cell: i }, cell: one };
      }
    }
  }
  return null;
}

/** A cell laid with another leaf. */
function moved(bench: Bench, cell: Cell, to: string): Cell {
  const target = leafOf(bench, to);
  if (!target) return cell;
  const from = leafOf(bench, nameOf(cell))?.origin ?? target.origin;
  const [dx, dy] = [target.origin[0] - from[0], target.origin[1] - from[1]];
  const [sx, sy] = nearestGood(target, cell, [dx, dy]);
  const [a, b, c, d, e, f] = cell.toPanel;
  return {
    ...cell,
    board: target.leaf.board,
    leaf: target.leaf.leaf,
    window: cell.window.map(([x, y]) => [x + sx, y + sy] as const),
    toPanel: [a, b, c, d, e - a * sx - c * sy, f - b * sx - d * sy],
  };
}

/** The least move over `first` at which the window's box is good wood; `first` itself where none is near. */
function nearestGood(
  { sound, wood, origin }: ReadyLeaf,
  cell: Cell,
  first: readonly [number, number],
): [number, number] {
  const { minX, maxX, minY, maxY } = bounds(cell.window);
  const fits = (x: number, y: number): boolean =>
    [sound[cell.face], ...wood].every((of) =>
      of.fits(minX + x - origin[0], minY + y - origin[1], maxX - minX, maxY - minY),
    );
  for (let reach = 0; reach <= REACH; reach += STEP) {
    const steps = reach === 0 ? [0] : [-reach, reach];
    for (const across of steps) if (fits(first[0], first[1] + across)) return [first[0], first[1] + across];
    for (const along of steps)
      for (let across = -reach; across <= reach; across += STEP)
        if (fits(first[0] + along, first[1] + across)) return [first[0] + along, first[1] + across];
  }
  return [...first];
}

function withCells(bench: Bench, set: PanelSet, changes: readonly (readonly [CellName, Cell])[]): Exchanged {
  const fronts: Record<string, SetFront> = { ...set.fronts };
  const faces = new Map<string, Set<number>>();
  for (const [{ front, side, cell }, laid] of changes) {
    const own = fronts[front] as SetFront;
    const list = [...cellsOf(own, side)];
    list[cell] = laid;
    fronts[front] = side === 'face' ? { ...own, cells: list } : { ...own, backer: list };
    if (side === 'face') faces.set(front, (faces.get(front) ?? new Set()).add(cell));
  }
  for (const [id, cells] of faces) {
    const front = fronts[id] as SetFront;
    const joints = front.joints.map((joint) =>
      joint.cells.some((cell) => cells.has(cell)) ? { ...joint, blend: blendOf(bench, front, joint) } : joint,
    );
    fronts[id] = { ...front, joints, blend: leastBlend(joints.map(({ blend }) => blend)) };
  }
  const joints = withoutBlend(set, new Set(faces.keys()));
  return {
    set: { ...set, fronts, joints },
    faults: changes.flatMap(([, cell]) => woodOf(bench, cell)),
  };
}

/** Grain over the gaps of fronts that were touched is measured when the set is laid out the next time. */
const withoutBlend = ({ joints }: PanelSet, touched: ReadonlySet<string>): PanelSet['joints'] =>
  joints.map((joint) =>
    touched.has(joint.from.front) || touched.has(joint.to.front) ? { ...joint, blend: null } : joint,
  );

function woodOf(bench: Bench, cell: Cell): string[] {
  const leaf = leafOf(bench, nameOf(cell));
  return leaf ? checkWood(cell, leaf.leaf, [{ outer: cell.cell, holes: [] }]) : [];
}

const woodFaults = (bench: Bench, fronts: Readonly<Record<string, SetFront>>, ids: readonly string[]): string[] =>
  ids.flatMap((id) => (fronts[id]?.cells ?? []).flatMap((cell) => woodOf(bench, cell)));

/** Blend of a joint of a front as its cells lie now; null without pictures. */
function blendOf(bench: Bench, front: SetFront, { cells: [i, j], line, kind }: CellJoint): number | null {
  const sides = [front.cells[i], front.cells[j]].map((cell) => cell && sideOf(bench, cell, line));
  const [one, other] = sides;
  if (!one || !other || !bench.meter.knows(one.leaf, other.leaf)) return null;
  const joint: SlotJoint = {
    slots: [0, 1],
    lines: [one.line, other.line],
    left: [one.left, other.left],
    weight: 1,
    key: '',
    of: { front: front.door, joint: { cells: [i, j], kind, line } },
  };
  const at: Point<'face'> = [0, 0];
  return bench.meter.blend(joint, [one.face, other.face], { leaf: one.leaf, at }, { leaf: other.leaf, at });
}

/** A joint's line on a cell's leaf, and on which side of it the wood is kept. */
function sideOf(bench: Bench, cell: Cell, [p, q]: Segment<'panel'>) {
  const back: Affine<'panel', 'face'> = invert(affine<'face', 'panel'>(...cell.toPanel));
  const line: Segment<'face'> = [apply(back, p), apply(back, q)];
  const [[ax, ay], [bx, by]] = line;
  const [mx, my] = centroid(cell.window);
  const leaf = bench.leaves.findIndex(({ name }) => name === nameOf(cell));
  return { leaf, line, left: (bx - ax) * (my - ay) - (by - ay) * (mx - ax) > 0, face: cell.face };
}
