import { type Affine, affine, apply, compose, intersection, largestRing, type Polygon, rectangle } from '../geometry';
import type { EndMatch, Match } from '../job';

/**
 * Matches as data: the cells of a panel, each with the map that carries what the first leaf would show in the panel to where this one shows it. Terms and
 * transforms after the Architectural Woodwork Standards 2009 (4-1.2.20 to 4-1.2.22 and Appendix B): a book match mirrors in the joint, a slip match
 * shifts, a reverse slip turns by half; end matches do the same across the grain. A search knows nothing but these cells.
 */

export type Carry = Affine<'panel', 'panel'>;

/** A piece of a panel that one leaf covers. */
export interface PatternCell {
  readonly polygon: Polygon<'panel'>;
  readonly carry: Carry;
}

/** The cells of a panel in the order in which leaves are laid, and how far the first one's grain leans from upright, degrees clockwise. */
export interface Pattern {
  readonly lean: number;
  readonly cells: readonly PatternCell[];
}

/** What a pattern is made for, mm. */
export interface PatternSize {
  readonly width: number;
  readonly height: number;
  /** Where leaves meet from left to right, the outer edges of the first and the last among them; those may lie outside the panel, which cuts them. */
  readonly lines: readonly number[];
  /** Where leaves meet end to end from top to bottom, the panel's edges among them. */
  readonly rows: readonly number[];
}

const STAY: Carry = affine(1, 0, 0, 1, 0, 0);
const shift = (dx: number, dy: number): Carry => affine(1, 0, 0, 1, dx, dy);
/** Mirror in the upright line at x, in the level line at y, and half a turn about their crossing. */
const mirrorAt = (x: number): Carry => affine(-1, 0, 0, 1, 2 * x, 0);
const mirrorUp = (y: number): Carry => affine(1, 0, 0, -1, 0, 2 * y);
const halfTurn = (x: number, y: number): Carry => affine(-1, 0, 0, -1, 2 * x, 2 * y);

/** `n` equal steps from `from` to `to`, both among them. */
export const steps = (from: number, to: number, n: number): number[] =>
  Array.from({ length: n + 1 }, (_, i) => from + ((to - from) * i) / n);

/** Matches whose leaves stand side by side with their grain upright. */
export const SIDE_MATCHES = ['book', 'slip', 'reverse slip', 'slip centre book', 'random'] as const;
export type SideMatch = (typeof SIDE_MATCHES)[number];
export const isSideMatch = (match: Match): match is SideMatch => (SIDE_MATCHES as readonly Match[]).includes(match);

/** How leaf i is carried across the panel from the first. */
function across(match: SideMatch, { lines, height }: PatternSize): Carry[] {
  const at = (i: number) => lines[i] as number;
  const n = lines.length - 1;
  const slip = (i: number) => shift(at(i) - at(0), 0);
  const one = (i: number): Carry => {
    switch (match) {
      case 'slip':
        return slip(i);
      case 'slip centre book':
        // 4-1.2.20.3: an even count, each half slipped, the right half mirrored in the panel's middle.
        return i < n / 2 ? slip(i) : compose(mirrorAt(at(n / 2)), slip(n - 1 - i));
      default: {
        let carry = STAY;
        for (let k = 1; k <= i; k++)
          carry = compose(match === 'book' ? mirrorAt(at(k)) : halfTurn(at(k), height / 2), carry);
        return carry;
      }
    }
  };
  return Array.from({ length: n }, (_, i) => one(i));
}

/** How row r is carried down the panel from the first. */
function down(match: EndMatch, rows: readonly number[]): Carry[] {
  const at = (r: number) => rows[r] as number;
  return Array.from({ length: rows.length - 1 }, (_, r) => {
    if (match === 'butt') return shift(0, at(r) - at(0));
    let carry = STAY;
    for (let k = 1; k <= r; k++) carry = compose(mirrorUp(at(k)), carry);
    return carry;
  });
}

/**
 * Leaves side by side, in one row or several. Rows come one after the other (panel end match, 4-1.2.21.2), or end to end first, then side to side
 * (`alternating`: architectural end match, 4-1.2.21.1).
 */
function upright(match: SideMatch, ends: EndMatch, size: PatternSize): Pattern {
  const { width, lines, rows } = size;
  const [sideways, downwards] = [across(match, size), down(ends, rows)];
  const n = sideways.length;
  const cell = (i: number, r: number): PatternCell => ({
    polygon: rectangle(
      i === 0 ? 0 : (lines[i] as number),
      rows[r] as number,
      i === n - 1 ? width : (lines[i + 1] as number),
      rows[r + 1] as number,
    ),
    carry: compose(downwards[r] as Carry, sideways[i] as Carry),
  });
  const places = downwards.flatMap((_, r) => sideways.map((_, i) => [i, r] as const));
  if (ends === 'alternating') places.sort(([i, r], [j, s]) => i - j || r - s);
  return { lean: 0, cells: places.map(([i, r]) => cell(i, r)) };
}

