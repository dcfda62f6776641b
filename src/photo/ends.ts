import { distanceToRing, type Point, type Polygon } from '../geometry';
import type { FacePicture } from '../raster';
import { type Axis, extent, fitLine, place, type Straight, steps } from './axis';
import { edgeCost, type Station, sampleBand, shortestPath, stepAcross } from './band';
import { clearness, likeness } from './likeness';
import type { Mask } from './segment';
import { settle } from './settle';

/** The two crosscut ends of a slab: straight but for what a saw wanders, or where the photo's frame cuts the slab off. */

/** Stations of an end, mm apart. */
const STEP = 1;
/** How far an end may lie from the rough wood's, mm. */
const END_REACH = 35;
/** Colours of wood and floor are learnt from so much beyond that, mm. */
const ROOM = 90;
/** Width over which wood and what is beyond it are compared, mm. */
const REACH = 6;
/** How much a change of colour by itself counts beside one from what the wood is like to what the floor is like. */
const ALONE = 0.3;
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
  frame: Polygon<'face'> = [],
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
  const band = sampleBand(picture, hides, stations, -END_REACH - ROOM, END_REACH + ROOM, STEP);
  // Beyond an end lies no bark: all that differs from the wood is floor, its joints and shadows included.
  const middle = stations.map(() => (END_REACH + ROOM) / STEP);
  const like = likeness(band, middle, [-ROOM, -END_REACH], [END_REACH, ROOM]);
  const learnt = like ? clearness(stepAcross(band, like, REACH)) : null;
  const alone = edgeCost(band, 'either', 4);
  const cost = alone.map((v, i) => {
    if (Math.abs(band.from + (i % band.columns) * STEP) > END_REACH) return 0;
    const raw = Math.max(v, -1);
    return learnt ? ALONE * raw - (learnt[i] as number) : raw;
  });
  const path = shortestPath(cost, band.columns, { most: 1, bend: STIFF });
  const found = fitLine(
    ts.map((t, i) => [t, rough.at + rough.slope * t + sign * (band.from + (path[i] as number) * band.step)]),
  );
  return { ...found, cut: false };
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
