import { bounds, ribbon, type Segment, type WideLine } from '../geometry';
import { type Control, pause, stage } from '../search';
import type { Candidate } from './candidate';
import { behindRips, type ChainSearch, type RippedJoint } from './chains';
import { seamed } from './placement';
import { seamLook } from './seam-look';
import { backKeepsMore, frontKeepsMore } from './seam-pair';
import { type LinePlace, lineAt, SeamRoom, type SeamWish } from './seam-room';
import type { FaceStock } from './stock';
import { whole } from './window';

/**
 * A crack, or the pith, ripped out and the slab glued shut: a top of one slab with a joint where the crack was. The two edges run parallel,
 * on either side of all of the crack that the top would hold.
 */

/** How far a rip may lean to follow its crack, degrees, where the shop's seams are held closer; its step. */
const LEAN = 4;
const DEGREES = 0.5;
/** Places along the slab that are looked at, mm apart. */
const ALONG = 50;
/** Edges stand off a crack by this over the ± of the photo, mm. */
const CLEAR = 0.5;
/** Of the narrowest rips so many are laid, and the best by their look given. */
const LAID = 24;
const GIVEN = 6;
/** Of those before another slab so many are followed, this far from each other along the slab, mm. */
const FOLLOWED = 2;
const APART = 200;

/** What may be ripped out of a face. */
export interface Rippable {
  readonly id: string;
  readonly line: WideLine;
}

/** Cracks and shakes that nobody said may stay as they are, and the pith. */
export function rippable({ defects, flitch, slab, face }: FaceStock): Rippable[] {
  const cracks = defects.flatMap(({ id, kind, line, permit }) =>
    line && permit !== 'allow' && (kind === 'crack' || kind === 'shake') ? [{ id, line }] : [],
  );
  const pith = flitch.slabs[slab.id]?.faces[face].pith;
  return pith ? [...cracks, { id: 'pith', line: pith.map(([x, y]) => [x, y, 0] as const) }] : cracks;
}

/** The two joint lines beside what is ripped out. */
interface Rip {
  readonly front: LinePlace;
  readonly back: LinePlace;
  readonly gap: number;
}

/** Points of a ring between two x, where its edges cross them among them. */
function within(ring: readonly (readonly [number, number])[], from: number, to: number): (readonly [number, number])[] {
  return ring.flatMap((p, i) => {
    const q = ring[(i + 1) % ring.length] as readonly [number, number];
    const at = (x: number) => [x, p[1] + ((x - p[0]) / (q[0] - p[0])) * (q[1] - p[1])] as const;
    const crossed = [from, to].filter((x) => (p[0] - x) * (q[0] - x) < 0).map(at);
    return p[0] >= from && p[0] <= to ? [p, ...crossed] : crossed;
  });
}

/** Every way to rip it out of a length of the face at a grid of angles and places, the narrowest first. */
function ripsOf(what: Rippable, stock: FaceStock, { top, shop }: ChainSearch): Rip[] {
  const ring = ribbon<'face'>(what.line, stock.margin + CLEAR);
  // Rough blanks keep the shop's allowance on both sides, and the saw goes between them.
  const least = shop.kerf.rip + 2 * shop.jointAllowance;
  const lean = Math.max(LEAN, shop.seam.angle);
  const half = top.length / 2;
  const rips: (Rip & { readonly off: number })[] = [];
  for (let degrees = -lean; degrees <= lean + 1e-9; degrees += DEGREES) {
    const t = (degrees * Math.PI) / 180;
    const [cos, sin] = [Math.cos(t), Math.sin(t)];
    const turned = (points: readonly (readonly [number, number])[]) =>
      points.map(([x, y]) => [x * cos + y * sin, y * cos - x * sin] as const);
    const crack = turned(ring);
    const { minX, maxX } = bounds(turned(stock.outline.outer));
    for (let u = minX + half; u <= maxX - half + 1e-9; u += ALONG) {
      const vs = within(crack, u - half, u + half).map(([, v]) => v);
      if (vs.length === 0) continue;
      const [from, to] = [Math.min(...vs), Math.max(...vs)];
      const gap = Math.max(least, to - from);
      for (const way of [1, -1] as const) {
        const at = (side: 1 | -1): LinePlace => {
          const v = (from + to) / 2 + (side * way * gap) / 2;
          return { x: u * cos - v * sin, y: u * sin + v * cos, degrees, way };
        };
        rips.push({ front: at(-1), back: at(1), gap, off: Math.abs(u - (minX + maxX) / 2) });
      }
    }
  }
  return rips.sort((a, b) => a.gap - b.gap || a.off - b.off);
}