/** Four quarters mirrored in both middles, the grain along the quarter's diagonal: lines close to diamonds round the centre, or cross there. */
function diamond(reverse: boolean, { width, height }: PatternSize): Pattern {
  const [w, h] = [width / 2, height / 2];
  const lean = (Math.atan2(w, h) * 180) / Math.PI;
  return {
    lean: reverse ? -lean : lean,
    cells: [
      { polygon: rectangle(0, 0, w, h), carry: STAY },
      { polygon: rectangle(w, 0, width, h), carry: mirrorAt(w) },
      { polygon: rectangle(0, h, w, height), carry: mirrorUp(h) },
      { polygon: rectangle(w, h, width, height), carry: halfTurn(w, h) },
    ],
  };
}

/** Turn by `degrees` about a point, clockwise as the panel is seen. */
function turn(degrees: number, x: number, y: number): Carry {
  const t = (degrees * Math.PI) / 180;
  const [c, s] = [Math.cos(t), Math.sin(t)];
  return affine(c, s, -s, c, x - c * x + s * y, y - s * x - c * y);
}

/** Wedges about the panel's centre, the grain along each one's middle: an even count is booked round (sunburst, 4-1.2.22.1), an odd one slipped. */
function radial(n: number, { width, height }: PatternSize): Pattern {
  const [x, y] = [width / 2, height / 2];
  const step = 360 / n;
  const far = Math.hypot(width, height);
  const sheet = [{ outer: rectangle<'panel'>(0, 0, width, height), holes: [] }];
  const ray = (degrees: number): Polygon<'panel'>[number] => [
    x + far * Math.sin((degrees * Math.PI) / 180),
    y - far * Math.cos((degrees * Math.PI) / 180),
  ];
  const mirror: Carry = compose(compose(turn(step, x, y), mirrorAt(x)), turn(-step, x, y));
  return {
    lean: step / 2,
    cells: Array.from({ length: n }, (_, k) => {
      // A wedge of up to half a turn has its arc in parts, so that it reaches past the corners.
      const arc = steps(k * step, (k + 1) * step, Math.ceil(step / 60)).map(ray);
      const wedge = intersection([{ outer: [[x, y], ...arc], holes: [] }], sheet);
      const booked = n % 2 === 0 && k % 2 === 1;
      return {
        polygon: largestRing(wedge) ?? [],
        carry: booked ? compose(turn((k - 1) * step, x, y), mirror) : turn(k * step, x, y),
      };
    }),
  };
}

/**
 * Columns whose grain leans by 45 degrees, each the mirror of the one before; a column's leaves follow each other down it, slipped along.
 * @param strips leaves in a column, all equally broad
 */
function herringbone(strips: number, { width, height, lines }: PatternSize): Pattern {
  const columns = lines.length - 1;
  const broad = width / columns;
  const pitch = (height + broad) / strips;
  const first = [{ outer: rectangle<'panel'>(0, 0, broad, height), holes: [] }];
  const sideways = across('book', { width, height, lines: steps(0, width, columns), rows: [] });
  const cells: PatternCell[] = [];
  for (let s = 0; s < strips; s++) {
    const [y0, y1] = [s * pitch, (s + 1) * pitch];
    const band: Polygon<'panel'> = [
      [0, y0],
      [broad, y0 - broad],
      [broad, y1 - broad],
      [0, y1],
    ];
    const strip = largestRing(intersection([{ outer: band, holes: [] }], first));
    if (!strip) continue;
    for (const carry of sideways) {
      cells.push({ polygon: strip.map((p) => apply(carry, p)), carry: compose(carry, shift(0, s * pitch)) });
    }
  }
  return { lean: 45, cells };
}

/** What a pattern is asked for besides its size. */
export interface PatternWish {
  readonly match: Match;
  readonly ends: EndMatch;
  /** Wedges of a radial match, or leaves in one column of a herringbone. */
  readonly count: number;
}

/** The cells of a match. */
export function pattern({ match, ends, count }: PatternWish, size: PatternSize): Pattern {
  switch (match) {
    case 'four-piece':
      return upright('book', ends, { ...size, lines: steps(0, size.width, 2), rows: steps(0, size.height, 2) });
    case 'diamond':
    case 'reverse diamond':
      return diamond(match === 'reverse diamond', size);
    case 'radial':
      return radial(count, size);
    case 'herringbone':
      return herringbone(count, size);
    default:
      return upright(match, ends, size);
  }
}
