import { bounds, type Segment } from '../geometry';
import { slabsInOrder, type Top } from '../job';
import { type Control, pause, stage } from '../search';
import type { Candidate } from './candidate';
import type { ChainSearch } from './chains';
import { joined } from './joined';
import { type Mirrored, mirroredLine, mirrorOf, turnedOver } from './mirror';
import { placeOf } from './seam-behind';
import { seamLook } from './seam-look';
import { backKeepsMore, frontKeepsMore } from './seam-pair';
import { type LinePlace, lineAt, SeamRoom, type SeamWish } from './seam-room';
import type { FaceStock } from './stock';
import { frontDepth, layEdge } from './strips';
import { whole } from './window';

/**
 * Tops of two halves opened like a book: the underside of a slab against the upper face of the next below it, the figure of the one
 * mirrored in the other at the joint. Any line on the one face has its mirror line on the other, so that only one line is searched.
 */

/** Steps of the first look, and how often they are halved: across (mm), along (mm), degrees. */
const FIRST = { across: 12, along: 120, degrees: 1 } as const;
const HALVINGS = 4;
const FOLLOWED = 8;
/** Faces that look less alike than this when one is laid on the other are not of one saw cut. */
const LEAST_MATCH = 0.2;
/** The halves may differ by this in depth where the front is live, over what its edge swings, mm. */
const UNEVEN = 2;

/** Pairs of faces that one saw cut parted: the underside of a slab and the upper face of the next in its log. */
export function facingPairs(stock: readonly FaceStock[]): (readonly [under: FaceStock, upper: FaceStock])[] {
  return stock
    .filter(({ face }) => face === 'bottom')
    .flatMap((under) => {
      const slabs = slabsInOrder(under.flitch);
      const next = slabs[slabs.findIndex(({ id }) => id === under.slab.id) + 1];
      const upper = stock.find(({ flitch, slab, face }) => flitch === under.flitch && slab === next && face === 'top');
      return upper && next && next.place === under.slab.place + 1 ? [[under, upper] as const] : [];
    });
}

/** A mirror line, how deep both halves are, and how little they go together there. */
interface Opened {
  readonly place: LinePlace;
  readonly front: readonly [least: number, most: number];
  readonly behind: number;
  readonly cost: number;
}

/** Whether a half is as deep as the one with the live edge, within what that swings and two millimetres. */
export const alikeInDepth = ([least, most]: readonly [number, number], behind: number): boolean =>
  behind >= least - UNEVEN && behind <= most + UNEVEN;

/** Depth of both halves beside a mirror line, alike on both sides; null where the wood does not give them. */
function halves(
  top: Top,
  front: FaceStock,
  line: Segment<'face'>,
  inFront: number,
  behind: number,
): Pick<Opened, 'front' | 'behind'> | null {
  const [least, most] = top.depth;
  if (top.front === 'straight') {
    const half = Math.min(most / 2, inFront, behind);
    return 2 * half < least || half < top.leastStrip ? null : { front: [half, half], behind: half };
  }
  const wood = frontDepth(front, layEdge(line, 0), 0, top.length);
  if (!wood || wood[0] < top.leastStrip) return null;
  const [low, high] = [Math.max(top.leastStrip, least - wood[0]), Math.min(behind, most - wood[1])];
  const depth = Math.min(high, Math.max(low, (wood[0] + wood[1]) / 2));
  if (high < low || !alikeInDepth(wood, depth)) return null;
  return { front: wood, behind: depth };
}

