import type { Strip, Top } from '../job';
import type { Candidate } from './candidate';
import { type StripPlace, stripPlaces } from './columns';
import { placesBeside } from './copies';
import { fitted, isFit, judged } from './fitted';
import { freePlaces, isFree } from './free-places';
import { freeStock, type Ground } from './ground';
import { hiddenPlaces } from './hidden-places';
import { onePiece, seamed } from './placement';
import { offeredTo } from './sapwood';
import { searchedTop } from './sawn';
import { onWhole } from './seam-task';
import { seamZones, withoutZones } from './seam-zones';
import { shapeSeams } from './shape-seams';
import type { FaceStock } from './stock';
import { lessTaken } from './taken';
import type { Unfit } from './unfit';
import { whole } from './window';

/** Places that were found, and why others are not what is wanted. */
export interface OwnPlaces {
  readonly fit: readonly Candidate[];
  readonly unfit: readonly Unfit[];
}

/** Places of what is searched for as places of the top that is wanted. */
export const asWanted = (found: readonly Candidate[], wanted: Top, { job }: Ground): OwnPlaces =>
  apart(found.map((one) => fitted(one, wanted, job.shop)));

function apart(made: readonly (Candidate | Unfit)[]): OwnPlaces {
  return { fit: made.filter(isFit), unfit: made.flatMap((one) => (isFit(one) ? [] : [one])) };
}

/**
 * Places of a top whose live edge swings no more than allowed and whose seams keep off its zones; where there is none, those whose edge swings least,
 * and then those with a seam anywhere, by which to tell what is amiss.
 */
function keptFirst(top: Top, found: (of: Top) => Candidate[]): Candidate[] {
  const calm = found(top);
  if (calm.length > 0) return calm;
  const swinging = top.swing === null ? [] : found({ ...top, swing: null });
  return swinging.length > 0 || seamZones(top).length === 0 ? swinging : found(withoutZones(top));
}

/**
 * Places of one piece for a top, the best of every face by its shape.
 * @param count how many alike are wanted beside each other
 * @param taken what other pieces take of the slabs
 * @param most places of a face that are looked at closely
 */
export function onePieces(
  wanted: Top,
  count: number,
  ground: Ground,
  taken: readonly Strip[],
  most: number,
): OwnPlaces {
  if (isFree(wanted)) return freePieces(wanted, count, ground, taken, most);
  const laid = (top: Top): Candidate[] => straightPieces(top, count, ground, taken, most);
  return asWanted(keptFirst(searchedTop(wanted), laid), wanted, ground);
}

/** Of a top as it is searched for, in straight strips. */
function straightPieces(top: Top, count: number, ground: Ground, taken: readonly Strip[], most: number): Candidate[] {
  const { stock, job } = ground;
  const found: Candidate[] = [];
  for (const face of freeStock(ground, taken).map((free) => offeredTo(top, free))) {
    const wish = {
      length: top.length,
      depth: top.depth,
      front: top.front,
      angle: job.shop.seam.angle,
      swing: top.swing,
      ...(top.sapwood === 'wanted' && { sapwood: face.sapwood() }),
    };
    const cut = (place: StripPlace) => onePiece({ ...place, stock: whole(face, stock) }, top, job.shop);
    let sound = 0;
    for (const place of [...stripPlaces(face, wish), ...hiddenPlaces(face, wish, top)]) {
      if (sound === most) break;
      const candidate = cut(place);
      if (!candidate) continue;
      found.push(candidate);
      sound++;
    }
    if (count > 1) found.push(...placesBeside(face, wish, count, job.shop, cut));
  }
  return found;
}

/** The same for tops that no straight strip stands for. */
function freePieces(wanted: Top, count: number, ground: Ground, taken: readonly Strip[], most: number): OwnPlaces {
  const { stock, job } = ground;
  const made = freeStock(ground, taken).flatMap((free) => {
    const found: Candidate[] = [];
    let left: FaceStock | null = free;
    for (let i = 0; left && i < count; i++) {
      const face = offeredTo(wanted, left);
      const places = freePlaces(face, wanted, job.shop, i === 0 ? most : 1);
      found.push(...places.map((one) => ({ ...one, stock: [whole(face, stock)] })));
      const strips: readonly Strip[] = places[0]?.placement.strips ?? [];
      left = strips.length > 0 ? lessTaken(left, strips, job.shop) : null;
    }
    return found;
  });
  return apart(made.map((one) => judged(one, job.shop)));
}

/**
 * Places with a seam between two faces by shape alone, of which nobody knows how they look: what a first plan is made of, before the wood
 * was looked at.
 * @param pairs of faces, the most promising first
 * @param most places in all
 */
export function shapedPlaces(
  wanted: Top,
  ground: Ground,
  pairs: readonly (readonly [FaceStock, FaceStock])[],
  most: number,
): OwnPlaces {
  const { stock, job } = ground;
  const laid = (top: Top): Candidate[] => {
    const found: Candidate[] = [];
    for (const [front, back] of pairs) {
      if (found.length >= most) break;
      for (const seam of shapeSeams(offeredTo(top, front), offeredTo(top, back), top, job.shop)) {
        const made = seamed(onWhole(seam, stock), top, job.shop);
        if (typeof made === 'string') continue;
        found.push(made);
        break;
      }
    }
    return found;
  };
  return asWanted(keptFirst(searchedTop(wanted), laid), wanted, ground);
}
