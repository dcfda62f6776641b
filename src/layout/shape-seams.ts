import type { Segment } from '../geometry';
import type { Shop, Top } from '../job';
import { type StripPlace, type StripWish, stripPlaces } from './columns';
import { liveSeams } from './live-seams';
import type { BehindWish, SeamBehind } from './seam-behind';
import type { SeamPlace } from './seam-place';
import type { FaceStock } from './stock';
import { movedEdge } from './strips';

/** Shares of the depth that the strip in front may take. */
const SHARES = [0.35, 0.5, 0.65];
const TRIED = 3;

/** Strips that were found, by face: every pair asks for those of both its faces. Nothing outlives its face. */
const known = new WeakMap<FaceStock, Map<string, StripPlace[]>>();

/** The first strips of a face, found once for all that ask. */
function strips(stock: FaceStock, wish: StripWish): StripPlace[] {
  const own = known.get(stock) ?? new Map<string, StripPlace[]>();
  known.set(stock, own);
  const key = JSON.stringify({ ...wish, sapwood: wish.sapwood !== undefined });
  const places = own.get(key) ?? stripPlaces(stock, wish).slice(0, TRIED);
  own.set(key, places);
  return places;
}

/**
 * Seams by shape alone, for slabs without pictures: strips that fit, the calmest live edge first. Nothing is known of how they look,
 * so their blend is null.
 */
export function shapeSeams(front: FaceStock, back: FaceStock, top: Top, shop: Pick<Shop, 'seam'>): SeamPlace[] {
  if (top.back === 'live') return liveSeams(front, back, null, top, shop);
  const [least, most] = top.depth;
  const middle = (least + most) / 2;
  const seams: SeamPlace[] = [];
  for (const share of SHARES) {
    const half = (most - least) / 2;
    const inFront = Math.max(top.leastStrip, share * middle);
    const behind = middle - inFront;
    if (behind < top.leastStrip) continue;
    const band = [Math.max(top.leastStrip, inFront - half), inFront + half] as const;
    const fronts = strips(front, {
      length: top.length,
      depth: band,
      front: top.front,
      angle: shop.seam.angle,
      swing: top.swing,
      ...(top.sapwood === 'wanted' && { sapwood: front.sapwood() }),
    });
    const backs = strips(back, {
      length: top.length,
      depth: [behind, behind],
      front: 'straight',
      angle: shop.seam.angle,
    });
    for (const f of fronts) {
      for (const b of backs) {
        seams.push({
          front: { stock: front, line: f.back },
          back: { stock: back, line: movedEdge(b.back, { by: -behind, turn: 0, slide: 0 }) },
          blend: null,
          lines: null,
          slide: 0,
          flipped: false,
        });
      }
    }
  }
  return seams;
}

/** The same behind a strip whose front edge is settled: widths that the band allows, and behind them the wood that lies calmest. */
export function shapeBehind(line: Segment<'face'>, front: FaceStock, back: FaceStock, wish: BehindWish): SeamBehind[] {
  const [low, high] = wish.width;
  if (high < low) return [];
  return [...new Set([high, (low + high) / 2, low])].flatMap((width) => {
    const behind = wish.least(width);
    const places = stripPlaces(back, {
      length: wish.length,
      depth: [behind, behind],
      front: 'straight',
      angle: wish.degrees,
    });
    return places.slice(0, TRIED).map((place) => ({
      front: { stock: front, line: movedEdge(line, { by: width, turn: 0, slide: 0 }) },
      back: { stock: back, line: movedEdge(place.back, { by: -behind, turn: 0, slide: 0 }) },
      blend: null,
      lines: null,
      slide: 0,
      flipped: false,
      width,
    }));
  });
}
