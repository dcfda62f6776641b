import type { Point, Polygon } from '../geometry';
import type { FaceRead, ReadFaceOptions } from './read-face';

/** Ways in which leaves that lie in one picture are numbered. `rows`: each from left to right, the top one first; `columns`: each downward, the left one first. */
export const LEAF_ORDERS = [
  'left to right',
  'right to left',
  'top to bottom',
  'bottom to top',
  'rows',
  'columns',
] as const;
export type LeafOrder = (typeof LEAF_ORDERS)[number];

export interface ReadLeavesOptions extends Omit<ReadFaceOptions, 'heard' | 'readings'> {
  /** How the leaves are numbered; as they lie, where left out. */
  readonly order?: LeafOrder;
  /** Hears roughly where the leaves lie in the photo, px, in the order of their numbers, long before they are traced. */
  readonly found?: (rings: readonly Polygon<'photo'>[]) => void;
}

/**
 * One leaf of a picture of several, as a face by itself: its frame has x along the leaf from its left end (of one that stands upright in the
 * picture, from its lower end), y to the right of that way as the camera sees it, and its origin in the corner of the outline's box.
 */
export interface LeafRead extends FaceRead {
  /** Its number, from 1. */
  readonly place: number;
  /** Its outline in the photo, and its middle, px: where its number is shown. */
  readonly ring: Polygon<'photo'>;
  readonly at: Point<'photo'>;
}

/** All leaves that a picture shows. */
export interface LeavesRead {
  /** In the order of their numbers. */
  readonly leaves: readonly LeafRead[];
  readonly order: LeafOrder;
  /** What was numbered and how, a sentence for the maker, who may know better. */
  readonly numbered: string;
  /** What speaks against the picture (leaves that touch or run out of it), a sentence each. */
  readonly doubts: readonly string[];
}
