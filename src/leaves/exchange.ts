import { bounds } from '../geometry';
import type { Cell, PanelSet, SetFront } from '../job';
import { cellBlend, gapBlend } from './cell-blend';
import { checkWood } from './check-cells';
import {
  type CellName,
  cellsOf,
  leafName,
  leafOf,
  movedTo,
  type NamedCell,
  overlap,
  piecesOf,
  woodLeftBy,
} from './exchange-moves';
import type { Bench } from './set-bench';
import { leastBlend, sparesOf } from './set-build';

/**
 * Leaves of a laid set exchanged by hand, of faces and of backs: what is asked for is done where the wood allows, joints (those over gaps among them) are
 * measured anew, what is left over is counted again, and what speaks against it is said.
 */

/** A set after an exchange, and what the wood says against it, a sentence each. */
export interface Exchanged {
  readonly set: PanelSet;
  readonly faults: readonly string[];
}

/**
 * Lays another leaf in a piece of a front's face or of its back, its window at the same place of the leaf, or the nearest that is good wood and free. Where that
 * leaf is used in the same length of another piece, face or back, that one gets the leaf which comes free.
 * @param to `board leaf`
 * @returns null where there is no such piece or leaf
 */
export function exchangeLeaf(bench: Bench, set: PanelSet, at: CellName, to: string): Exchanged | null {
  const front = set.fronts[at.front];
  const cell = front && cellsOf(front, at.side)[at.cell];
  const target = leafOf(bench, to);
  if (!cell || !target) return null;
  const from = leafOf(bench, leafName(cell));
  if (from === target) return { set, faults: [] };
  const holder = holderOf(set, to, cell);
  const gone = holder ? [at, holder.name] : [at];
  const stay = (leaf: string): Cell[] => piecesOf(set, leaf, gone).map((one) => one.cell);
  const changes: NamedCell[] = [{ name: at, cell: movedTo(bench, { name: at, cell }, target, stay(to)) }];
  if (holder && from) {
    changes.push({ name: holder.name, cell: movedTo(bench, holder, from, stay(leafName(cell))) });
  }
  const fronts: Record<string, SetFront> = { ...set.fronts };
  for (const { name, cell: laid } of changes) {
    const own = fronts[name.front] as SetFront;
    const list = cellsOf(own, name.side).map((one, i) => (i === name.cell ? laid : one));
    fronts[name.front] = name.side === 'face' ? { ...own, cells: list } : { ...own, backer: list };
  }
  return measured(bench, { ...set, fronts }, changes);
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
  const misses = backMissesOf(set, one, other);
  return measured(bench, { ...set, fronts, misses }, named(fronts, 'face', [one, other]));
}

/**
 * Two fronts of one size change their backs and keep their faces. A back may be of more or fewer strips than the other; a front without one gives none for it.
 * @returns null where they are not of one size, are not both laid, or have no back between them
 */
export function exchangeBacks(bench: Bench, set: PanelSet, one: string, other: string): Exchanged | null {
  const [a, b] = [set.fronts[one], set.fronts[other]];
  if (!a || !b || !sameSize(a, b) || a.backer.length + b.backer.length === 0) return null;
  const fronts = { ...set.fronts, [one]: { ...a, backer: b.backer }, [other]: { ...b, backer: a.backer } };
  const misses = backMissesOf(set, one, other);
  return measured(bench, { ...set, fronts, misses }, named(fronts, 'back', [one, other]));
}

/** A back that is missed is missed by the front that has none now. */
function backMissesOf({ misses }: PanelSet, one: string, other: string): PanelSet['misses'] {
  const turned = new Map([
    [one, other],
    [other, one],
  ]);
  return misses.map((miss) => (miss.what === 'back' ? { ...miss, front: turned.get(miss.front) ?? miss.front } : miss));
}

/** Whether two fronts are pressed in one size: then one's back fits the other. */
export const sameSize = (a: SetFront, b: SetFront): boolean =>
  Math.abs(a.pressed.width - b.pressed.width) < 0.01 && Math.abs(a.pressed.height - b.pressed.height) < 0.01;

/** Whether two fronts are pressed in one size and made of as many leaves, so that leaves can go from one to the other. */
export const alike = (a: SetFront, b: SetFront): boolean => sameSize(a, b) && a.cells.length === b.cells.length;

const named = (fronts: PanelSet['fronts'], side: CellName['side'], ids: readonly string[]): NamedCell[] =>
  ids.flatMap((front) =>
    cellsOf(fronts[front] as SetFront, side).map((cell, i): NamedCell => ({ name: { front, side, cell: i }, cell })),
  );

/** The piece that has a leaf in the length that a cell takes of its own. */
function holderOf(set: PanelSet, leaf: string, { window }: Cell): NamedCell | null {
  const own = bounds(window);
  const there = piecesOf(set, leaf, []).find(({ cell }) => {
    const box = bounds(cell.window);
    return box.minX < own.maxX && own.minX < box.maxX;
  });
  return there ?? null;
}

/** A set some pieces of which were changed: its joints and spares as they are now, and what the wood says. */
function measured(bench: Bench, set: PanelSet, changes: readonly NamedCell[]): Exchanged {
  const fronts: Record<string, SetFront> = { ...set.fronts };
  const faces = new Map<string, Set<number>>();
  for (const { name } of changes) {
    if (name.side === 'face') faces.set(name.front, (faces.get(name.front) ?? new Set()).add(name.cell));
  }
  for (const [id, cells] of faces) {
    const front = fronts[id] as SetFront;
    const joints = front.joints.map((joint) => {
      const [a, b] = joint.cells.map((cell) => front.cells[cell]);
      const touched = joint.cells.some((cell) => cells.has(cell));
      if (!touched || !a || !b) return joint;
      return { ...joint, blend: cellBlend(bench, { cell: a, line: joint.line }, { cell: b, line: joint.line }) };
    });
    fronts[id] = { ...front, joints, blend: leastBlend(joints.map(({ blend }) => blend)) };
  }
  const touches = ({ front, cell }: { front: string; cell: number }) => faces.get(front)?.has(cell) ?? false;
  const joints = set.joints.map((joint) =>
    touches(joint.from) || touches(joint.to) ? { ...joint, blend: gapBlend(bench, (id) => fronts[id], joint) } : joint,
  );
  const least = Math.min(...Object.values(fronts).map(({ pressed }) => pressed.height));
  const spares = sparesOf(woodLeftBy(bench, set), least);
  return { set: { ...set, fronts, joints, spares }, faults: changes.flatMap((one) => faultsOf(bench, set, one)) };
}

/** What the wood says against a piece: bad where it is seen, no wood at all, or taken twice. */
function faultsOf(bench: Bench, set: PanelSet, { name, cell }: NamedCell): string[] {
  const leaf = leafOf(bench, leafName(cell));
  const front = set.fronts[name.front];
  if (!leaf || !front) return [];
  const seen = name.side === 'face' ? [{ outer: front.sight, holes: [] }] : [];
  const twice = piecesOf(set, leafName(cell), [name]).some((one) => overlap(one.cell, cell));
  return [
    ...checkWood(cell, leaf.leaf, seen),
    ...(twice ? [`leaf ${cell.leaf} of board ${cell.board} has not wood enough there for two pieces`] : []),
  ];
}
