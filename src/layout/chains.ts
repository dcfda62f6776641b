import { bounds, type Segment } from '../geometry';
import type { Joint, Shop, Top } from '../job';
import { type Control, pause, stage } from '../search';
import type { Candidate } from './candidate';
import { deepest } from './columns';
import { joined, type LaidStrip } from './joined';
import { type SeamPlace, seamed } from './placement';
import { roomBehind, seamsBehind } from './seam-behind';
import type { LookedAt } from './seam-grain';
import { seamPlaces } from './seam-places';
import { shapeBehind } from './shape-seams';
import type { FaceStock } from './stock';
import { type EdgeLine, frontDepth, layEdge } from './strips';
import { sections, whole } from './window';

/**
 * Tops of more strips than two slabs give: a chain of seams, each strip's back edge parallel to its front. Strips may come from one slab,
 * one length of it behind the other.
 */

/** Chains that are searched, the nearest neighbours in the log first: the look of slabs far apart is seldom better. */
const SEARCHED = 10;
/** Seams that a chain is begun with, and ends of it that are followed at every further seam. */
const FOLLOWED = 3;

/** A piece of the stock that may give a strip, and how deep: as the first strip, and behind a seam. */
interface Part {
  readonly stock: FaceStock;
  /** Which length of its slab; null for the whole slab. */
  readonly section: number | null;
  readonly first: number;
  readonly behind: number;
}

/** Whether both cannot be in one top: the two faces of a slab, the same wood twice. */
function exclude(a: Part, b: Part): boolean {
  if (a.stock.slab !== b.stock.slab) return false;
  return a.stock.face !== b.stock.face || a.section === null || b.section === null || a.section === b.section;
}

/** How far the slabs of a chain lie from each other in their logs. */
function scattered(chain: readonly Part[]): number {
  return chain.slice(1).reduce((sum, { stock }, i) => {
    const before = (chain[i] as Part).stock;
    return sum + (before.flitch === stock.flitch ? Math.abs(before.slab.place - stock.slab.place) : 100);
  }, 0);
}

/** Whether a top of so many strips of one slab each can be had at all, by the depth of its wood alone. */
function chainsOf(parts: readonly Part[], strips: number, top: Top): Part[][] {
  let chains: Part[][] = [[]];
  for (let i = 0; i < strips; i++) {
    chains = chains.flatMap((chain) =>
      parts
        .filter((part) => (i === 0 ? part.first : part.behind) >= top.leastStrip)
        .filter((part) => chain.every((other) => !exclude(part, other)))
        .map((part) => [...chain, part]),
    );
    // Nearest neighbours first, long before the last strip, so that a full rack is not multiplied out.
    chains = chains.sort((a, b) => scattered(a) - scattered(b)).slice(0, 400);
  }
  const deepEnough = (chain: readonly Part[]): boolean =>
    chain.reduce((sum, part, i) => sum + (i === 0 ? part.first : part.behind), 0) >= top.depth[0];
  return chains.filter(deepEnough).slice(0, SEARCHED);
}

/** The beginning of a chain: strips laid so far, but the last, whose width the next seam settles. */
interface Begun {
  readonly laid: readonly LaidStrip[];
  readonly joints: readonly Joint[];
  /** Depth of all laid strips together, least and most. */
  readonly depth: readonly [number, number];
  /** The last seam's line on the slab behind. */
  readonly line: Segment<'face'>;
}

const jointOf = ({ blend, lines, slide, flipped }: SeamPlace): Joint => ({ blend, lines, slide, flipped });

/** Depth that the strips from the `i`th of a chain on can give at most. */
const depthFrom =
  (chain: readonly Part[]) =>
  (i: number): number =>
    chain.slice(i).reduce((sum, { behind }) => sum + behind, 0);

/** Depth of the strip in front of a chain's first joint; null where there is none. */
function firstDepth({ stock, line }: EdgeLine, top: Top, strips: number): readonly [number, number] | null {
  const wood = frontDepth(stock, layEdge(line, 0), 0, top.length);
  if (!wood) return null;
  const most = top.depth[1] - (strips - 1) * top.leastStrip;
  if (top.front === 'live') return wood[1] <= most ? wood : null;
  const depth = Math.min(most, wood[0] - 2 * stock.margin);
  return depth < top.leastStrip ? null : [depth, depth];
}

/** Everything that a search for chains is told. */
export interface ChainSearch {
  readonly top: Top;
  readonly shop: Shop;
  /** The faces as they are offered to the top, and as they are whole. */
  readonly offered: readonly FaceStock[];
  readonly stock: readonly FaceStock[];
  readonly grain: (front: FaceStock, back: FaceStock) => LookedAt | null;
}

