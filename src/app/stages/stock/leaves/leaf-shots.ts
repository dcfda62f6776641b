import type { Board, FaceName, Leaf, Photo } from '../../../../job';
import { type LeafOrder, measure, numbered } from '../../../../photo';
import type { LeafShotName } from '../view';

/** Photos of several leaves: which leaves each shows, where, and how they are numbered. Pure. */

/** A photo of leaves, which stands with each leaf that it shows. */
export interface LeafShot extends LeafShotName {
  readonly photo: Photo;
  /** In sawing order, each with its outline in the photo, px. */
  readonly leaves: readonly { readonly leaf: Leaf; readonly ring: readonly (readonly [number, number])[] }[];
}

/** The leaves of a board in sawing order. */
export const leavesInOrder = ({ leaves }: Pick<Board, 'leaves'>): Leaf[] =>
  Object.values(leaves).sort((a, b) => a.place - b.place);

/** The photos that leaves of a board were measured from, in the order of their first leaves. */
export function shotsOf(board: Board): LeafShot[] {
  const shots = new Map<string, LeafShot & { leaves: LeafShot['leaves'][number][] }>();
  for (const leaf of leavesInOrder(board)) {
    for (const face of ['top', 'bottom'] as const) {
      const { photos, outline } = leaf.faces[face];
      for (const photo of Object.values(photos)) {
        const { file, calibration } = photo;
        if (!calibration || !outline) continue;
        const view = measure(calibration);
        const ring = outline.outer.map((mm) => view.toPhoto(mm));
        const key = `${file} ${face}`;
        const shot = shots.get(key) ?? { board: board.id, face, file, photo, leaves: [] };
        shot.leaves.push({ leaf, ring });
        shots.set(key, shot);
      }
    }
  }
  return [...shots.values()];
}

/** Numbers leaves (of a draft) anew: those of `ids` share the numbers that they had, in this order. */
export function renumber(board: Board, ids: readonly string[]): void {
  const places = ids.map((id) => board.leaves[id]?.place ?? 0).sort((a, b) => a - b);
  ids.forEach((id, i) => {
    const leaf = board.leaves[id];
    if (leaf) leaf.place = places[i] as number;
  });
}

/** Gives a leaf (of a draft) a number; the leaf that had it takes this one's. */
export function placeAt(board: Board, id: string, place: number): void {
  const leaf = board.leaves[id];
  if (!leaf) return;
  const other = Object.values(board.leaves).find((one) => one.place === place);
  if (other) other.place = leaf.place;
  leaf.place = place;
}

/** Ids of the leaves of a shot as an order of reading numbers them. */
export function inOrder({ leaves }: LeafShot, order: LeafOrder): string[] {
  const rings = leaves.map(({ ring }) => ring);
  return numbered(rings, order).flatMap((i) => leaves[i]?.leaf.id ?? []);
}

/** Numbers in sawing order that no leaf has: a leaf was spoilt, or not photographed. */
export function gapsOf(board: Pick<Board, 'leaves'>): number[] {
  const places = new Set(Object.values(board.leaves).map(({ place }) => place));
  const last = Math.max(0, ...places);
  return Array.from({ length: last }, (_, i) => i + 1).filter((place) => !places.has(place));
}

/** What a face of a leaf is called. */
export const LEAF_FACES: readonly (readonly [FaceName, string])[] = [
  ['top', 'Outer face'],
  ['bottom', 'Inner face'],
];
