import { difference, type Point, type Polygon, type Segment, union } from '../geometry';
import { behind, Edges } from './check-edges';
import { beyondRounding, CLOSE, type Fault, findings, type LaidStrip, reachFrom, said, solid } from './check-laid';

/**
 * Whether a strip lies in its slab: all of it in the wood, and every edge that a saw makes as far from the wood's edge as the photo is unsure of that.
 * A live edge is the wood's own and keeps no margin.
 */

/** An edge that lies on the end line of its top, or on its back: made by the saw whatever the front is. */
const onLine = (a: number, b: number, at: number): boolean => Math.abs(a - at) < CLOSE && Math.abs(b - at) < CLOSE;

/** For each edge of the finished ring, whether it is the wood's own: only at the front of a top that wants it so. */
function ownEdges({ top, strip, index, inTop }: LaidStrip, outline: Edges<'face'>): boolean[] {
  const back = Math.max(...inTop.map(([, y]) => y));
  return strip.finished.map((p, i) => {
    if (top.front !== 'live' || index > 0) return false;
    const next = (i + 1) % inTop.length;
    const [a, b] = [inTop[i] as Point<'top'>, inTop[next] as Point<'top'>];
    if (onLine(a[0], b[0], 0) || onLine(a[0], b[0], top.length) || onLine(a[1], b[1], back)) return false;
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
  const out = beyondRounding(difference([solid(strip.finished)], [outline]));
  if (out.length > 0) say('wood', `The finished strip reaches ${said(job, reachFrom(out, rings))} outside the wood.`);
  if (beyondRounding(difference([solid(strip.rough)], [outline])).length > 0)
    say('wood', 'The rough blank reaches outside the wood.');
  if (strip.finished.length < 3 || union([solid(strip.finished)]).length !== 1)
    say('wood', 'The finished strip is not one piece.');
  const edges = new Edges(rings);
  const own = ownEdges(laid, edges);
  if (top.front === 'live' && index === 0 && !own.some(Boolean))
    say('live edge', 'Its front is to be the live edge of the slab, and is sawn.');
  let nearest: { readonly at: Segment<'face'>; readonly by: number } | null = null;
  for (const { line, meetsLive } of sawnLines(strip.finished, own)) {
    const by = meetsLive ? clearBehind(margin) : 0;
    const kept = behind(behind(line, by).reverse(), by);
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