function partsOf({ top, shop, offered }: ChainSearch): Part[] {
  const deep = (stock: FaceStock, section: number | null): Part => {
    const wish = { length: top.length, angle: shop.seam.angle };
    const behind = deepest(stock, { ...wish, front: 'straight' }, true);
    return {
      stock,
      section,
      first: top.front === 'live' ? deepest(stock, { ...wish, front: 'live' }, true) : behind,
      behind,
    };
  };
  return offered
    .filter(({ outline }) => bounds(outline.outer).maxX - bounds(outline.outer).minX >= top.length)
    .flatMap((face) => [
      deep(face, null),
      ...sections(face, top.length + 2 * shop.endAllowance + shop.kerf.crosscut).map((part, i) => deep(part, i)),
    ]);
}

/**
 * Tops of two strips that come from one slab, one length of it behind the other.
 * @throws Cancelled
 */
export async function ownSeams(search: ChainSearch, control: Control): Promise<Candidate[]> {
  const { top, shop, stock, grain } = search;
  if (top.seams < 1) return [];
  const parts = partsOf(search).filter(({ section }) => section !== null);
  const pairs = chainsOf(parts, 2, top).filter(([a, b]) => a?.stock.slab === b?.stock.slab) as [Part, Part][];
  const found: Candidate[] = [];
  for (const [i, [front, back]] of pairs.entries()) {
    const part = stage(control, i / pairs.length, (i + 1) / pairs.length);
    await pause(part, 0, `${top.name}: two lengths of ${front.stock.slab.name}`);
    const looks = grain(whole(front.stock, stock), whole(back.stock, stock));
    for (const seam of await seamPlaces(front.stock, back.stock, looks, top, shop, part)) {
      const candidate = seamed(onWhole(seam, stock), top, shop);
      if (typeof candidate !== 'string') found.push(candidate);
    }
  }
  return found;
}

/** The seam on the slabs that its parts are of. */
const onWhole = (seam: SeamPlace, stock: readonly FaceStock[]): SeamPlace => ({
  ...seam,
  front: { ...seam.front, stock: whole(seam.front.stock, stock) },
  back: { ...seam.back, stock: whole(seam.back.stock, stock) },
});

/**
 * Tops of three strips, or where those do not reach of four or five, as many as the top allows; none where none is deep enough.
 * @throws Cancelled
 */
export async function chains(search: ChainSearch, control: Control): Promise<Candidate[]> {
  const { top } = search;
  const parts = top.seams < 2 ? [] : partsOf(search);
  for (let strips = 3; strips <= top.seams + 1; strips++) {
    const found: Candidate[] = [];
    const searched = chainsOf(parts, strips, top);
    for (const [i, chain] of searched.entries()) {
      const part = stage(control, i / searched.length, (i + 1) / searched.length);
      await pause(part, 0, `${top.name}: ${chain.map(({ stock }) => stock.slab.name).join(', ')}, from the front`);
      found.push(...(await chained(chain, search, part)));
    }
    if (found.length > 0) return found;
  }
  return [];
}

/** The two edges of a rip on one face, and the joint that closes it. */
export interface RippedJoint {
  readonly stock: FaceStock;
  readonly front: Segment<'face'>;
  readonly back: Segment<'face'>;
  readonly joint: Joint;
}

/** So many slabs are tried behind one that is ripped, the nearest in its log first. */
const BEHIND = 3;

/**
 * Tops whose front slab is ripped along a crack or the pith and glued shut, with another slab seamed on behind.
 * @throws Cancelled
 */
export async function behindRips(
  rips: readonly RippedJoint[],
  search: ChainSearch,
  control: Control,
): Promise<Candidate[]> {
  const { top, stock } = search;
  if (top.seams < 2 || rips.length === 0) return [];
  const parts = partsOf(search).filter(({ section }) => section === null);
  const found: Candidate[] = [];
  for (const [i, { stock: face, front, back, joint }] of rips.entries()) {
    const own = parts.find((part) => part.stock.key === face.key);
    const depth = firstDepth({ stock: face, line: front }, top, 3);
    if (!own || !depth) continue;
    const first = { stock: whole(face, stock), line: front, depth: depth[1] };
    const others = parts
      .filter((part) => part.stock.slab !== face.slab)
      .sort((a, b) => scattered([own, a]) - scattered([own, b]));
    for (const [k, last] of others.slice(0, BEHIND).entries()) {
      const part = stage(control, (i + k / BEHIND) / rips.length, (i + (k + 1) / BEHIND) / rips.length);
      await pause(part, 0, `${top.name}: ${last.stock.slab.name} behind ${face.slab.name}, which is ripped`);
      const begun = { laid: [first], joints: [joint], depth, line: back };
      found.push(...(await followed([begun], [own, own, last], search, part)));
    }
  }
  return found;
}

