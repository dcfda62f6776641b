import type { Polygon } from '../geometry';
import type { Masked } from '../grain';
import type { FacePicture } from '../raster';

/** A face of a leaf, or of a board, as a photo showed it: the grain along x. */
export interface PicturedFace {
  readonly picture: FacePicture;
  readonly outline: Polygon<'face'>;
  readonly defects: readonly Masked[];
}

/** How one face was photographed against another: the same way round, turned end for end in its plane, turned over about the grain, or about the line across it. */
export const LIES = ['same', 'end for end', 'over', 'over end for end'] as const;
export type Lie = (typeof LIES)[number];

/** What a lie does to the way along the grain and to that across it: -1 turns it round. */
export function turnsOf(lie: Lie): readonly [along: 1 | -1, across: 1 | -1] {
  switch (lie) {
    case 'same':
      return [1, 1];
    case 'end for end':
      return [-1, -1];
    case 'over':
      return [1, -1];
    case 'over end for end':
      return [-1, 1];
  }
}

/**
 * Rings about a pith, as they cut a face: at x the pith runs `pith` mm across the face (its y), and `deep` mm below it (toward the other face;
 * less than 0: above). Values at equal steps along the face, straight lines between. Where rings are not round these are what fits best.
 */
export interface RingCourse {
  readonly from: number;
  readonly to: number;
  readonly pith: readonly number[];
  readonly deep: readonly number[];
}

/**
 * How the figure moves from one face to another that lies `depth` mm behind it: rings lean, so it moves across the grain by depth x cot of their
 * slope (DESIGN 1): one way on one side of the pith, the other way on the other. mm, in the first face's frame.
 */
export interface Drift {
  readonly lie: Lie;
  /** Middles of the two outlines' boxes: the second face is laid on the first by them and the lie. */
  readonly middles: readonly [readonly [number, number], readonly [number, number]];
  readonly depth: number;
  /** What the second picture is set off along the grain. */
  readonly along: number;
  readonly rings: RingCourse;
  /** What rings that are not round add to the rings' own drift: nodes (x0 + c stepX, y0 + r stepY), column by column, mm toward more y. */
  readonly rest: {
    readonly x0: number;
    readonly y0: number;
    readonly stepX: number;
    readonly stepY: number;
    readonly columns: number;
    readonly rows: number;
    readonly across: Float32Array;
  };
  /** Likeness of the figures once the drift is allowed for, -1..1. */
  readonly likeness: number;
  /** The same by the rings' course alone, which cannot be bent to fit: wood that does not belong together comes to about 0. */
  readonly kinship: number;
}
