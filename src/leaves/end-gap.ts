import type { Point, Segment } from '../geometry';
import { type Figure, STATION } from '../grain';

/** How well figure runs on along the grain over a gap: the lines across one edge held against those across the other. */

/** One edge of a gap, across the grain of its leaf, and whether the wood kept lies at more x. */
export interface EndEdge {
  readonly figure: Figure;
  readonly line: Segment<'face'>;
  readonly keepsMore: boolean;
}

/** The lines are taken from so much wood beside an edge, and so far apart along it, mm. */
const DEEP = STATION;
const STEP = 1;
/**
 * Lines that slant are followed so far across the gap, mm. On three drawn boards, edges of 90 mm with 3 and 8 mm lost, one leaf that runs on was likelier than
 * another of its board in .80 to 1.00 of all pairs; not followed in .46 to .99.
 */
const SLANT = 4;
/** Uncut wood is looked at every so often along a leaf, mm; edges shorter than this tell nothing. */
const EVERY = 10;
const LEAST = 20;

/**
 * Share of uncut wood of the two leaves, with as much of it lost, over which the figure's lines go on no better (as DESIGN 5.3 tells a joint; across the grain
 * there is nothing else to tell by). Null without sound wood.
 * @param lost between the two edges, mm
 */
export function endGapBlend(one: EndEdge, other: EndEdge, lost: number): number | null {
  const [p, q] = [one.figure, other.figure];
  const here = alike(linesAt(p, one.line, one.keepsMore), linesAt(q, other.line, other.keepsMore));
  if (here === null) return null;
  const uncut = [uncutAlike(p, one.line, lost), ...(q === p ? [] : [uncutAlike(q, other.line, lost)])].flat();
  return uncut.length > 0 ? uncut.filter((value) => value <= here + 1e-9).length / uncut.length : null;
}

/** How alike wood is on both sides of as long a gap that is not there, all along a leaf. */
function uncutAlike(figure: Figure, [[, y0], [, y1]]: Segment<'face'>, lost: number): number[] {
  const end = figure.x0 + figure.stations * STATION;
  const at = (x: number): Segment<'face'> => [
    [x, y0],
    [x, y1],
  ];
  const found: number[] = [];
  for (let x = figure.x0 + DEEP; x + lost + DEEP <= end; x += EVERY) {
    const value = alike(linesAt(figure, at(x), false), linesAt(figure, at(x + lost), true));
    if (value !== null) found.push(value);
  }
  return found;
}

/** The figure's lines along an edge from end to end, the mean of what lies beside it on the side kept; 0 where nothing is known. */
function linesAt({ x0, y0, stations, rows, lines }: Figure, [p, q]: Segment<'face'>, keepsMore: boolean): Float32Array {
  const n = Math.max(1, Math.round(Math.hypot(q[0] - p[0], q[1] - p[1]) / STEP));
  const out = new Float32Array(n);
  for (let k = 0; k < n; k++) {
    const [x, y]: Point<'face'> = [p[0] + ((k + 0.5) / n) * (q[0] - p[0]), p[1] + ((k + 0.5) / n) * (q[1] - p[1])];
    const row = Math.floor(y - y0);
    if (row < 0 || row >= rows) continue;
    const from = (keepsMore ? x : x - DEEP) - x0;
    let [sum, known] = [0, 0];
    for (let j = Math.max(0, Math.ceil(from / STATION - 0.5)); j < stations; j++) {
      if ((j + 0.5) * STATION > from + DEEP) break;
      const value = lines[j * rows + row] as number;
      if (value === 0) continue;
      sum += value;
      known++;
    }
    if (known > 0) out[k] = sum / known;
  }
  return out;
}

/** Normalised correlation, -1..1, lines followed as they slant; null where too little of both is known. */
function alike(a: Float32Array, b: Float32Array): number | null {
  let most: number | null = null;
  for (let slant = -SLANT; slant <= SLANT; slant += STEP) {
    const value = correlation(a, b, slant / STEP);
    if (value !== null && (most === null || value > most)) most = value;
  }
  return most;
}

function correlation(a: Float32Array, b: Float32Array, shift: number): number | null {
  let [pq, pp, qq, known] = [0, 0, 0, 0];
  for (let k = Math.max(0, -shift); k < Math.min(a.length, b.length - shift); k++) {
    const [p, q] = [a[k] as number, b[k + shift] as number];
    if (p === 0 || q === 0) continue;
    pq += p * q;
    pp += p * p;
    qq += q * q;
    known++;
  }
  return known * STEP >= LEAST && pp > 0 && qq > 0 ? pq / Math.sqrt(pp * qq) : null;
}
