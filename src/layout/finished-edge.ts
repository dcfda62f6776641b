import { applyAll, crossingsAtX, type Point, type Polygon, ringArea } from '../geometry';
import { otherFace, type Slab, type Strip, type Top } from '../job';
import { ontoFace } from './far-face';
import { edgeOver } from './live-edge';
import type { FaceStock } from './stock';
import { stripInTop, stripMap } from './strips';

/**
 * The live edge as it is on the finished face (DESIGN 5.2). Wood's own edge slopes through the slab, so planing p off the face moves it: where both
 * faces' outlines are known, to where the straight line between the two edges meets the finished plane; else by p / tan of the bevel.
 */

/** How thick a slab is as it was sawn, mm: as typed, else the mean of its readings; null where nothing says. */
function roughThickness({ thickness, spots, heights }: Slab): number | null {
  if (thickness !== null) return thickness;
  const read = Object.values(spots).flatMap((spot) => {
    if (spot.thickness !== null) return [spot.thickness];
    return heights === 'together' && spot.top !== null && spot.bottom !== null ? [spot.top - spot.bottom] : [];
  });
  return read.length === 0 ? null : read.reduce((a, b) => a + b, 0) / read.length;
}

/** The other face's outline under a strip, in the top's frame; null where that face was not traced or the two are not tied. */
function farRing({ slab, face }: FaceStock, strip: Strip): Polygon<'top'> | null {
  const onto = ontoFace(slab, face);
  const outline = slab.faces[otherFace(face)].outline;
  return onto && outline ? applyAll(stripMap(strip), applyAll(onto, outline.outer)) : null;
}

/** How far out of the top its live edge moves at a place of it, mm; negative where it moves in. */
type Moves = (x: number, y: number) => number;

function movesOf(stock: FaceStock, strip: Strip, top: Top, side: -1 | 1): Moves | null {
  const thick = roughThickness(stock.slab);
  if (thick === null) return null;
  // As much comes off one face as off the other.
  const planed = Math.max(0, (thick - top.thickness) / 2);
  const far = farRing(stock, strip);
  if (far && ringArea(far) > 0) {
    return (x, y) => {
      const ys = crossingsAtX(far, x);
      const beyond = side === -1 ? ys[0] : ys.at(-1);
      return beyond === undefined ? 0 : (side * (beyond - y) * planed) / thick;
    };
  }
  if (top.bevel === null) return null;
  const out = -planed / Math.tan((top.bevel * Math.PI) / 180);
  return () => out;
}

/**
 * Least and most depth of a top on its finished face, scribe left out; null where its edges are straight, or nothing is known of how a live one
 * slopes.
 * @param depth as the photographed face has it
 * @param stock the faces that its strips are cut from
 */
export function finishedDepth(
  top: Top,
  strips: readonly Strip[],
  stock: readonly FaceStock[],
  depth: readonly [number, number],
): readonly [least: number, most: number] | null {
  const [front, back] = [strips[0], strips.at(-1)];
  const [inFront, behind] = [stock[0], stock.at(-1)];
  if (!front || !back || !inFront || !behind || top.shape) return null;
  const atFront = top.front === 'live' ? movesOf(inFront, front, top, -1) : null;
  const atBack = top.back === 'live' ? movesOf(behind, back, top, 1) : null;
  if (!atFront && !atBack) return null;
  const [near, far] = [edgeOver(stripInTop(front), -1), edgeOver(stripInTop(back), 1)];
  const { ends, length } = top;
  const [from, to] = ([ends.right, ends.left] as const).map(({ edge, short, degrees }) => {
    if (edge === 'live') return short;
    // The shorter side of a slanted end has no depth of its own.
    return degrees === 90 ? 0 : Math.abs(depth[1] / Math.tan((degrees * Math.PI) / 180));
  }) as [number, number];
  const rearAt = (i: number): number => (top.back === 'live' ? (far[i] as Point<'top'>)[1] : depth[1]);
  let [least, most] = [Infinity, -Infinity];
  near.forEach(([x, y], i) => {
    if (x < from || x > length - to || (top.back === 'live' && !far[i])) return;
    const rear = rearAt(i);
    const deep = rear - (top.front === 'live' ? y : 0) + (atFront?.(x, y) ?? 0) + (atBack?.(x, rear) ?? 0);
    [least, most] = [Math.min(least, deep), Math.max(most, deep)];
  });
  return Number.isFinite(least) ? [least, most] : null;
}
