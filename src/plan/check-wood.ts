import { apply, bounds, difference, distance, type Point, type Polygon, type Segment, union } from '../geometry';
import { behind, Edges } from './check-edges';
import { beyondRounding, CLOSE, type Fault, findings, type LaidStrip, reachFrom, said, solid } from './check-laid';

/**
 * Whether a strip lies in its slab: all of it in the wood, and every edge that a saw makes as far from the wood's edge as the photo is unsure of that.
 * A live edge is the wood's own and keeps no margin.
 */

/** Whether both ends of an edge lie on the line at `at`. */
const onLine = (a: number, b: number, at: number): boolean => Math.abs(a - at) < CLOSE && Math.abs(b - at) < CLOSE;

/** Sine of the angle that an edge may be off the line of a slanted end and still be its, and how short it may be, mm. */
const ALIKE = 1e-3;
const SHORT = 5;

/** Whether the saw makes an edge of a strip, by the sides of the top that are to be straight. */
function isSawn({ top, strip, inTop }: LaidStrip, a: Point<'top'>, b: Point<'top'>): boolean {
  const { minY, maxY } = bounds(inTop);
  const [liveFront, liveBack] = [
    top.front === 'live' && strip.jointFront === null,
    top.back === 'live' && strip.jointBack === null,
  ];
  if ((!liveFront && onLine(a[1], b[1], minY)) || (!liveBack && onLine(a[1], b[1], maxY))) return true;
  const length = distance(a, b);
  return (['right', 'left'] as const).some((side) => {
    const { edge, degrees } = top.ends[side];
    if (edge === 'live') return false;
    const at = side === 'right' ? -top.scribe.right : top.length + top.scribe.left;
    if (degrees === 90) return onLine(a[0], b[0], at);
    // Against the front an end turns by its angle, mirrored at the left.
    const t = ((side === 'right' ? degrees : -degrees) * Math.PI) / 180;
    return length > SHORT && Math.abs((b[0] - a[0]) * Math.sin(t) - (b[1] - a[1]) * Math.cos(t)) < ALIKE * length;
  });
}

/** For each edge of the finished ring, whether it is the wood's own: on the outline, and none that the saw is to make. */
function ownEdges(laid: LaidStrip, outline: Edges<'face'>): boolean[] {
  const { top, strip, inTop } = laid;
  const live =
    (top.front === 'live' && strip.jointFront === null) ||
    (top.back === 'live' && strip.jointBack === null) ||
    top.ends.right.edge === 'live' ||
    top.ends.left.edge === 'live';
  return strip.finished.map((p, i) => {
    const next = (i + 1) % inTop.length;
    if (!live || isSawn(laid, inTop[i] as Point<'top'>, inTop[next] as Point<'top'>)) return false;
    const q = strip.finished[next] as Point<'face'>;
    const middle: Point<'face'> = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    return [p, middle, q].every((at) => outline.within([at, at], CLOSE) < CLOSE);
  });
}

/** The lines that the saw makes around a strip, from one live stretch to the next; the whole ring where there is none. */
function sawnLines(ring: Polygon<'face'>, own: readonly boolean[]): { line: Point<'face'>[]; meetsLive: boolean }[] {
  const n = ring.length;
  const start = own.findIndex((live, i) => live && !own[(i + 1) % n]);
  if (start < 0) return own[0] ? [] : [{ line: [...ring, ring[0] as Point<'face'>], meetsLive: false }];
  const lines: { line: Point<'face'>[]; meetsLive: boolean }[] = [];
  let line: Point<'face'>[] = [];
  for (let k = 1; k <= n; k++) {
    const i = (start + k) % n;
    if (own[i]) {
      if (line.length > 0) lines.push({ line: [...line, ring[i] as Point<'face'>], meetsLive: true });
      line = [];
    } else line.push(ring[i] as Point<'face'>);
  }
  return lines;
}

/** How far behind a live edge the margin begins to count: along an end that meets it at a slant it takes so long to be clear. */
const clearBehind = (margin: number): number => 3 * margin + 1;

/** What one calls an edge of a strip by where it lies in the top. */
function called([a, b]: Segment<'face'>, { strip, toTop: { m } }: LaidStrip): string {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const [along, across] = [Math.abs(m[0] * dx + m[2] * dy), Math.abs(m[1] * dx + m[3] * dy)];
  if (across > along) return 'An end';
  const depth = (p: Point<'face'>): number => m[1] * p[0] + m[3] * p[1] + m[5];
  const y = (depth(a) + depth(b)) / 2;
  const joint = [strip.jointFront, strip.jointBack].some((line) => line && Math.abs(depth(line[0]) - y) < 1);
  return joint ? 'The joint line' : 'A sawn edge';
}

/** @returns faults of `wood`, `margin` and `live edge` */
export function checkWood(laid: LaidStrip): Fault[] {
  const { job, face, strip, margin, top, index, where } = laid;
  const { faults, say } = findings(where);
  const { outline } = face;
  const rings = [outline.outer, ...outline.holes];
  if (difference([solid(strip.finished), solid(strip.rough)], [outline]).length > 0) {
    const out = beyondRounding(difference([solid(strip.finished)], [outline]));
    if (out.length > 0) say('wood', `The finished strip reaches ${said(job, reachFrom(out, rings))} outside the wood.`);
    if (beyondRounding(difference([solid(strip.rough)], [outline])).length > 0)
      say('wood', 'The rough blank reaches outside the wood.');
  }
  if (strip.finished.length < 3 || union([solid(strip.finished)]).length !== 1)
    say('wood', 'The finished strip is not one piece.');
  const edges = new Edges(rings);
  const own = ownEdges(laid, edges);
  if (top.front === 'live' && index === 0 && !own.some(Boolean))
    say('live edge', 'Its front is to be the live edge of the slab, and is sawn.');
  const back = Math.max(...laid.inTop.map(([, y]) => y));
  const atBack = (p: Point<'face'>): boolean => apply(laid.toTop, p)[1] > back - CLOSE;
  let nearest: { readonly at: Segment<'face'>; readonly by: number } | null = null;
  for (const { line, meetsLive } of sawnLines(strip.finished, own)) {
    const by = meetsLive ? clearBehind(margin) : 0;
    const kept = behind(behind(line, by, atBack).toReversed(), by, atBack);
    for (let i = 0; i + 1 < kept.length; i++) {
      const piece: Segment<'face'> = [kept[i] as Point<'face'>, kept[i + 1] as Point<'face'>];
      const off = edges.within(piece, margin);
      if (off < margin - CLOSE && off < (nearest?.by ?? margin)) nearest = { at: piece, by: off };
    }
  }
  if (nearest)
    say(
      'margin',
      `${called(nearest.at, laid)} comes within ${said(job, nearest.by)} of the wood's edge, whose own doubt is ${said(job, margin)}.`,
    );
  return faults;
}
