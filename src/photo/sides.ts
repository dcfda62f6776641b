import { intersection, type Point, type Polygon, regionArea } from '../geometry';
import type { FacePicture } from '../raster';
import { type Axis, axisOf, extent, fitLine, place, type Straight, steps, within } from './axis';
import { edgeCost, type Kind, pointAt, sampleBand, shortestPath, stationsAlong, stepAcross } from './band';
import { endLine, endOf, STIFF } from './ends';
import { clearness, likeness } from './likeness';
import { leastAround, meanAround, medianAround, mostAround } from './running';
import type { Mask } from './segment';
import { type Settled, settle } from './settle';
import type { TraceOptions } from './trace-types';

/**
 * From the rough wood to its edge: two long sides that follow the wood's edge as light wood against dark bark, and two crosscut ends
 * that are straight. All along the slab's own axis.
 */

/** Stations of a side, mm apart. */
const STEP = 1;
/** Corners of the rough wood are rounded over this length by the opening, mm: the side is drawn on from beyond. */
const ROUNDED = 55;
/** How far the wood's edge may lie inside or outside the rough wood, mm: it often stops at the sapwood. */
const INWARD = 60;
const OUTWARD = 70;
/** Width over which wood and what is beyond it are compared, mm. */
const REACH = 6;
/** Half the length over which the rough side is smoothed, and over which the edge is that was found from it, stations. */
const SMOOTH = 30;
const AGAIN = 8;
/** Clearness over a whole side from which dark bark beyond light wood is believed; floors and shadows gave a third of that. */
const BELIEVED = 0.5;
/** A side with no bark is taken for sawn where all but this share lies this near to a straight line, mm. */
const SAWN = 0.3;
const STRAIGHT = 3;
/** What a path pays for every column that it moves sideways along a live edge. */
const SUPPLE = 0.1;
/** A bite: deeper than DEEP where it is deepest, its flanks drawn over from SHALLOW and FLANK stations to either side. mm */
const DEEP = 12;
const SHALLOW = 4;
const FLANK = 6;
/** A flank is steep that runs no further than this while it falls by a third of the bite, in depths of it. */
const STEEP = 0.7;
/** How far the edge may lie from the rough wood where there is no bark to go by, mm. */
const NEAR = 12;
/** Half the length of bites that are filled before the edge is sought, stations. */
const BITE = 100;
/** Steepest way in which a side is drawn on over a rounded corner. */
const STEEPEST = 1.5;
/** How far a side is drawn beyond the ends, mm, to be cut there. */
const BEYOND = 15;

/** A long side from end to end, the wood's edge on the left of its way (-1) or on the right (1). */
export interface Side {
  readonly line: readonly Point<'face'>[];
  readonly outward: -1 | 1;
  /** Whether light wood meets dark bark along it. */
  readonly barked: boolean;
}

export interface WoodEdge {
  readonly outline: Polygon<'face'>;
  readonly sides: readonly Side[];
  /** Share of the edge, 0..1, at which no clear change of colour was found. */
  readonly unsure: number;
}

/** The wood's edge from the rough wood. */
export function traceSides(
  picture: FacePicture,
  hides: Uint8Array,
  mask: Mask,
  known: Pick<TraceOptions, 'frame' | 'near'> = {},
): WoodEdge {
  const { frame, near } = known;
  const axis = axisOf(mask);
  const ends = [endOf(picture, hides, mask, axis, -1, known), endOf(picture, hides, mask, axis, 1, known)] as const;
  const [low, high] = [
    side(picture, hides, mask, axis, ends, -1, near),
    side(picture, hides, mask, axis, ends, 1, near),
  ];
  const [left, right] = [endLine(picture, hides, axis, ends[0], -1), endLine(picture, hides, axis, ends[1], 1)];
  const between = [{ outer: [...left, ...right.reverse()], holes: [] }];
  const pieces = intersection(
    [{ outer: [...low.line, ...high.line.toReversed()], holes: [] }],
    frame ? intersection(between, [{ outer: frame, holes: [] }]) : between,
  );
  const sides = [low, high].map(({ line, barked }, i) => ({
    line: line.filter((p) => within(axis, ends, p)),
    outward: i === 0 ? (-1 as const) : (1 as const),
    barked,
  }));
  const outline = pieces.sort((p, q) => regionArea(q) - regionArea(p))[0]?.outer ?? [];
  return { outline, sides, unsure: (low.unsure + high.unsure) / 2 };
}

/** A long side in the axis's frame: s along, t across. */
type Line = readonly { readonly s: number; readonly t: number }[];

