import type { Point } from '../geometry';
import type { Cell, CellJoint, FaceName, PanelSet, SetFront, SetJoint } from '../job';
import type { WoodLeft } from './backer';
import type { Bench, ReadyLeaf } from './set-bench';
import type { Placed } from './set-meter';
import { type Sheet, type SizedFront, type Slot, type SlotJoint, toPanelAt, windowOf } from './set-slots';

/** A sheet in its place: which leaf each slot has, and where. */
export interface LaidSheet {
  readonly sheet: Sheet;
  /** By their place on the bench, one a slot. */
  readonly leaves: readonly number[];
  /** Off each leaf's origin. */
  readonly at: readonly Point<'face'>[];
  readonly cost: number;
}

/** What a set is made of before it has backs. */
export interface LaidFronts {
  readonly fronts: Map<string, SetFront>;
  readonly joints: SetJoint[];
}

const placed = (bench: Bench, leaf: number, [u, v]: Point<'face'>): Placed => {
  const { origin } = bench.leaves[leaf] as ReadyLeaf;
  return { leaf, at: [origin[0] + u, origin[1] + v] };
};

/** Blend of a joint of a laid sheet; null where its leaves are not pictured or nothing is to match. */
export function blendOf(bench: Bench, { sheet, leaves, at }: LaidSheet, joint: SlotJoint): number | null {
  const [i, j] = joint.slots;
  const [a, b] = [leaves[i] as number, leaves[j] as number];
  if (joint.weight === 0 || !bench.meter.knows(a, b)) return null;
  const faces: [FaceName, FaceName] = [(sheet.slots[i] as Slot).face, (sheet.slots[j] as Slot).face];
  return bench.meter.blend(
    joint,
    faces,
    placed(bench, a, at[i] as Point<'face'>),
    placed(bench, b, at[j] as Point<'face'>),
  );
}

/** The least of some blends; null where none is known. */
export const leastBlend = (blends: readonly (number | null)[]): number | null => {
  const known = blends.filter((blend) => blend !== null);
  return known.length > 0 ? Math.min(...known) : null;
};

/** Fronts of laid sheets with their cells and joints, backs not yet among them. */
export function frontsLaid(
  bench: Bench,
  sheets: readonly LaidSheet[],
  sequence: ReadonlyMap<string, number>,
): LaidFronts {
  const fronts = new Map<string, SetFront>();
  const joints: SetJoint[] = [];
  for (const laid of sheets) {
    const { sheet, leaves, at } = laid;
    const cells = new Map<string, Cell[]>(sheet.fronts.map(({ id }) => [id, []]));
    for (const [k, slot] of sheet.slots.entries()) {
      const leaf = bench.leaves[leaves[k] as number] as ReadyLeaf;
      const [u, v] = at[k] as Point<'face'>;
      const place: Point<'face'> = [leaf.origin[0] + u, leaf.origin[1] + v];
      for (const piece of slot.pieces) {
        (cells.get(piece.front) as Cell[])[piece.cell] = {
          board: leaf.leaf.board,
          leaf: leaf.leaf.leaf,
          face: slot.face,
          flip: slot.flip,
          toPanel: [...toPanelAt(piece, place).m],
          window: windowOf(piece, place),
          cell: piece.polygon,
        };
      }
    }
    const own = new Map<string, CellJoint[]>(sheet.fronts.map(({ id }) => [id, []]));
    for (const joint of sheet.joints) {
      const blend = blendOf(bench, laid, joint);
      if ('gap' in joint.of) joints.push({ ...joint.of.gap, blend });
      else own.get(joint.of.front)?.push({ ...joint.of.joint, blend });
    }
    for (const front of sheet.fronts) {
      const joined = own.get(front.id) ?? [];
      fronts.set(front.id, {
        ...frontOf(front, sequence.get(front.id) ?? 1),
        cells: cells.get(front.id) ?? [],
        joints: joined,
        blend: leastBlend(joined.map(({ blend }) => blend)),
      });
    }
    // What one leaf loses over a gap is told once the set stands: no choice hangs on it.
    for (const link of sheet.links) joints.push({ ...link, blend: null });
  }
  return { fronts, joints };
}

function frontOf({ door, copy, at, sizes }: SizedFront, sequence: number): SetFront {
  return {
    door: door.id,
    copy,
    sequence,
    at,
    finished: { width: door.width, height: door.height },
    pressed: sizes.pressed,
    trimmed: sizes.trimmed,
    sight: sizes.sight,
    cells: [],
    joints: [],
    backer: [],
    blend: null,
  };
}

/** Leaves, or lengths of them, of which at least `least` mm is free over the whole width. */
export function sparesOf(left: WoodLeft, least: number): PanelSet['spares'] {
  return left.usable.flatMap((k) => {
    const { leaf, width } = left.bench.leaves[k] as ReadyLeaf;
    return left
      .lengths(k)
      .filter(([from, to]) => to - from >= least)
      .map(([from, to]) => ({ board: leaf.board, leaf: leaf.leaf, length: to - from, width }));
  });
}
