import { type Point, type Region, rectangle } from '../geometry';
import { READING_SIGMA } from '../job';
import { fill } from './fill';
import type { Faces, Spot3, Surface } from './reading';

/**
 * A slab told by its warp alone, as it is measured with straightedge and winding sticks, mm. The origin lies at its centre. Bow
 * and cup are positive with the ends or edges high; twist is the lift of the fourth corner, positive where +,+ is high.
 */
export interface Warp {
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  readonly bow: number;
  readonly cup: number;
  readonly twist: number;
}

/** Spacing of the spots on a face: a bow of 10 mm is met within 10 / 160^2 = 0.0004 mm between two of 160 to the length. */
const SPOTS_ALONG = 160;
/** A slab wider than this many times its length was mistyped: its spots stand farther apart, so that they stay countable. */
const WIDEST = 4;

/**
 * Both faces of a slab of even thickness whose warp is a parabola along, a parabola across and a twist: each corner stands a
 * quarter of the twist off the middle. Heights are over the bottom face's centre.
 */
export function warpFaces(warp: Warp): Faces {
  const { length, width, thickness, bow, cup, twist } = warp;
  const face = (above: number): Surface => {
    const height = ([x, y]: Point<'face'>): number =>
      above + bow * ((2 * x) / length) ** 2 + cup * ((2 * y) / width) ** 2 + (twist * x * y) / (length * width);
    return {
      readings: [],
      reach: rectangle(-length / 2, -width / 2, length / 2, width / 2),
      height,
      heights: (points) => Float64Array.from(points, height),
      sigma: () => READING_SIGMA,
      spotsOver: (region: Region<'face'>): Spot3[] =>
        fill(region, Math.max(length, width / WIDEST) / SPOTS_ALONG).map((p) => [p[0], p[1], height(p)]),
    };
  };
  return { top: face(thickness), bottom: face(0) };
}