/** One long side, drawn a little beyond both ends. */
function side(
  picture: FacePicture,
  hides: Uint8Array,
  mask: Mask,
  axis: Axis,
  ends: readonly [Straight, Straight],
  sign: -1 | 1,
  near?: number,
): Settled & { barked: boolean } {
  const outward = near ?? OUTWARD;
  const rough = drawnOn(smoothed(closed(roughSide(mask, axis, sign), sign), SMOOTH), ends);
  const far = follow(picture, hides, axis, rough, sign, 'dark', -INWARD, outward);
  const settled = (line: Line, kind: Kind, bend: number) => {
    const spots = line.map(({ s, t }) => place(axis, s, t));
    return { ...settle(picture, hides, stationsAlong(spots, sign), kind, bend), barked: kind === 'both' };
  };
  if (far.evidence < BELIEVED || goesOn(picture, hides, axis, far.line, rough, sign)) {
    const { line } = follow(picture, hides, axis, rough, sign, 'either', -NEAR, NEAR);
    const saw = fitLine(line.map(({ s, t }) => [s, t]));
    const straight = line.map(({ s }) => ({ s, t: saw.at + saw.slope * s }));
    const off = line.filter(({ t }, i) => Math.abs(t - (straight[i] as Line[number]).t) > STRAIGHT).length;
    return off < SAWN * line.length
      ? settled(straight, 'either', STIFF)
      : settled(smoothed(evenedOut(line, sign), 3), 'either', SUPPLE);
  }
  // Drawn on once more from the wood's own edge, which may flare where the heart does not.
  const again = drawnOn(smoothed(far.line, AGAIN), ends);
  const edge = follow(picture, hides, axis, again, sign, 'dark', -INWARD, outward).line;
  return settled(smoothed(evenedOut(edge, sign), 3), 'both', SUPPLE);
}

/** Beyond a crack the wood goes on: its colour (CIELAB) is no farther from that before it than this, where bark is dark. */
const SAME_WOOD = 12;
/** Looked at so far before the line, mm, and beyond it no nearer to it nor to the rough edge than the gap. */
const BEFORE = 16;
const GAP = 4;
/** A strip narrower than this, mm, or one beside less than this share of the line, tells nothing. */
const STRIP = 12;
const LONG_STRIP = 0.3;

/** Whether between a line and the rough edge there lies the same wood as before the line: it is a crack, or a dark ring. */
function goesOn(picture: FacePicture, hides: Uint8Array, axis: Axis, line: Line, rough: Line, sign: -1 | 1): boolean {
  const stations = stationsAlong(
    line.map(({ s, t }) => place(axis, s, t)),
    sign,
  );
  const { L, a, b, valid, columns } = sampleBand(picture, hides, stations, -BEFORE, INWARD + OUTWARD, STEP);
  const [before, beyond]: [number[], number[]] = [[], []];
  let beside = 0;
  line.forEach(({ t }, row) => {
    const wide = sign * ((rough[row] as Line[number]).t - t);
    if (wide < STRIP) return;
    beside++;
    const zero = row * columns + BEFORE / STEP;
    for (let d = GAP; d <= BEFORE; d++) if (valid[zero - d]) before.push(zero - d);
    for (let d = GAP; d <= wide - GAP; d++) if (valid[zero + d]) beyond.push(zero + d);
  });
  if (beside <= LONG_STRIP * line.length || before.length === 0 || beyond.length === 0) return false;
  // The middle value of each: a crack along the strip is part of neither.
  const middle = (of: readonly number[], plane: Float32Array) =>
    Float32Array.from(of, (i) => plane[i] as number).sort()[of.length >> 1] as number;
  return Math.hypot(...[L, a, b].map((plane) => middle(before, plane) - middle(beyond, plane))) < SAME_WOOD;
}

/** The edge drawn straight over what a thing laid over it makes of it: a bite where it is taken for floor, a bump where for wood. */
const evenedOut = (line: Line, sign: -1 | 1): Line => unbitten(unbitten(line, sign), sign === 1 ? -1 : 1);

/**
 * The edge drawn straight over bites that a foot or a tool over it makes: deep, short, and steep at both flanks as no live edge is. How steep
 * is told between two depths, so that a hollow of the edge itself around the bite does not matter.
 */
function unbitten(line: Line, sign: -1 | 1): Line {
  const whole = closed(line, sign);
  const depth = line.map(({ t }, i) => sign * ((whole[i] as Line[number]).t - t));
  const out = [...line];
  for (let i = 0; i < line.length; i++) {
    if ((depth[i] as number) <= SHALLOW) continue;
    let end = i;
    while (end < line.length && (depth[end] as number) > SHALLOW) end++;
    const stretch = depth.slice(i, end);
    const deepest = Math.max(...stretch);
    const beyond = (from: number, by: -1 | 1, share: number): number => {
      let k = from;
      while (k >= i && k < end && (depth[k] as number) > share * deepest) k += by;
      return k;
    };
    const middle = i + stretch.indexOf(deepest);
    const [inner, outer] = [0.6, 0.3].map((share) => [beyond(middle, -1, share), beyond(middle, 1, share)]) as [
      [number, number],
      [number, number],
    ];
    const steep = Math.max(inner[0] - outer[0], outer[1] - inner[1]) * STEP < STEEP * deepest;
    const [a, b] = [outer[0] - FLANK, outer[1] + FLANK];
    if (deepest > DEEP && steep && a >= 0 && b < line.length) {
      const [p, q] = [line[a], line[b]] as [Line[number], Line[number]];
      for (let k = a; k <= b; k++) {
        const share = (k - a) / (b - a);
        out[k] = { s: p.s + share * (q.s - p.s), t: p.t + share * (q.t - p.t) };
      }
    }
    i = end;
  }
  return out;
}

