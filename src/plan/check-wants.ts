import {
  bounds,
  contains,
  difference,
  distance,
  distanceToSegment,
  type Point,
  type Polygon,
  type Segment,
  union,
} from '../geometry';
import type { Top } from '../job';
import { checkBevel } from './check-bevel';
import { Edges } from './check-edges';
import { beyondRounding, CLOSE, type Fault, findings, type LaidTop, reachFrom, said, solid } from './check-laid';

/**
 * Whether a top is what was wanted beyond its length and depth: its ends and shape, the wood kept for scribing, how far a live edge swings, where
 * no seam may run, what is kept beside its holes, which way its grain runs. By the wanted lines themselves, one after the other, at every
 * corner of the wood and to both sides of it.
 */

const BESIDE = 1e-4;
/** A live edge is looked at this finely between its corners, mm; the swing is judged over this stretch (DESIGN 5.2 leaves it to us), mm. */
const STEP = 1;
const WITHIN = 500;
const DEGREE = Math.PI / 180;
/** An angle is held to this, degrees. */
const CLOSE_ANGLE = 0.01;

/** Whether the plain rule of length and depth says all of a top's size. */
export const isRectangle = ({ shape, ends, scribe, wallBow, back }: Top): boolean =>
  shape === null &&
  back === 'straight' &&
  [ends.left, ends.right].every(({ edge, degrees }) => edge === 'straight' && degrees === 90) &&
  scribe.back + scribe.left + scribe.right + wallBow === 0;

type Side = 'front' | 'back' | 'right' | 'left';

interface Wanted {
  /** x and y at which the finished size begins and ends with the wood kept for scribing. */
  readonly from: number;
  readonly to: number;
  readonly rear: number;
  /** How far an end stands in from the box at y. */
  readonly right: (y: number) => number;
  readonly left: (y: number) => number;
}

function wantedOf(top: Top, depth: number): Wanted {
  const { ends, scribe, length, wallBow } = top;
  const rear = depth + scribe.back + wallBow;
  // An end leans from the corner that the longer side ends in: the front's where its angle is sharp, else the back's.
  const lean =
    (degrees: number) =>
    (y: number): number =>
      (degrees < 90 ? y : rear - y) * Math.abs(Math.cos(degrees * DEGREE) / Math.sin(degrees * DEGREE));
  const [from, to] = [-scribe.right, length + scribe.left];
  const [right, left] = [lean(ends.right.degrees), lean(ends.left.degrees)];
  return { from, to, rear, right: (y) => from + right(y), left: (y) => to - left(y) };
}

/** A top with a shape of its own holds all of it and no more. */
function checkShape({ job, top, strips, where }: LaidTop): Fault[] {
  const { faults, say } = findings(where);
  const wanted = solid(shapeOf(top));
  const laid = union(strips.map(({ inTop }) => solid(inTop)));
  const over = beyondRounding(difference(laid, [wanted]));
  const short = beyondRounding(difference([wanted], laid));
  if (over.length > 0)
    say('shape', `It reaches ${said(job, reachFrom(over, [wanted.outer]))} beyond its wanted shape.`);
  if (short.length > 0)
    say(
      'shape',
      `Of its wanted shape a piece is missing, ${said(job, reachFrom(short, [wanted.outer]))} from its edge.`,
    );
  return faults;
}

/** The wanted ring: as drawn, or of an ellipse so many chords that none strays from it by a hundredth of a millimetre. */
function shapeOf({ shape, length, depth }: Top): Polygon<'top'> {
  if (shape?.kind === 'polygon') return shape.outline;
  const [a, b] = [length / 2, depth[1] / 2];
  return Array.from({ length: 2000 }, (_, i): Point<'top'> => {
    const t = (i * Math.PI) / 1000;
    return [a * (1 - Math.cos(t)), b * (1 - Math.sin(t))];
  });
}

/** All places along a top at which its wood must be looked at. */
function stations(strips: LaidTop['strips']): number[] {
  const corners = strips.flatMap(({ inTop }) => inTop as readonly Point<'top'>[]).map(([x]) => x);
  const { minX, maxX } = bounds(strips.flatMap(({ inTop }) => inTop));
  return corners
    .flatMap((x) => [x - BESIDE, x + BESIDE])
    .filter((x) => x > minX && x < maxX)
    .sort((a, b) => a - b);
}