function reglued(what: Rippable, stock: FaceStock, search: ChainSearch): Candidate[] {
  const { top, shop, grain } = search;
  const { length } = top;
  const wish: SeamWish = { length, depth: [0, Infinity], front: top.front, leastStrip: 0, keepOff: 'line' };
  const room = new SeamRoom(stock, wish);
  const onFace = whole(stock, search.stock);
  const look = seamLook(grain(onFace, onFace));
  const found: Candidate[] = [];
  let laid = 0;
  for (const { front, back } of ripsOf(what, stock, search)) {
    const [inFront, behind] = [
      room.depths(front, frontKeepsMore(front), top.front === 'live'),
      room.depths(back, backKeepsMore(back), false),
    ];
    if (!inFront || !behind || inFront[0] < top.leastStrip || behind[0] < top.leastStrip) continue;
    if (inFront[0] + behind[0] < top.depth[0]) continue;
    if (laid++ === LAID) break;
    const line = (place: LinePlace): Segment<'face'> => lineAt(place, length);
    const lines = { front: { stock: onFace, line: line(front) }, back: { stock: onFace, line: line(back) } };
    const { blend, lines: match } = look(lines);
    const made = seamed({ ...lines, blend, lines: match, slide: 0, flipped: false }, top, shop);
    if (typeof made === 'string') continue;
    const joints = made.placement.joints.map((joint) => ({ ...joint, made: 'reglued' as const, ripped: what.id }));
    found.push({ ...made, placement: { ...made.placement, joints } });
  }
  const blendOf = ({ placement }: Candidate): number => placement.joints[0]?.blend ?? 0;
  return found.sort((a, b) => blendOf(b) - blendOf(a)).slice(0, GIVEN);
}

/** The narrowest rips of a face that leave a strip on either side, of places that differ along the slab; for another slab to be seamed on behind. */
function ripped(what: Rippable, stock: FaceStock, search: ChainSearch): RippedJoint[] {
  const { top, grain } = search;
  const { length } = top;
  const wish: SeamWish = { length, depth: [0, Infinity], front: top.front, leastStrip: 0, keepOff: 'line' };
  const room = new SeamRoom(stock, wish);
  const onFace = whole(stock, search.stock);
  const look = seamLook(grain(onFace, onFace));
  const found: RippedJoint[] = [];
  const at: LinePlace[] = [];
  for (const { front, back } of ripsOf(what, stock, search)) {
    if (at.some((other) => other.way === front.way && Math.abs(other.x - front.x) < APART)) continue;
    const [inFront, behind] = [
      room.depths(front, frontKeepsMore(front), top.front === 'live'),
      room.depths(back, backKeepsMore(back), false),
    ];
    if (!inFront || !behind || inFront[0] < top.leastStrip || behind[0] < top.leastStrip) continue;
    at.push(front);
    const [a, b] = [lineAt(front, length), lineAt(back, length)];
    const { blend, lines } = look({ front: { stock: onFace, line: a }, back: { stock: onFace, line: b } });
    const joint = { blend, lines, slide: 0, flipped: false, made: 'reglued' as const, ripped: what.id };
    found.push({ stock, front: a, back: b, joint });
    if (found.length === FOLLOWED) break;
  }
  return found;
}

/**
 * Places of a top on one slab from which a crack or the pith is ripped out, and, where it may have two seams, with another slab behind.
 * @throws Cancelled
 */
export async function regluedPlaces(search: ChainSearch, control: Control): Promise<Candidate[]> {
  const { top, offered } = search;
  if (top.seams < 1) return [];
  const long = offered.filter(({ outline }) => {
    const { minX, maxX } = bounds(outline.outer);
    return maxX - minX >= top.length;
  });
  const found: Candidate[] = [];
  const rips: RippedJoint[] = [];
  for (const [i, stock] of long.entries()) {
    const part = stage(control, (0.5 * i) / long.length, (0.5 * (i + 1)) / long.length);
    for (const what of rippable(stock)) {
      if (top.seams > 1) rips.push(...ripped(what, stock, search));
      await pause(
        part,
        0,
        `${top.name}: ${what.id === 'pith' ? 'the pith' : 'a crack'} of ${stock.slab.name} ripped out`,
      );
      found.push(...reglued(what, stock, search));
    }
  }
  return [...found, ...(await behindRips(rips, search, stage(control, 0.5, 1)))];
}