async function chained(chain: readonly Part[], search: ChainSearch, control: Control): Promise<Candidate[]> {
  const { top, shop, stock, grain } = search;
  const [one, two] = chain as [Part, Part];
  const looks = grain(whole(one.stock, stock), whole(two.stock, stock));
  const most = depthFrom(chain);
  const least = (i: number): number => (chain.length - i) * top.leastStrip;
  const pair: Top = {
    ...top,
    depth: [
      Math.max(least(0) - least(2), top.depth[0] - most(2)),
      Math.min(top.depth[1] - least(2), one.first + two.behind),
    ],
  };
  const seams = await seamPlaces(one.stock, two.stock, looks, pair, shop, stage(control, 0, 0.5));
  const begun = seams.slice(0, FOLLOWED).flatMap((seam): Begun[] => {
    const depth = firstDepth(seam.front, top, chain.length);
    if (!depth) return [];
    const first = { stock: whole(one.stock, stock), line: seam.front.line, depth: depth[1] };
    return [{ laid: [first], joints: [jointOf(seam)], depth, line: seam.back.line }];
  });
  return followed(begun, chain, search, stage(control, 0.5, 1));
}

/** Chains that were begun with their first strip, followed seam by seam to the last slab. */
async function followed(
  starts: readonly Begun[],
  chain: readonly Part[],
  search: ChainSearch,
  control: Control,
): Promise<Candidate[]> {
  const { top, shop, stock, grain } = search;
  const most = depthFrom(chain);
  const least = (i: number): number => (chain.length - i) * top.leastStrip;
  let begun = starts;
  for (let i = 1; i + 1 < chain.length; i++) {
    const [front, back] = [chain[i], chain[i + 1]] as [Part, Part];
    const next: Begun[] = [];
    for (const [k, start] of begun.entries()) {
      const part = stage(control, k / begun.length, (k + 1) / begun.length);
      const wish = {
        length: top.length,
        width: [
          Math.max(top.leastStrip, top.depth[0] - start.depth[0] - most(i + 1)),
          Math.min(roomBehind(start.line, front.stock, top.length), top.depth[1] - start.depth[1] - least(i + 1)),
        ] as const,
        least: (width: number) => Math.max(top.leastStrip, top.depth[0] - start.depth[0] - width - most(i + 2)),
        ...{ slide: shop.seam.slide, degrees: shop.seam.angle, ends: shop.seam.ends },
      };
      const looks = grain(whole(front.stock, stock), whole(back.stock, stock));
      const behind = looks
        ? await seamsBehind(start.line, front.stock, back.stock, looks, wish, part)
        : shapeBehind(start.line, front.stock, back.stock, wish);
      for (const seam of behind) {
        next.push({
          laid: [...start.laid, { stock: whole(front.stock, stock), line: start.line, depth: seam.width }],
          joints: [...start.joints, jointOf(seam)],
          depth: [start.depth[0] + seam.width, start.depth[1] + seam.width],
          line: seam.back.line,
        });
      }
    }
    begun = next.sort((a, b) => weakest(b) - weakest(a)).slice(0, 2 * FOLLOWED);
  }
  const last = whole((chain.at(-1) as Part).stock, stock);
  return begun.flatMap((start) => closed(start, last, top, shop) ?? []);
}

/** The worst seam rules how a top looks. */
const weakest = ({ joints }: Begun): number => Math.min(...joints.map(({ blend }) => blend ?? 0));

/** The chain with its last strip, as deep as the band allows in its middle, else at its least or its most; null where none is sound. */
function closed({ laid, joints, depth, line }: Begun, stock: FaceStock, top: Top, shop: Shop): Candidate | null {
  const low = Math.max(top.leastStrip, top.depth[0] - depth[0]);
  const high = top.depth[1] - depth[1];
  for (const last of high < low ? [] : [(low + high) / 2, low, high]) {
    const strips = [...laid, { stock, line, depth: last }];
    const made = joined({ strips, joints, swing: depth[1] - depth[0] }, top, shop);
    if (typeof made !== 'string') return made;
  }
  return null;
}
