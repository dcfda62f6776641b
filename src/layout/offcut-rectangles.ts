import {
  applyAll,
  difference,
  distance,
  invert,
  offset,
  type Point,
  type Polygon,
  type Region,
  rectangle,
  rigid,
  ringArea,
  simplify,
} from '../geometry';
import { clearRectangle, type LeastSize } from './clear-rectangle';

/** A rectangle of clear wood, in the face's frame. */
export interface ClearPiece {
  readonly polygon: Polygon<'face'>;
  /** Along the grain and across it, mm. */
  readonly size: readonly [length: number, width: number];
  /** Angle of its length against the slab's x, from +x to +y. */
  readonly degrees: number;
}

/** Edges of wood are followed this closely, mm, always from within. */
const EASE = 0.2;
/** How far off the grain a piece may be cut: its ends would show it, and it warps (practice, no source). */
const OFF_GRAIN = 4;
/** Angles tried anyway, degrees apart, and again around the best of all. */
const TURN = 2;
/** Sides of the offcut as long as this are worth lying along, mm; and so many of them are tried. */
const LONG_SIDE = 150;
const SIDES = 4;
/** A turned piece must be larger by this share than one along the slab, or it is not worth marking askew (ours). */
const WORTH_TURNING = 1.005;

/** Angles of the long sides of some rings that lie within `OFF_GRAIN` of the grain or square to it, the longest first. */
function sideAngles(rings: readonly Polygon<'face'>[], grain: number): number[] {
  const sides = rings.flatMap((ring) =>
    ring.map((p, i) => {
      const q = ring[(i + 1) % ring.length] as Point<'face'>;
      const degrees = (Math.atan2(q[1] - p[1], q[0] - p[0]) * 180) / Math.PI;
      return { length: distance(p, q), degrees: grain + ((((degrees - grain + 45) % 90) + 90) % 90) - 45 };
    }),
  );
  return sides
    .filter(({ length, degrees }) => length >= LONG_SIDE && Math.abs(degrees - grain) <= OFF_GRAIN)
    .sort((a, b) => b.length - a.length)
    .slice(0, SIDES)
    .map(({ degrees }) => degrees);
}

/** The largest rectangle of use in some wood, along the slab or up to a few degrees off its grain; null where there is none. */
function largestPiece(wood: readonly Region<'face'>[], least: LeastSize, grain: number): ClearPiece | null {
  const rings = wood.flatMap(({ outer, holes }) => [outer, ...holes]);
  let best: { readonly piece: ClearPiece; readonly area: number } | null = null;
  const look = (degrees: number): void => {
    if (Math.abs(degrees - grain) > OFF_GRAIN) return;
    const turn = rigid<'face', 'top'>(-degrees, 0, 0);
    const beat = best ? best.area * (best.piece.degrees === 0 ? WORTH_TURNING : 1) : 0;
    const box = clearRectangle(
      rings.map((ring) => applyAll(turn, ring)),
      least,
      beat,
    );
    if (!box) return;
    const polygon = applyAll(invert(turn), rectangle<'top'>(box.minX, box.minY, box.maxX, box.maxY));
    const size = [box.maxX - box.minX, box.maxY - box.minY] as const;
    best = { piece: { polygon, size, degrees }, area: ringArea(polygon) };
  };
  look(0);
  for (const degrees of sideAngles(rings, grain)) look(degrees);
  for (let d = 0; d <= OFF_GRAIN; d += TURN) {
    look(grain + d);
    look(grain - d);
  }
  for (const by of [TURN / 2, TURN / 4, TURN / 8]) {
    const around = (best as { piece: ClearPiece } | null)?.piece.degrees ?? grain;
    look(around - by);
    look(around + by);
  }
  return (best as { piece: ClearPiece } | null)?.piece ?? null;
}

/**
 * Rectangles of use that can be cut from some wood, the largest first, each as large as what those before it leave, a kerf apart.
 * @param wood clear of what no piece may hold
 * @param most how many are looked for
 * @param grain its angle against the slab's x, degrees
 */
export function clearPieces(
  wood: readonly Region<'face'>[],
  least: LeastSize,
  kerf: number,
  most: number,
  grain = 0,
): ClearPiece[] {
  const within = offset(wood, -EASE).map(({ outer, holes }) => ({
    outer: simplify(outer, EASE),
    holes: holes.map((hole) => simplify(hole, EASE)),
  }));
  const pieces: ClearPiece[] = [];
  let left: readonly Region<'face'>[] = within;
  while (pieces.length < most) {
    const piece = largestPiece(left, least, grain);
    if (!piece) break;
    pieces.push(piece);
    left = difference(left, offset([{ outer: piece.polygon, holes: [] }], kerf, 'mitre'));
  }
  return pieces;
}

/** Whether some wood holds any rectangle of use along the slab. */
export function holdsPiece(wood: readonly Region<'face'>[], least: LeastSize): boolean {
  const rings = offset(wood, -EASE).flatMap(({ outer, holes }) =>
    [outer, ...holes].map((ring) => simplify(ring, EASE)),
  );
  return clearRectangle(rings, least, 0, true) !== null;
}
