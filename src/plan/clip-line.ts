import { type Affine, apply, contains, type Point, type Polygon, type WideLine } from '../geometry';

type Place = readonly [x: number, y: number, width: number];

const between = (a: Place, b: Place, t: number): Place => [
  a[0] + (b[0] - a[0]) * t,
  a[1] + (b[1] - a[1]) * t,
  a[2] + (b[2] - a[2]) * t,
];

/** Where along a-b (0..1) it crosses the ring's edges. */
function crossings(a: Place, b: Place, ring: Polygon<'face'>): number[] {
  const ts: number[] = [];
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  ring.forEach((p, i) => {
    const q = ring[(i + 1) % ring.length] as Point<'face'>;
    const [ex, ey] = [q[0] - p[0], q[1] - p[1]];
    const det = dx * ey - dy * ex;
    if (Math.abs(det) < 1e-12) return;
    const t = ((p[0] - a[0]) * ey - (p[1] - a[1]) * ex) / det;
    const u = ((p[0] - a[0]) * dy - (p[1] - a[1]) * dx) / det;
    if (t > 0 && t < 1 && u >= 0 && u < 1) ts.push(t);
  });
  return ts.sort((x, y) => x - y);
}

/** The pieces of a crack that lie inside a ring, each from where it enters to where it leaves. Pieces of less than `least` mm are dropped. */
export function clipLine(line: WideLine, ring: Polygon<'face'>, least = 5): WideLine[] {
  const pieces: Place[][] = [];
  let open: Place[] | null = null;
  for (let i = 0; i + 1 < line.length; i++) {
    const [a, b] = [line[i] as Place, line[i + 1] as Place];
    const ts = [0, ...crossings(a, b, ring), 1];
    for (let k = 0; k + 1 < ts.length; k++) {
      const [from, to] = [between(a, b, ts[k] as number), between(a, b, ts[k + 1] as number)];
      const middle = between(from, to, 0.5);
      if (!contains(ring, [middle[0], middle[1]])) {
        open = null;
        continue;
      }
      if (!open) {
        open = [from];
        pieces.push(open);
      }
      open.push(to);
    }
  }
  const length = (piece: readonly Place[]): number =>
    piece
      .slice(1)
      .reduce((sum, p, i) => sum + Math.hypot(p[0] - (piece[i] as Place)[0], p[1] - (piece[i] as Place)[1]), 0);
  return pieces.filter((piece) => length(piece) >= least);
}

/** A crack carried into a top; its width stays. */
export const mapLine = (map: Affine<'face', 'top'>, line: WideLine): WideLine =>
  line.map(([x, y, width]) => [...apply(map, [x, y] as Point<'face'>), width] as unknown as Place);