/** Front and back of the wood at x, and what is missing between them. */
function across(pieces: readonly Edges<'top'>[], x: number): { front: number; rear: number; gap: number } | null {
  const spans = pieces
    .map((edges) => edges.crossings(x))
    .flatMap((ys) =>
      ys.flatMap((y, i) => (i % 2 === 0 && i + 1 < ys.length ? [[y, ys[i + 1] as number] as const] : [])),
    )
    .sort((a, b) => a[0] - b[0]);
  const [first, ...rest] = spans;
  if (!first) return null;
  let [reached, gap] = [first[1], 0];
  for (const [from, to] of rest) {
    gap = Math.max(gap, from - reached);
    reached = Math.max(reached, to);
  }
  return { front: first[0], rear: reached, gap };
}

/** Ends, edges and depth of a top that is no plain rectangle, at every place along it. */
function checkOutline(laid: LaidTop): Fault[] {
  const { job, top, placement, strips, where } = laid;
  const { faults, say } = findings(where);
  const off: Partial<Record<Side, number>> = {};
  const worst = (side: Side, by: number): void => {
    off[side] = Math.max(off[side] ?? 0, Math.abs(by));
  };
  const [least, most] = top.depth;
  const wanted = wantedOf(top, placement.depth[1]);
  const pieces = strips.map(({ inTop }) => new Edges([inTop]));
  let [narrow, wide, gap] = [Infinity, -Infinity, 0];
  // Between these all of the top is wood, whatever its live edges do.
  let [inFront, inBack] = [0, top.back === 'live' ? Infinity : wanted.rear];
  const live = (side: 'right' | 'left') => top.ends[side].edge === 'live';
  for (const x of stations(strips)) {
    const at = across(pieces, x);
    if (!at) continue;
    gap = Math.max(gap, at.gap);
    const ends = (['right', 'left'] as const).filter((side) => !live(side));
    // Wood that an end bounds stands on that end's line.
    const onEnd = (y: number): boolean =>
      ends.some((side) => top.ends[side].degrees !== 90 && Math.abs(x - wanted[side](y)) < 2 * CLOSE);
    const byRear = onEnd(at.rear);
    const byFront = onEnd(at.front);
    const nearEnd = (['right', 'left'] as const).some(
      (side) => live(side) && Math.abs(x - (side === 'right' ? wanted.from : wanted.to)) <= top.ends[side].short,
    );
    if (top.back === 'straight' && !byRear && !nearEnd) worst('back', at.rear - wanted.rear);
    if (top.front === 'straight' && !byFront && !nearEnd) worst('front', at.front);
    if (top.front === 'live' && !byFront && !nearEnd) inFront = Math.max(inFront, at.front);
    if (top.back === 'live' && !byRear && !nearEnd) inBack = Math.min(inBack, at.rear);
    if (byFront || byRear || nearEnd) {
      const reach = wanted.rear - at.front;
      if (top.front === 'live' && !byFront && !nearEnd) {
        const deep = reach - top.scribe.back - top.wallBow;
        [narrow, wide] = [Math.min(narrow, deep), Math.max(wide, deep)];
      }
      continue;
    }
    const deep = at.rear - at.front - (top.back === 'straight' ? top.scribe.back + top.wallBow : 0);
    [narrow, wide] = [Math.min(narrow, deep), Math.max(wide, deep)];
  }
  for (const p of strips.flatMap(({ inTop }) => inTop as readonly Point<'top'>[])) {
    for (const side of ['right', 'left'] as const) {
      const over = side === 'right' ? wanted.right(p[1]) - p[0] : p[0] - wanted.left(p[1]);
      if (over > CLOSE) worst(side, over);
    }
  }
  for (const side of ['right', 'left'] as const) {
    const short = shortOf(side, laid, wanted, inFront, inBack);
    if (short > (live(side) ? top.ends[side].short : 0) + CLOSE) worst(side, short);
  }
  for (const [side, by] of Object.entries(off))
    if (by > CLOSE)
      say(side === 'right' || side === 'left' ? 'end' : 'depth', `Its ${side} edge is off by ${said(job, by)}.`);
  if (gap > CLOSE) say('depth', `Wood is missing between its front and its back, over ${said(job, gap)}.`);
  if (narrow < least - CLOSE)
    say('depth', `It is ${said(job, narrow)} deep at its narrowest; ${said(job, least)} is the least.`);
  if (wide > most + CLOSE) say('depth', `It is ${said(job, wide)} deep at its widest; ${said(job, most)} is the most.`);
  return faults;
}

