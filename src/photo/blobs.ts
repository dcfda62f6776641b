import type { Crack } from './cracks';
import { type Cv, scope } from './cv';
import { type Darkness, missing, type Threshold, threshold } from './dark';
import { piecesOf, ringOf, shapeOf, thick } from './patches';
import type { ProposedDefect } from './trace-types';

export type Blob = Exclude<ProposedDefect, { kind: 'crack' }>;

/**
 * Knots, voids and bark inclusions: patches darker than the wood on both sides of them across the slab and along it. A dark ring, a dark
 * heart or a streak goes on along the slab, and so misses nothing there.
 */

/** Missing lightness from which a spot belongs to a patch: at least so, so many times the figure, at most so; and what the middle of a patch is held against. */
const DARK: Threshold = { least: 0.18, figure: 2.6, most: 0.3 };
const MIDDLE: Threshold = { least: 0.2, figure: 3, most: 0.34 };
/** Longest along the slab, mm. */
const LONGEST = 400;
/** What is narrower is no patch, mm; smaller ones (pin knots) do not matter, mm2. */
const NARROWEST = 6;
const LEAST = 30;
/**
 * Log odds that a patch is a defect: by the log of how many times it is darker than it need be, and by the log of its area over 150 mm2.
 * Fitted to 62 true and 70 false patches of rendered photos altered in light, colour, noise and sharpness, then softened by a fifth.
 */
const ODDS = { none: -3, darker: 6.6, larger: 0.85 };
/** Less likely ones are not proposed; none is surer than this. */
const UNLIKELY = 0.3;
const SUREST = 0.95;
/** A patch smaller than this, mm2, of whose edge such a share borders something that hides the wood, is a bit of that. */
const REMNANT = 400;
const BORDERS = 0.3;
/** Share of a patch in a crack from which it is the crack where it gapes; how far a crack's darkness reaches beyond its edges, mm. */
const GAPING = 0.7;
const FRINGE = 2;
/** What lies along the grain within so many degrees and is so many times as long as wide has grown with it: a void or an inclusion. A knot crosses it. */
const WITH_GRAIN = 20;
const LONG = 2.2;
/** A hole is darker than bark, and light creeps in over its edges: its darkest quarter, less so much of the ratio between lightest and darkest. */
const HOLE = 0.29;
const EVEN = 0.6;

/** @param dark held against wood beyond the half width of the widest patch */
export function findBlobs(cv: Cv, dark: Darkness, cracks: readonly Crack[]): Blob[] {
  const { below, figure, width } = dark;
  const along = missing(cv, dark, LONGEST, 1);
  const depth = below.slice();
  const mask = new Uint8Array(depth.length);
  for (let i = 0; i < depth.length; i++) {
    depth[i] = Math.min(depth[i] as number, along[i] as number);
    mask[i] = (depth[i] as number) > threshold(DARK, figure[i] as number) ? 1 : 0;
  }
  const gaping = crackMask(cv, dark, cracks);
  return piecesOf(cv, dark, thick(cv, dark, mask, { size: NARROWEST + 1 }), LEAST).flatMap((inside): Blob[] => {
    const depths = inside.map((i) => depth[i] as number).sort((p, q) => p - q);
    const share = (t: number) => depths[Math.floor(t * depths.length)] as number;
    const needed = threshold(MIDDLE, figure[inside[inside.length >> 1] as number] as number);
    const confidence = likely(share(0.5) / needed, inside.length);
    if (confidence < UNLIKELY || inside.filter((i) => gaping[i]).length > GAPING * inside.length) return [];
    const polygon = remnant(inside, dark) ? null : ringOf(cv, dark, inside);
    if (!polygon) return [];
    const { long, short, degrees } = shapeOf(inside, width);
    const grown = long > LONG * short && Math.abs(degrees) < WITH_GRAIN;
    const hole = share(0.75) - (EVEN * share(0.1)) / share(0.75) > HOLE;
    return [{ kind: !grown ? 'knot' : hole ? 'void' : 'bark inclusion', polygon, confidence }];
  });
}

/** Whether a small patch is a bit of something that lies on the wood, which borders it. */
function remnant(inside: readonly number[], { seen, width }: Darkness): boolean {
  if (inside.length > REMNANT) return false;
  const own = new Set(inside);
  let [edge, beside] = [0, 0];
  for (const i of inside) {
    for (const by of [-1, 1, -width, width]) {
      if (own.has(i + by)) continue;
      edge++;
      if (seen[i + by] === 0 || seen[i + 2 * by] === 0) beside++;
    }
  }
  return beside > BORDERS * edge;
}

/** How likely a patch is a defect. */
function likely(darker: number, area: number): number {
  const odds = ODDS.none + ODDS.darker * Math.log(darker) + ODDS.larger * Math.log(area / 150);
  return Math.min(SUREST, 1 / (1 + Math.exp(-odds)));
}

/** 1 where a crack gapes. */
function crackMask(cv: Cv, { width, height, fromFace }: Darkness, cracks: readonly Crack[]): Uint8Array {
  return scope(cv, (own) => {
    const mask = own(cv.Mat.zeros(height, width, cv.CV_8UC1));
    for (const { line } of cracks) {
      line.slice(1).forEach(([x, y, wide], i) => {
        const [px, py, before] = line[i] as Crack['line'][number];
        const [from, to] = [fromFace([px, py]), fromFace([x, y])];
        const at = ([u, v]: readonly [number, number]) => new cv.Point(Math.floor(u), Math.floor(v));
        cv.line(mask, at(from), at(to), new cv.Scalar(1), Math.ceil(Math.max(wide, before) + 2 * FRINGE));
      });
    }
    return mask.data.slice();
  });
}
