import { contains, distance, type Frame, nearestOnSegment, type Point, type Polygon, type WideLine } from '../geometry';

/** A crack, or the part of one that lies inside the top, measured along its line. */
export interface CrackPart {
  /** mm from tip to tip, along the line. */
  readonly length: number;
  /** Greatest width, mm. */
  readonly widest: number;
  /** Width of the crack `s` mm from the first tip, mm. */
  widthAt(s: number): number;
  /** The point `s` mm from the first tip. */
  at(s: number): Point<'top'>;
  /** How far along it its point nearest to a place lies, mm, and how far off that is. */
  nearest(place: Point<'top'>): { readonly along: number; readonly off: number };
  /** Direction of the crack about `s`, in radians: that of the chord over `reach` mm to either side, since a traced line wavers. */
  direction(s: number, reach: number): number;
}

const LEAST = 1e-6;

/** The parts of a crack inside the outline, in order along it. A line that stays inside gives one. */
export const insideParts = (line: WideLine, outline: Polygon<'top'>): CrackPart[] =>
  clipLine(line, outline, LEAST).map(measured);

/** The pieces of a line with a width that lie inside a ring, each from where it enters to where it leaves; those of no more than `least` mm are dropped. */
export function clipLine<F extends Frame>(line: WideLine, ring: Polygon<F>, least: number): WideLine[] {
  const pieces: WideLine[] = [];
  let open: WideLine[number][] = [];
  const close = () => {
    if (open.length > 1) pieces.push(open);
    open = [];
  };
  for (let i = 1; i < line.length; i++) {
    const [p, q] = [line[i - 1], line[i]] as [WideLine[0], WideLine[0]];
    const cuts = [0, ...crossings(p, q, ring), 1];
    for (let k = 1; k < cuts.length; k++) {
      const [t0, t1] = [cuts[k - 1], cuts[k]] as [number, number];
      const middle = between(p, q, (t0 + t1) / 2);
      if (!contains(ring, [middle[0], middle[1]])) {
        close();
        continue;
      }
      if (open.length === 0) open.push(between(p, q, t0));
      if (t1 - t0 > 0) open.push(between(p, q, t1));
    }
  }
  close();
  return pieces.filter((piece) => measured(piece).length > least);
}

const between = (p: WideLine[0], q: WideLine[0], t: number): WideLine[0] => [
  p[0] + (q[0] - p[0]) * t,
  p[1] + (q[1] - p[1]) * t,
  p[2] + (q[2] - p[2]) * t,
];

/** Where a piece of the crack crosses the ring, as shares of the piece, sorted. */
function crossings<F extends Frame>(p: WideLine[0], q: WideLine[0], ring: Polygon<F>): number[] {
  const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
  const found: number[] = [];
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [a, b] = [ring[j], ring[i]] as [Point<F>, Point<F>];
    const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
    const cross = dx * ey - dy * ex;
    if (Math.abs(cross) < 1e-12) continue;
    const t = ((a[0] - p[0]) * ey - (a[1] - p[1]) * ex) / cross;
    const u = ((a[0] - p[0]) * dy - (a[1] - p[1]) * dx) / cross;
    if (t > 0 && t < 1 && u >= 0 && u < 1) found.push(t);
  }
  return found.sort((a, b) => a - b);
}

/** A crack measured along its line, tip to tip. */
export function measured(line: WideLine): CrackPart {
  const along = [0];
  for (let i = 1; i < line.length; i++) {
    const [p, q] = [line[i - 1], line[i]] as [WideLine[0], WideLine[0]];
    along.push((along[i - 1] as number) + Math.hypot(q[0] - p[0], q[1] - p[1]));
  }
  const length = along.at(-1) as number;
  const place = (s: number): WideLine[0] => {
    const clipped = Math.min(length, Math.max(0, s));
    let i = 1;
    while (i < line.length - 1 && (along[i] as number) < clipped) i++;
    const [from, to] = [along[i - 1], along[i]] as [number, number];
    const share = to > from ? (clipped - from) / (to - from) : 0;
    return between(line[i - 1] as WideLine[0], line[i] as WideLine[0], share);
  };
  const at = (s: number): Point<'top'> => {
    const [x, y] = place(s);
    return [x, y];
  };
  const direction = (s: number, reach: number): number => {
    const [p, q] = [at(s - reach), at(s + reach)];
    return Math.atan2(q[1] - p[1], q[0] - p[0]);
  };
  const nearest = (to: Point<'top'>) => {
    let best = { along: 0, off: Infinity };
    for (let i = 1; i < line.length; i++) {
      const [[ax, ay], [bx, by]] = [line[i - 1], line[i]] as [WideLine[0], WideLine[0]];
      const from: Point<'top'> = [ax, ay];
      const foot = nearestOnSegment(to, [from, [bx, by]]);
      const off = distance(foot, to);
      if (off < best.off) best = { along: (along[i - 1] as number) + distance(from, foot), off };
    }
    return best;
  };
  const widest = Math.max(...line.map(([, , width]) => width));
  return { length, widest, widthAt: (s) => place(s)[2], at, nearest, direction };
}
