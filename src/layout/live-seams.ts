import { applyAll, bounds, invert, type Point, type Polygon, rectangle, type Segment } from '../geometry';
import type { Shop, Strip, Top } from '../job';
import type { Candidate } from './candidate';
import { stripPlaces } from './columns';
import { sawnInside } from './free-places';
import { edgeOver } from './live-edge';
import { FAR } from './sawn';
import type { LookedAt } from './seam-grain';
import { seamLook } from './seam-look';
import type { SeamPlace } from './seam-place';
import { crossedBy, seamZones } from './seam-zones';
import { type Refusal, spoiltBy } from './sound';
import type { FaceStock } from './stock';
import { frontDepth, layEdge, woodIn } from './strips';
import { thinnest } from './thinnest';

/** Tops with two live edges on one seam: each slab keeps one of its live edges, the front the one, the back the other. */

/** Shares of the depth that the strip in front may take, and places of each slab that are tried together. */
const SHARES = [0.35, 0.5, 0.65];
const TRIED = 4;
/** Rounding of the clipping library, mm. */
const ROUNDING = 0.01;

/** How far the slab behind is moved along the front one's line, from where its own frame puts it, and whether it is turned end for end. */
function lieOf({ front, back }: Pick<SeamPlace, 'front' | 'back'>): Pick<SeamPlace, 'slide' | 'flipped'> {
  const [f, b] = [front, back].map(({ stock, line: [p, q] }) => {
    const { minX, maxX } = bounds(stock.outline.outer);
    return { way: Math.sign(q[0] - p[0]), off: (p[0] + q[0] - minX - maxX) / 2 };
  }) as [{ way: number; off: number }, { way: number; off: number }];
  return { slide: f.way * f.off - b.way * b.off || 0, flipped: f.way !== b.way };
}

const reversed = ([p, q]: Segment<'face'>): Segment<'face'> => [q, p];

/**
 * Seams of two faces whose outer edges both stay live, the best to look at first, the calmest where nobody knows. The places are found by shape: each
 * leaves the depth to its own slab.
 * @param looks both faces made ready together; null where one has no picture
 */
export function liveSeams(
  front: FaceStock,
  back: FaceStock,
  looks: LookedAt | null,
  top: Top,
  shop: Pick<Shop, 'seam'>,
): SeamPlace[] {
  const [least, most] = top.depth;
  const [middle, half] = [(least + most) / 2, (most - least) / 2];
  const look = seamLook(looks);
  const found = SHARES.flatMap((share) => {
    const places = (face: FaceStock, target: number) =>
      stripPlaces(face, {
        length: top.length,
        depth: [Math.max(top.leastStrip, target - half), target + half],
        front: 'live',
        angle: shop.seam.angle,
        swing: top.swing,
        ...(top.sapwood === 'wanted' && { sapwood: face.sapwood() }),
      }).slice(0, TRIED);
    const [inFront, behind] = [places(front, share * middle), places(back, (1 - share) * middle)];
    return inFront.flatMap((f) =>
      behind.map((b) => {
        // Turned half about, the live edge of the strip behind lies at the back.
        const lines = { front: { stock: front, line: f.back }, back: { stock: back, line: reversed(b.back) } };
        const { blend, lines: match } = look(lines);
        return { ...lines, blend, lines: match, ...lieOf(lines) };
      }),
    );
  });
  return found.sort((a, b) => (b.blend ?? 0) - (a.blend ?? 0));
}

/** One strip within its part of the top, or why it is not sound. */
function stripIn(
  stock: FaceStock,
  line: Segment<'face'>,
  joint: number,
  side: 'front' | 'back',
  top: Top,
  shop: Shop,
): { readonly strip: Strip; readonly inTop: Polygon<'top'> } | Refusal {
  const toTop = layEdge(line, joint);
  const [from, to] = side === 'front' ? [-FAR, joint] : [joint, FAR];
  const limits = rectangle<'top'>(0, from, top.length, to);
  const inTop = woodIn(stock, toTop, limits);
  const { endAllowance, jointAllowance } = shop;
  const rough = woodIn(
    stock,
    toTop,
    rectangle<'top'>(
      -endAllowance,
      side === 'front' ? -FAR : joint - jointAllowance,
      top.length + endAllowance,
      side === 'front' ? joint + jointAllowance : FAR,
    ),
  );
  if (!inTop || !rough || !sawnInside(stock, toTop, inTop, limits)) return 'wood';
  const toFace = invert(toTop);
  const edge = applyAll(toFace, [
    [0, joint] as Point<'top'>,
    [top.length, joint] as Point<'top'>,
  ]) as unknown as Segment<'face'>;
  const strip: Strip = {
    flitch: stock.flitch.id,
    slab: stock.slab.id,
    face: stock.face,
    toTop: [...toTop.m],
    finished: applyAll(toFace, inTop),
    rough: applyAll(toFace, rough),
    jointFront: side === 'back' ? edge : null,
    jointBack: side === 'front' ? edge : null,
  };
  return spoiltBy(stock, strip, top) ?? { strip, inTop };
}

/** A top of two strips between two live edges, as deep at each place as both slabs leave it; or what keeps it from being sawn. */
export function seamedLive(seam: SeamPlace, top: Top, shop: Shop): Candidate | Refusal {
  const wood = frontDepth(seam.front.stock, layEdge(seam.front.line, 0), 0, top.length);
  if (!wood || !frontDepth(seam.back.stock, layEdge(reversed(seam.back.line), 0), 0, top.length)) return 'wood';
  const joint = wood[1];
  if (seamZones(top).some((zone) => crossedBy(joint, zone) > ROUNDING)) return 'zone';
  const front = stripIn(seam.front.stock, seam.front.line, joint, 'front', top, shop);
  if (typeof front === 'string') return front;
  const back = stripIn(seam.back.stock, seam.back.line, joint, 'back', top, shop);
  if (typeof back === 'string') return back;
  const [near, far] = [edgeOver(front.inTop, -1), edgeOver(back.inTop, 1)];
  const xs = [...near, ...far].map(([x]) => x);
  const deep = xs.flatMap((x) => {
    const [y, rear] = [heightAt(near, x), heightAt(far, x)];
    return y === null || rear === null ? [] : [[joint - y, rear - joint] as const];
  });
  const [least, most] = top.depth;
  const depths = deep.map(([inFront, behind]) => inFront + behind);
  const depth: [number, number] = [Math.min(...depths), Math.max(...depths)];
  if (!(depth[0] >= least - ROUNDING && depth[1] <= most + ROUNDING)) return 'depth';
  if (deep.some((both) => Math.min(...both) < top.leastStrip)) return 'strip';
  const stock = [seam.front.stock, seam.back.stock];
  const strips = [front.strip, back.strip];
  const { blend, lines, slide, flipped } = seam;
  return {
    top,
    stock,
    placement: {
      top: top.id,
      strips,
      joints: [{ blend, lines, slide, flipped }],
      depth,
      thickness: thinnest(stock, strips, shop, 'facets'),
    },
  };
}

/** y of a line of straight pieces at x; null beyond its ends. */
function heightAt(line: readonly Point<'top'>[], x: number): number | null {
  const i = line.findIndex((p) => p[0] >= x);
  const [p, q] = [line[i - 1], line[i]];
  if (!q) return null;
  if (!p) return q[0] === x ? q[1] : null;
  return q[0] === p[0] ? q[1] : p[1] + ((x - p[0]) / (q[0] - p[0])) * (q[1] - p[1]);
}
