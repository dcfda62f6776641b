import { offset, type Polygon, simplify } from '../geometry';
import { type Cv, scope } from './cv';
import { fadeOf, piecesOf, ringOf, thick } from './patches';
import type { Turned } from './turned';
import { COARSE, type Colours, DARK } from './wood-colour';

/**
 * Things that lie on the wood: a tape, a clamp, a card, a pencil, chalk. Their colour is not of the wood's family, and their edges are sharp,
 * where a stain's are soft.
 */
export interface Clutter {
  /** Things large enough to hide something. */
  readonly things: readonly Polygon<'face'>[];
  /** 1 for each pixel of the turned picture that shows such a thing, its rim, or chalk. */
  readonly hides: Uint8Array;
}

/** From this share of what is alien a pixel may belong to a thing. */
const FAINT = 0.4;

/** A thing is thicker than THIN, mm, and larger than LEAST, mm2; what is thinner is chalk. */
const THIN = 5;
const LEAST = 300;
/** Gaps in it closed, such as a scale's ticks, mm. */
const TICKS = 6;
/** Share of its smallest rectangle from which a dark patch has straight sides: knots and voids fill three quarters. */
const BOXY = 0.86;
/** Lighter than wood by so much, and not of its colour, is chalk. */
const CHALK = 1.3;
/** Width over which the edge of a thing fades into wood, mm: a stain's is wider. */
const SOFT = 4.5;
/** Around a thing its shadow and the blur of its edge hide wood too, mm. */
const RIM = 4;
const SIMPLER = 0.5;

/** @param colours of the same face */
export function findClutter(cv: Cv, face: Turned, colours: Colours): Clutter {
  const { width, light, usual, strange, fading } = colours;
  const [either, chalk] = [new Uint8Array(strange.length), new Uint8Array(strange.length)];
  for (let i = 0; i < strange.length; i++) {
    const off = strange[i] as number;
    if (off < FAINT) continue;
    if (off >= 1 || (light[i] as number) < DARK * usual) either[i] = 1;
    if ((light[i] as number) > CHALK * usual) chalk[i] = 1;
  }
  // Black plastic is as dark as a void; it is told by what it belongs to, or by its straight sides.
  const solid = thick(cv, colours, either, { size: THIN / COARSE + 1, close: TICKS / COARSE + 1 });
  const things = piecesOf(cv, colours, solid, LEAST / COARSE ** 2).filter((inside) => {
    const plain = inside.filter((i) => (strange[i] as number) >= 1).length;
    const told = plain >= LEAST / COARSE ** 2 || boxiness(cv, inside, width) >= BOXY;
    return told && COARSE * fadeOf(inside, fading, width) <= SOFT;
  });
  return {
    things: things.flatMap((inside) => {
      const ring = ringOf(cv, colours, inside);
      return ring ? offset([{ outer: ring, holes: [] }], RIM).map(({ outer }) => simplify(outer, SIMPLER)) : [];
    }),
    hides: hidesOf(cv, face, colours, things, chalk),
  };
}

/** Things and chalk on the face in full detail, with what their rims and shadows hide. */
function hidesOf(
  cv: Cv,
  { width, height }: Turned,
  coarse: Colours,
  things: readonly (readonly number[])[],
  chalk: Uint8Array,
): Uint8Array {
  return scope(cv, (own) => {
    const mask = own(cv.Mat.zeros(coarse.height, coarse.width, cv.CV_8UC1));
    const { data } = mask;
    for (const inside of things) for (const i of inside) data[i] = 1;
    const across = 2 * Math.round(RIM / COARSE) + 1;
    cv.dilate(mask, mask, own(cv.getStructuringElement(cv.MORPH_RECT, new cv.Size(across, across))));
    for (let i = 0; i < chalk.length; i++) if (chalk[i]) data[i] = 1;
    cv.resize(mask, mask, new cv.Size(width, height), 0, 0, cv.INTER_NEAREST);
    return mask.data.slice();
  });
}

/** Share of the smallest rectangle around a patch, however turned, that it fills. */
function boxiness(cv: Cv, inside: readonly number[], width: number): number {
  return scope(cv, (own) => {
    const points = own(
      cv.matFromArray(
        inside.length,
        1,
        cv.CV_32SC2,
        inside.flatMap((i) => [i % width, Math.floor(i / width)]),
      ),
    );
    const { size } = cv.minAreaRect(points);
    return inside.length / ((size.width + 1) * (size.height + 1));
  });
}
