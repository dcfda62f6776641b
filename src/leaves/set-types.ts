import type { Polygon } from '../geometry';
import type { Door, FaceName, PanelSet, SetFront } from '../job';
import type { FacePicture } from '../raster';
import type { Leaf } from './usable';

/** One face of a leaf on the bench, in the frame of the leaf's top face: the grain along x, the far face as it were seen through the wood. */
export interface LeafFace {
  /** Null where it was not photographed: then only sizes count. */
  readonly picture: FacePicture | null;
  readonly outline: Polygon<'face'>;
  readonly defects: Leaf['defects'];
}

/** A leaf as it comes from the saw. */
export interface BenchLeaf {
  readonly board: string;
  readonly leaf: string;
  /** Place in sawing order on its board, from 1 at the outer face. */
  readonly place: number;
  /** The face towards the board's outer face. */
  readonly top: LeafFace;
  /** The other face; null where it is taken to look like the top one, seen through. */
  readonly bottom: LeafFace | null;
}

/** One copy of a door, in its place in the elevation. */
export interface Front {
  /** `door-copy`, by which solved sets and locks name it. */
  readonly id: string;
  readonly door: Door;
  /** From 1. */
  readonly copy: number;
  /** Upper left corner of the finished front in the elevation, mm. */
  readonly at: SetFront['at'];
}

/** What the bench and the saw ask of every panel, mm. */
export interface BenchRules {
  /** Of the saw that cut the leaves: how much wood is gone between two facing sides. */
  readonly kerf: number;
  /** Of the saw that cuts leaves to length and fronts apart. */
  readonly crosscut: number;
  /** Planed or sanded off each edge of a leaf that is jointed, so that the joint line is straight. */
  readonly jointing: number;
  /** Sliced leaves have a loose face, towards the knife; sawn ones have none. */
  readonly loose: FaceName | null;
}

/** What is to be laid out on a bench. */
export interface SetRequest {
  readonly id: string;
  readonly name: string;
  readonly fronts: readonly Front[];
  /** Leaves that are not to be used, as `board leaf`: a what-if, or spoilt ones. */
  readonly without?: readonly string[];
  /** A set of before, whose fronts named in `locked` keep their leaves; those that carry their grain into a locked one stay with it. */
  readonly before?: PanelSet;
}