/** How far the wood stays from an end's line where it stays farthest, over the depth that every part of the top has. */
function shortOf(side: 'right' | 'left', { strips }: LaidTop, wanted: Wanted, from: number, to: number): number {
  const ring = union(strips.map(({ inTop }) => solid(inTop)))[0]?.outer ?? [];
  const turned = ring.map(([x, y]): Point<'top'> => [y, x]);
  const edges = new Edges([turned]);
  const levels = [...turned.flatMap(([y]) => [y - BESIDE, y + BESIDE]), from + STEP, to - STEP];
  return levels
    .filter((y) => y > from + CLOSE && y < to - CLOSE)
    .reduce((most, y) => {
      const xs = edges.crossings(y);
      const x = side === 'right' ? xs[0] : xs.at(-1);
      if (x === undefined) return most;
      return Math.max(most, side === 'right' ? x - wanted.right(y) : wanted.left(y) - x);
    }, 0);
}

/** How far each live edge swings within a stretch, looked at every millimetre and at every corner. */
function checkSwing({ job, top, strips, where }: LaidTop): Fault[] {
  const { faults, say } = findings(where);
  if (top.swing === null) return faults;
  for (const side of ['front', 'back'] as const) {
    if (top[side] !== 'live') continue;
    const strip = side === 'front' ? strips[0] : strips.at(-1);
    if (!strip) continue;
    const { minX, maxX } = bounds(strip.inTop);
    const edges = new Edges([strip.inTop]);
    const even = Array.from({ length: Math.floor((maxX - minX) / STEP) }, (_, i) => minX + BESIDE + i * STEP);
    const line = [...even, ...stations([strip])]
      .sort((a, b) => a - b)
      .flatMap((x): Point<'top'>[] => {
        const ys = edges.crossings(x);
        const y = side === 'front' ? ys[0] : ys.at(-1);
        return y === undefined ? [] : [[x, y]];
      });
    let most = 0;
    for (let i = 0; i < line.length; i++) {
      const [x, y] = line[i] as Point<'top'>;
      for (let j = i + 1; j < line.length; j++) {
        const [u, w] = line[j] as Point<'top'>;
        if (u - x > WITHIN) break;
        most = Math.max(most, Math.abs(w - y));
      }
    }
    if (most > top.swing + CLOSE)
      say(
        'swing',
        `Its live ${side} swings by ${said(job, most)} within ${said(job, WITHIN)}; ${said(job, top.swing)} are allowed.`,
      );
  }
  return faults;
}

const edgesOf = (ring: Polygon<'top'>): Segment<'top'>[] =>
  ring.map((p, i) => [p, ring[(i + 1) % ring.length] as Point<'top'>]);

/** How far inside a ring a straight line runs at its deepest, mm, looked at every millimetre. */
function runsInside([a, b]: Segment<'top'>, ring: Polygon<'top'>): number {
  const count = Math.max(1, Math.ceil(distance(a, b) / STEP));
  let most = 0;
  for (let i = 0; i <= count; i++) {
    const p: Point<'top'> = [a[0] + ((b[0] - a[0]) * i) / count, a[1] + ((b[1] - a[1]) * i) / count];
    if (contains(ring, p)) most = Math.max(most, Math.min(...edgesOf(ring).map((edge) => distanceToSegment(p, edge))));
  }
  return most;
}

