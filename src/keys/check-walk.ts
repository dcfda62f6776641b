import { contains, type Point, type Polygon, type WideLine } from '../geometry';

/** A crack as the check walks along it, to both sides of a key, as far as it lies inside the top. Shares no code with the search. */
export class CrackWalk {
  /** How far the key stands off the line, mm. */
  readonly off: number;
  /** mm along the line from the key to where the crack ends or leaves the top, towards its first and its other end. */
  readonly before: number;
  readonly after: number;
  private readonly lengths: readonly number[];
  private readonly s: number;

  constructor(
    private readonly line: WideLine,
    outline: Polygon<'top'>,
    [x, y]: Point<'top'>,
  ) {
    let sum = 0;
    this.lengths = line.map((p, i) => {
      const o = line[Math.max(0, i - 1)] as WideLine[0];
      sum += Math.hypot(p[0] - o[0], p[1] - o[1]);
      return sum;
    });
    let [off, s] = [Infinity, 0];
    line.slice(1).forEach(([bx, by], i) => {
      const [ax, ay] = line[i] as WideLine[0];
      const length = Math.hypot(bx - ax, by - ay);
      if (length === 0) return;
      const t = Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length ** 2));
      const d = Math.hypot(ax + t * (bx - ax) - x, ay + t * (by - ay) - y);
      if (d < off) [off, s] = [d, (this.lengths[i] as number) + t * length];
    });
    [this.off, this.s] = [off, s];
    const inside = (d: number) => {
      const [px, py] = this.place(s + d);
      return contains(outline, [px, py]);
    };
    this.before = reach((d) => inside(-d), s);
    this.after = reach(inside, sum - s);
  }

  /** Greatest width within so far of the key along the line, at its places and between them. */
  widest(half: number): number {
    const [from, to] = [this.s - Math.min(half, this.before), this.s + Math.min(half, this.after)];
    if (half === Infinity) {
      const places = this.line.filter((_, i) => (this.lengths[i] as number) > from && (this.lengths[i] as number) < to);
      return Math.max(this.place(from)[2], this.place(to)[2], ...places.map(([, , w]) => w));
    }
    return Math.max(this.place(from)[2], this.place(this.s)[2], this.place(to)[2]);
  }

  /** From so far before the key to so far behind it. */
  chord(half: number): readonly [number, number] {
    const p = this.place(this.s - Math.min(half, this.before));
    const q = this.place(this.s + Math.min(half, this.after));
    return [q[0] - p[0], q[1] - p[1]];
  }

  private place(s: number): WideLine[0] {
    const i = Math.max(
      1,
      this.lengths.findIndex((l) => l >= s),
    );
    const [p, q] = [this.line[i - 1], this.line[i]] as [WideLine[0], WideLine[0]];
    const [from, to] = [this.lengths[i - 1], this.lengths[i]] as [number, number];
    const t = to > from ? Math.min(1, Math.max(0, (s - from) / (to - from))) : 0;
    return [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1]), p[2] + t * (q[2] - p[2])];
  }
}

/** How far one can go, up to `most`, before it is no longer so: by steps of a millimetre, then halving. */
function reach(holds: (d: number) => boolean, most: number): number {
  let d = 0;
  while (d < most && holds(Math.min(most, d + 1) - 1e-6)) d = Math.min(most, d + 1);
  if (d >= most) return most;
  let [low, high] = [d, Math.min(most, d + 1)];
  for (let i = 0; i < 20; i++) {
    const middle = (low + high) / 2;
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return low;
}