async function opened(
  search: ChainSearch,
  [front, back]: readonly [FaceStock, FaceStock],
  { map }: Mirrored,
  control: Control,
): Promise<Candidate[]> {
  const { top, shop, grain, stock } = search;
  const { length } = top;
  const wish: SeamWish = { length, depth: [0, Infinity], front: top.front, leastStrip: 0, keepOff: 'strip' };
  const rooms = [new SeamRoom(front, wish), new SeamRoom(back, wish)] as const;
  const [wholeFront, wholeBack] = [whole(front, stock), whole(back, stock)];
  const look = seamLook(grain(wholeFront, wholeBack));
  const linesOf = (place: LinePlace) => {
    const line = lineAt(place, length);
    return { front: { stock: wholeFront, line }, back: { stock: wholeBack, line: mirroredLine(map, line) } };
  };
  const at = (place: LinePlace): Opened | null => {
    if (Math.abs(place.degrees) > shop.seam.angle) return null;
    const lines = linesOf(place);
    const other = placeOf(lines.back.line);
    const live = top.front === 'live';
    const inFront = rooms[0].depths(place, frontKeepsMore(place), live);
    const behind = rooms[1].depths(other, backKeepsMore(other), false);
    const deep = inFront && behind && halves(top, front, lines.front.line, inFront[0], behind[0]);
    if (!deep) return null;
    // By their look where both have pictures; else in the middle of the wood.
    const { blend, lines: match } = look(lines);
    return {
      place,
      ...deep,
      cost: blend === null ? Math.abs(place.y - (rooms[0].minY + rooms[0].maxY) / 2) : -blend - (match ?? 0) / 10,
    };
  };
  const { minX, maxX, minY, maxY } = rooms[0];
  const found: Opened[] = [];
  const ys = steps(minY + FIRST.across, maxY, FIRST.across);
  for (const [i, y] of ys.entries()) {
    await pause(control, (0.7 * i) / ys.length);
    let best: Opened | null = null;
    for (const way of [1, -1] as const)
      for (const degrees of steps(-shop.seam.angle, shop.seam.angle, FIRST.degrees))
        for (const x of steps(minX + length / 2, maxX - length / 2, FIRST.along)) {
          const one = at({ x, y, degrees, way });
          if (one && one.cost < (best?.cost ?? Infinity)) best = one;
        }
    if (best) found.push(best);
  }
  const places: Candidate[] = [];
  for (const start of found.sort((a, b) => a.cost - b.cost).slice(0, FOLLOWED)) {
    await pause(control, 0.7);
    const best = downhill(start, at);
    const lines = linesOf(best.place);
    const { blend, lines: match } = look(lines);
    const made = joined(
      {
        strips: [
          { ...lines.front, depth: best.front[1] },
          { ...lines.back, depth: best.behind },
        ],
        joints: [{ blend, lines: match, ...slideOf(lines, [front, back]), made: 'book' }],
        swing: best.front[1] - best.front[0],
      },
      top,
      shop,
    );
    if (typeof made !== 'string') places.push(made);
  }
  return places;
}

const steps = (from: number, to: number, step: number): number[] =>
  to < from ? [] : Array.from({ length: Math.floor((to - from) / step + 1e-9) + 1 }, (_, i) => from + i * step);

/** How far the half behind stands moved along the joint, and whether it is turned end for end, as any seam says it. */
export function slideOf(
  {
    front,
    back,
  }: { readonly front: { readonly line: Segment<'face'> }; readonly back: { readonly line: Segment<'face'> } },
  [a, b]: readonly [FaceStock, FaceStock],
): { slide: number; flipped: boolean } {
  const [f, g] = [placeOf(front.line), placeOf(back.line)];
  const middle = ({ outline }: FaceStock): number => (bounds(outline.outer).minX + bounds(outline.outer).maxX) / 2;
  const slide = f.way * (f.x - middle(a) - f.way * g.way * (g.x - middle(b))) || 0;
  return { slide, flipped: f.way !== g.way };
}

function downhill(start: Opened, at: (place: LinePlace) => Opened | null): Opened {
  let best = start;
  for (let halving = 1; halving <= HALVINGS; halving++) {
    const part = 2 ** -halving;
    for (const [x, y, d] of MOVES) {
      const { place } = best;
      const one = at({
        ...place,
        x: place.x + (x as number) * FIRST.along * part,
        y: place.y + (y as number) * FIRST.across * part,
        degrees: place.degrees + (d as number) * FIRST.degrees * part,
      });
      if (one && one.cost < best.cost) best = one;
    }
  }
  return best;
}

const MOVES: readonly (readonly number[])[] = [0, 1, 2].flatMap((k) =>
  [1, -1].map((by) => [0, 1, 2].map((i) => (i === k ? by : 0))),
);

/**
 * Places of a top whose halves are to be opened like a book; none for other tops.
 * @throws Cancelled
 */
export async function bookPlaces(search: ChainSearch, control: Control): Promise<Candidate[]> {
  const { top, offered, stock } = search;
  if (!top.bookMatched || top.seams < 1) return [];
  const pairs = facingPairs(offered);
  const found: Candidate[] = [];
  for (const [i, [under, upper]] of pairs.entries()) {
    const part = stage(control, i / pairs.length, (i + 1) / pairs.length);
    await pause(part, 0, `${top.name}: ${under.slab.name} and ${upper.slab.name}, opened like a book`);
    const mirror = mirrorOf(whole(under, stock), whole(upper, stock));
    if (mirror.match !== null && mirror.match < LEAST_MATCH) continue;
    // From the face in front onto the one behind.
    found.push(...(await opened(search, [under, upper], turnedOver(mirror), stage(part, 0.3, 0.65))));
    found.push(...(await opened(search, [upper, under], mirror, stage(part, 0.65, 1))));
  }
  return found;
}

/** Whether a place is what a top wants of its halves. */
export const isBooked = ({ top, placement }: Candidate): boolean =>
  !top.bookMatched || (placement.joints.length === 1 && placement.joints[0]?.made === 'book');