/** What a change of colour counts by itself, and what by the colours learnt. */
const ALONE = 0.5;
const LEARNT = 0.7;
/** Colours are learnt from so far within and beyond the line, mm; not from right beside it, where it may err. */
const WITHIN = [-45, -4] as const;
const BEYOND_IT = [4, 60] as const;

/**
 * The path of the clearest edge near a line, by its colours alone and then by what they taught, and how clear it is by itself, 0..1. What lies
 * over the edge for less than BITE stations then lies half within, half beyond what is learnt from.
 */
function follow(
  picture: FacePicture,
  hides: Uint8Array,
  axis: Axis,
  line: Line,
  sign: -1 | 1,
  kind: Kind,
  from: number,
  to: number,
): { line: Line; evidence: number } {
  const stations = stationsAlong(
    line.map(({ s, t }) => place(axis, s, t)),
    sign,
  );
  const looked = stations.filter((_, i) => i % EVERY === 0);
  const band = sampleBand(picture, hides, looked, from - ROOM, to + ROOM, STEP);
  const { columns } = band;
  const sought = Array.from(
    { length: columns },
    (_, c) => Math.abs(band.from + c * STEP - (from + to) / 2) <= (to - from) / 2,
  );
  const cost = edgeCost(band, kind, REACH).map((v, i) => (sought[i % columns] ? Math.max(v, -1) : 0));
  const first = medianAround(shortestPath(cost, columns, PATH), BITE / EVERY, columns);
  const like = likeness(band, first, WITHIN, BEYOND_IT);
  const learnt = like ? clearness(stepAcross(band, like, REACH)) : null;
  const taught = learnt
    ? cost.map((v, i) => (sought[i % columns] ? ALONE * v - LEARNT * (learnt[i] as number) : 0))
    : cost;
  const path = shortestPath(taught, columns, PATH);
  const found = stations.map((station, i) => {
    const [row, share] = [Math.floor(i / EVERY), (i % EVERY) / EVERY];
    const column = (path[row] as number) * (1 - share) + (path[row + 1] ?? (path[row] as number)) * share;
    const [x, y] = pointAt(band, station, column);
    const [dx, dy] = [x - axis.middle[0], y - axis.middle[1]];
    return { s: dx * axis.along[0] + dy * axis.along[1], t: dx * axis.across[0] + dy * axis.across[1] };
  });
  return {
    line: found,
    evidence: -path.reduce((sum, c, i) => sum + (cost[i * columns + c] as number), 0) / path.length,
  };
}

/** The edge is followed over every so many stations: it is found anew at each of them once it is known to a few mm. */
const EVERY = 2;
const PATH = { most: 2 * EVERY, bend: 0.15 / EVERY };
/** So much more on either side of where the edge is sought, to learn colours from, mm. */
const ROOM = 30;

/** Outermost place of the rough wood for every mm between the ends. */
function roughSide(mask: Mask, axis: Axis, sign: -1 | 1): Line {
  return steps(-axis.length, axis.length, STEP).flatMap((s) => {
    const limits = extent(mask, place(axis, s, 0), axis.across, axis.width);
    if (!limits) return [];
    return [{ s, t: sign < 0 ? limits[0] : limits[1] }];
  });
}

/** Bites up to twice BITE long filled: the least of the greatest within that length (a closing along the side). */
function closed(line: Line, sign: -1 | 1): Line {
  const out = leastAround(
    mostAround(
      line.map(({ t }) => sign * t),
      BITE,
    ),
    BITE,
  );
  return line.map(({ s }, i) => ({ s, t: sign * (out[i] as number) }));
}

/** Mean over `half` stations either way. */
function smoothed(line: Line, half: number): Line {
  const [s, t] = (['s', 't'] as const).map((key) =>
    meanAround(
      line.map((p) => p[key]),
      half,
    ),
  ) as [Float64Array, Float64Array];
  return line.map((_, i) => ({ s: s[i] as number, t: t[i] as number }));
}

/** The line without what lies near or beyond the ends, drawn straight on over both. */
function drawnOn(line: Line, [left, right]: readonly [Straight, Straight]): Line {
  const rounded = Math.min(ROUNDED, (right.at - left.at) / 4);
  const kept = line.filter(
    ({ s, t }) => s > left.at + left.slope * t + rounded && s < right.at + right.slope * t - rounded,
  );
  if (kept.length === 0) return line;
  const onwards = (part: Line, by: -1 | 1): Line => {
    const fit = fitLine(part.map(({ s, t }) => [s, t]));
    const slope = Math.max(-STEEPEST, Math.min(STEEPEST, fit.slope));
    const from = (by < 0 ? part[0] : part.at(-1)) as Line[number];
    return steps(by * STEP, by * (ROUNDED + BEYOND), STEP).map((d) => ({ s: from.s + d, t: from.t + slope * d }));
  };
  return [...onwards(kept.slice(0, ROUNDED), -1).slice().reverse(), ...kept, ...onwards(kept.slice(-ROUNDED), 1)];
}