/** Seams where none may run, and holes too near to an edge. */
function checkZones({ job, top, strips, where }: LaidTop): Fault[] {
  const { faults, say } = findings(where);
  const zones = [
    ...Object.values(top.noSeam).map((zone) => ({ ...zone, name: `the zone "${zone.id}"` })),
    ...Object.values(top.cutOuts).filter(({ seam }) => !seam),
  ];
  for (const { strip, toTop } of strips) {
    if (!strip.jointBack) continue;
    const [a, b, c, d, e, f] = toTop.m;
    const [p, q] = strip.jointBack.map(([x, y]): Point<'top'> => [a * x + c * y + e, b * x + d * y + f]);
    for (const { polygon, name } of zones)
      if (p && q && runsInside([p, q], polygon) > CLOSE) say('zone', `A seam runs through ${name}, where none may.`);
  }
  const wood = union(strips.map(({ inTop }) => solid(inTop)));
  for (const { name, polygon, keep } of Object.values(top.cutOuts)) {
    const out = beyondRounding(difference([solid(polygon)], wood));
    const near = Math.min(
      ...wood.flatMap(({ outer }) =>
        edgesOf(outer).flatMap(([s, t]) => [
          ...edgesOf(polygon).map((edge) => distanceToSegment(s, edge)),
          ...polygon.map((corner) => distanceToSegment(corner, [s, t])),
        ]),
      ),
    );
    if (out.length > 0) say('cut-out', `The hole "${name}" reaches beyond the top.`);
    else if (near < keep - CLOSE)
      say(
        'cut-out',
        `Beside the hole "${name}" ${said(job, near)} of wood are left; ${said(job, keep)} are to be kept.`,
      );
  }
  return faults;
}

/** A back that is to be live is the wood's own edge. */
function checkLive({ top, strips, where }: LaidTop): Fault[] {
  const { faults, say } = findings(where);
  const last = strips.at(-1);
  if (top.back !== 'live' || top.shape || !last) return faults;
  const { minX, maxX } = bounds(last.inTop);
  const outline = new Edges([last.face.outline.outer, ...last.face.outline.holes]);
  const piece = new Edges([last.inTop]);
  const [a, b, , , e, f] = last.toTop.m;
  const own = stations([last])
    .filter((x) => x > minX + STEP && x < maxX - STEP)
    .every((x) => {
      const y = piece.crossings(x).at(-1);
      if (y === undefined) return true;
      const [u, v] = [x - e, y - f];
      const at: Point<'face'> = [a * u + b * v, a * v - b * u];
      return outline.within([at, at], 1) < 2 * CLOSE;
    });
  if (!own) say('live edge', 'Its back is to be the live edge of the slab, and is sawn.');
  return faults;
}

/** The way of the grain, taken along its slab, against what is wanted. */
function checkGrain({ job, top, strips, where }: LaidTop): Fault[] {
  const { faults, say } = findings(where);
  const wish = top.grain ?? { degrees: 0, tolerance: job.shop.seam.angle };
  if (top.grain === null) return faults;
  for (const { strip } of strips) {
    const along = Math.atan2(strip.toTop[1], strip.toTop[0]) / DEGREE;
    const off = ((((along - wish.degrees) % 180) + 270) % 180) - 90;
    if (Math.abs(off) > wish.tolerance + CLOSE_ANGLE)
      say('grain', `Its grain runs ${Math.abs(off).toFixed(1)}° off the way wanted; ${wish.tolerance}° are allowed.`);
  }
  return faults;
}

/** What stairs let through. */
function checkCarry({ job, top, strips, where }: LaidTop): Fault[] {
  const { faults, say } = findings(where);
  const { stairs } = job.shop;
  if (!stairs || strips.length === 0) return faults;
  const { minX, maxX, minY, maxY } = bounds(strips.flatMap(({ inTop }) => inTop));
  const [long, wide] = [maxX - minX, maxY - minY].sort((a, b) => b - a) as [number, number];
  if (long > stairs.length + CLOSE || wide > stairs.width + CLOSE)
    say(
      'stairs',
      `${top.name} is ${said(job, long)} by ${said(job, wide)}; the way in lets ${said(job, stairs.length)} by ${said(job, stairs.width)} through.`,
    );
  return faults;
}

/** @returns faults of `shape`, `end`, `depth`, `swing`, `zone`, `cut-out`, `grain` and `stairs` */
export function checkWants(laid: LaidTop): Fault[] {
  if (laid.strips.length !== laid.placement.strips.length) return [];
  const size = laid.top.shape ? checkShape(laid) : isRectangle(laid.top) ? [] : checkOutline(laid);
  return [
    ...size,
    ...checkSwing(laid),
    ...checkZones(laid),
    ...checkLive(laid),
    ...checkGrain(laid),
    ...checkCarry(laid),
    ...checkBevel(laid),
  ];
}
