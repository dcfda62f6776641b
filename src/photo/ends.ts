import { distanceToRing, type Point } from '../geometry';
import type { FacePicture } from '../raster';
import { type Axis, extent, fitLine, place, type Straight, steps } from './axis';
import { type Band, edgeCost, type Station, sampleBand, stepAcross } from './band';
import { clearness, likeness } from './likeness';
import type { Mask } from './segment';
import { settle } from './settle';
import type { TraceOptions } from './trace-types';

/** The two crosscut ends of a slab: straight but for what a saw wanders, or where the photo's frame cuts the slab off. */

/** Stations of an end, mm apart. */
const STEP = 1;
/** How far an end may lie from the rough wood's, mm. */
const END_REACH = 35;
/** Colours of wood and floor are learnt from so much beyond that, mm. */
const ROOM = 90;
/** Width over which wood and what is beyond it are compared, mm. */
const REACH = 6;
/** Width over which a sharp edge is told, mm. */
const SHARP = 2;
/** How much a change from the wood's colours to the floor's counts beside a sharp edge. */
const LEARNT = 0.3;
/** What lies so far within an edge, mm, must be the wood's. */
const INSIDE = 10;
/** A cut is out of square with the rough end by no more than this, mm over the end. */
const SKEW = 40;
/** Rows of an end that are looked at for each line. */
const ROWS_LOOKED_AT = 100;
/** What a path pays for every column that it moves sideways along a saw cut. */
export const STIFF = 0.6;
/** Where the most of the rough end lies this near to the photo's frame, mm, the frame cut the slab off. */
const AT_FRAME = 20;
/** An end that was cut off is drawn so far out, mm, to be cut at the frame itself. */
const PAST_FRAME = 45;
/** The end is drawn so far past both sides, mm. */
const PAST_SIDES = 70;

export interface End extends Straight {
  /** Whether the photo's frame, not the saw, ends the wood here. */
  readonly cut: boolean;
}

/** The straight end on one side: a line through the rough wood's end, then where wood's colours change to the floor's near it. */
export function endOf(
  picture: FacePicture,
  hides: Uint8Array,
  mask: Mask,
  axis: Axis,
  sign: -1 | 1,
  { frame = [], near = END_REACH }: Pick<TraceOptions, 'frame' | 'near'> = {},
): End {
  const [low, high] = extent(mask, axis.middle, axis.across, axis.width) as [number, number];
  const ts = steps(low + 0.15 * (high - low), high - 0.15 * (high - low), STEP);
  const rough = fitLine(
    ts.flatMap((t): [number, number][] => {
      const limits = extent(mask, place(axis, 0, t), axis.along, axis.length);
      return limits ? [[t, sign < 0 ? limits[0] : limits[1]]] : [];
    }),
  );
  const stations: Station[] = ts.map((t) => ({
    at: place(axis, rough.at + rough.slope * t, t),
    normal: [sign * axis.along[0], sign * axis.along[1]],
  }));
  const atFrame = stations.filter(({ at }) => frame.length > 0 && distanceToRing(at, frame) < AT_FRAME);
  if (atFrame.length > stations.length / 2) return { ...rough, at: rough.at + sign * PAST_FRAME, cut: true };
  const band = sampleBand(picture, hides, stations, -near - ROOM, near + ROOM, STEP);
  // Beyond an end lies no bark: all that differs from the wood is floor, its joints and shadows included.
  const middle = stations.map(() => (near + ROOM) / STEP);
  const like = likeness(band, middle, [-ROOM, -near], [near, ROOM]);
  const learnt = like ? clearness(stepAcross(band, like, REACH)) : null;
  const { at, slope } = straightEdge(band, edgeCost(band, 'either', SHARP), like, learnt, near);
  // The band's rows run along the rough line, so what is found adds to it.
  const middleT = (ts[0] as number) + ((ts.length - 1) / 2) * STEP;
  return {
    at: rough.at + sign * (at - slope * middleT),
    slope: rough.slope + sign * slope,
    cut: false,
  };
}

/**
 * The straight line through a band, from row to row, at which colour changes most sharply while what lies within it is the wood's. A shadow
 * at the end of a slab has the wood's own colours but no sharp edge; a joint of the floor is sharp but has floor on both sides.
 * @returns mm outwards of the band's middle line at its middle row, and mm more a mm along
 */
function straightEdge(
  band: Band,
  change: Float32Array,
  like: Float32Array | null,
  learnt: Float32Array | null,
  near: number,
): Straight {
  const { columns, step, from } = band;
  const rows = change.length / columns;
  const within = like && runningMean(band, like, INSIDE);
  const worth = change.map((v, k) => {
    const sharp = Math.max(0, Math.min(1, -v));
    const wood = within ? Math.max(0, Math.min(1, 0.5 + (within[k] as number))) : 1;
    return sharp * wood + LEARNT * (learnt?.[k] ?? 0);
  });
  const reach = Math.round(near / step);
  const zero = Math.round(-from / step);
  const every = Math.max(1, Math.floor(rows / ROWS_LOOKED_AT));
  let best = { score: -1, first: 0, last: 0 };
  for (let first = -reach; first <= reach; first++) {
    for (let last = Math.max(-reach, first - SKEW); last <= Math.min(reach, first + SKEW); last++) {
      let score = 0;
      for (let row = 0; row < rows; row += every) {
        const column = zero + Math.round(first + ((last - first) * row) / (rows - 1));
        score += worth[row * columns + column] as number;
      }
      if (score > best.score) best = { score, first, last };
    }
  }
  return { at: ((best.first + best.last) / 2) * step, slope: (best.last - best.first) / (rows - 1) };
}

/** Mean of a value over so many columns before each, inwards. */
function runningMean({ columns }: Band, values: Float32Array, over: number): Float32Array {
  const out = new Float32Array(values.length);
  for (let row = 0; row < values.length; row += columns) {
    let sum = 0;
    for (let c = 0; c < columns; c++) {
      out[row + c] = sum / Math.max(1, Math.min(c, over));
      sum += (values[row + c] as number) - (c >= over ? (values[row + c - over] as number) : 0);
    }
  }
  return out;
}

/** A crosscut end to within what a saw that wanders leaves, drawn beyond both sides. */
export function endLine(
  picture: FacePicture,
  hides: Uint8Array,
  axis: Axis,
  { at, slope, cut }: End,
  sign: -1 | 1,
): Point<'face'>[] {
  const beyond = (t: number) => place(axis, at + slope * t, t);
  const far = [beyond(-2 * axis.length), beyond(2 * axis.length)] as const;
  if (cut) return [...far];
  const stations: Station[] = steps(-axis.width - PAST_SIDES, axis.width + PAST_SIDES, STEP).map((t) => ({
    at: beyond(t),
    normal: [sign * axis.along[0], sign * axis.along[1]],
  }));
  const { line } = settle(picture, hides, stations, 'either', STIFF);
  return [far[0], ...line, far[1]];
}
