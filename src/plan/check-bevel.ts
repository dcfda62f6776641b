import { distance, type Point, type Polygon, type Segment } from '../geometry';
import { otherFace, type Slab } from '../job';
import { Edges } from './check-edges';
import { CLOSE, type Fault, findings, type LaidStrip, type LaidTop, said } from './check-laid';

/**
 * Whether a live edge keeps the depths wanted once its face is planed: at every corner of the edge, by where the other face's edge lies under it,
 * or by the slope that was typed.
 */

const BESIDE = 1e-4;

/** The slab as sawn, mm: typed, or the mean of what was read. */
function thicknessOf({ thickness, spots, heights }: Slab): number | null {
  if (thickness !== null) return thickness;
  const all = Object.values(spots)
    .map(
      ({ thickness: own, top, bottom }) =>
        own ?? (heights === 'together' && top !== null && bottom !== null ? top - bottom : null),
    )
    .filter((mm) => mm !== null);
  return all.length > 0 ? all.reduce((sum, mm) => sum + mm, 0) / all.length : null;
}

/** The other face's outline carried under the strip by the marks that both faces show, in the top's frame. */
function below({ strip, toTop: { m } }: LaidStrip, slab: Slab): Polygon<'top'> | null {
  const other = slab.faces[otherFace(strip.face)].outline;
  if (!slab.tie || !other) return null;
  const [a, b] = slab.tie[strip.face] as Segment<'face'>;
  const [c, d] = slab.tie[otherFace(strip.face)] as unknown as Segment<'face'>;
  const [here, there] = [distance(a, b), distance(c, d)];
  if (here === 0 || there === 0) return null;
  const [u, v] = [
    [(b[0] - a[0]) / here, (b[1] - a[1]) / here],
    [(d[0] - c[0]) / there, (d[1] - c[1]) / there],
  ] as const;
  return other.outer.map(([x, y]): Point<'top'> => {
    const along = (x - c[0]) * v[0] + (y - c[1]) * v[1] + (here - there) / 2;
    const across = (y - c[1]) * v[0] - (x - c[0]) * v[1];
    const p = [a[0] + along * u[0] + across * u[1], a[1] + along * u[1] - across * u[0]] as const;
    return [m[0] * p[0] + m[2] * p[1] + m[4], m[1] * p[0] + m[3] * p[1] + m[5]];
  });
}

/** How far out of the top a live edge lies on the finished face, against the photographed one, at x; null where nobody knows. */
function outward(laid: LaidStrip, side: 'front' | 'back'): ((x: number, y: number) => number) | null {
  const { job, top, strip } = laid;
  const slab = job.flitches[strip.flitch]?.slabs[strip.slab];
  const thick = slab && thicknessOf(slab);
  if (!slab || thick === null || thick === undefined) return null;
  const share = Math.max(0, 1 - top.thickness / thick) / 2;
  const ring = below(laid, slab);
  if (ring) {
    const edges = new Edges([ring]);
    return (x, y) => {
      const ys = edges.crossings(x);
      if (ys.length === 0) return 0;
      return share * (side === 'front' ? y - (ys[0] as number) : (ys.at(-1) as number) - y);
    };
  }
  if (top.bevel === null) return null;
  const t = (top.bevel * Math.PI) / 180;
  return () => (-share * thick * Math.cos(t)) / Math.sin(t);
}

/** @returns faults of `depth` on the finished face */
export function checkBevel({ job, top, placement, strips, where }: LaidTop): Fault[] {
  const { faults, say } = findings(where);
  const [first, last] = [strips[0], strips.at(-1)];
  if (!first || !last || top.shape || strips.length !== placement.strips.length) return faults;
  const front = top.front === 'live' ? outward(first, 'front') : null;
  const back = top.back === 'live' ? outward(last, 'back') : null;
  if (!front && !back) return faults;
  const [near, far] = [new Edges([first.inTop]), new Edges([last.inTop])];
  const [from, to] = (['right', 'left'] as const).map((side) => {
    const { edge, short, degrees } = top.ends[side];
    return edge === 'live'
      ? short
      : Math.abs((placement.depth[1] * Math.cos((degrees * Math.PI) / 180)) / Math.sin((degrees * Math.PI) / 180));
  }) as [number, number];
  let [least, most] = [Infinity, -Infinity];
  for (const x of [...first.inTop, ...last.inTop].flatMap(([at]) => [at - BESIDE, at + BESIDE])) {
    if (x < from + BESIDE || x > top.length - to - BESIDE) continue;
    const [y, rear] = [near.crossings(x)[0], far.crossings(x).at(-1)];
    if (y === undefined || rear === undefined) continue;
    const end = top.back === 'live' ? rear : placement.depth[1];
    const deep = end - (top.front === 'live' ? y : 0) + (front?.(x, y) ?? 0) + (back?.(x, rear) ?? 0);
    [least, most] = [Math.min(least, deep), Math.max(most, deep)];
  }
  const [low, high] = top.depth;
  if (least < low - CLOSE || most > high + CLOSE)
    say(
      'depth',
      `On its finished face it is ${said(job, least)} to ${said(job, most)} deep, for its live edge slopes; ${said(job, low)} to ${said(job, high)} are wanted.`,
    );
  return faults;
}
