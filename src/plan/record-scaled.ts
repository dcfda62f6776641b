import {
  type Affine,
  apply,
  applyAll,
  type Bounds,
  bounds,
  compose,
  crossingsAtX,
  distanceToRing,
  intersection,
  invert,
  largestRing,
  type Point,
  type Polygon,
  type Region,
  rectangle,
  ringArea,
  union,
} from '../geometry';
import type { Face, FaceName, Job, Placement, Strip } from '../job';
import { stripMap, wasteNow } from '../layout';
import { scaledCalibration, scaledReference } from '../photo';
import { moveFace, moveMarks } from './record-remeasure';

/** A face of the job. */
export interface FacePlace {
  readonly flitch: string;
  readonly slab: string;
  readonly face: FaceName;
}

/** A vertex this near to the outline lies on it, mm. */
const ON_EDGE = 0.6;
/** A live edge moves no farther than this with a scale that was off, mm. */
const MOST_MOVE = 60;
const DEPTHS = 40;

/**
 * Writes into the job (a draft, changed in place) that a face is `times` as large as its photo said: the photo's measure and its reference, all that was
 * traced, drawn or marked on it, and every plan's strips on it. Strips keep their sizes, which are true millimetres, and the saw's room between them, and
 * stay on their wood by the middle of all of them; where one follows a live edge it follows it still. Each plan's waste is counted anew; how its seams
 * look nobody knows without looking again, so they say that it is of before. Locks and keys are left. A place that the job does not have is left alone.
 * @param sigma one standard deviation of `times`
 */
export function recordScaled(draft: Job, place: FacePlace, times: number, sigma: number): void {
  const slab = draft.flitches[place.flitch]?.slabs[place.slab];
  const face = slab?.faces[place.face];
  if (!slab || !face) return;
  const move = ([x, y]: Point<'face'>): Point<'face'> => [times * x, times * y];
  const before = face.outline?.outer.map(([x, y]): Point<'face'> => [x, y]) ?? [];
  moveFace(face, move);
  moveMarks(slab, place.face, move);
  if (slab.tie && place.face === 'bottom')
    slab.tie.bottom = slab.tie.bottom.map(([x, y]) => [times * x, times * y]) as unknown as typeof slab.tie.bottom;
  if (place.face === 'top') for (const spot of Object.values(slab.spots)) spot.at = move(spot.at);
  scalePhotos(face, times, sigma);
  const after = face.outline?.outer ?? [];
  const own = ({ flitch, slab: id, face: side }: Strip): boolean =>
    flitch === place.flitch && id === place.slab && side === place.face;
  for (const plan of Object.values(draft.plans)) {
    const placements = Object.values(plan.placements);
    const on = placements.flatMap(({ strips }) => strips.filter(own));
    if (on.length === 0) continue;
    const { minX, minY, maxX, maxY } = bounds(on.flatMap(({ finished }) => finished));
    const middle: Point<'face'> = [(minX + maxX) / 2, (minY + maxY) / 2];
    const step: readonly [number, number] = [move(middle)[0] - middle[0], move(middle)[1] - middle[1]];
    for (const placement of placements) {
      if (!placement.strips.some(own)) continue;
      moveStrips(placement, own, before, after, step, draft.shop);
      placement.joints.forEach((joint, i) => {
        if (placement.strips.slice(i, i + 2).some(own)) joint.before = true;
      });
    }
    plan.waste = wasteNow(draft, plan);
  }
}

function scalePhotos(face: Face, times: number, sigma: number): void {
  for (const photo of Object.values(face.photos)) {
    if (photo.calibration) photo.calibration = scaledCalibration(photo.calibration, times, sigma);
    photo.scale = scaledReference(photo.scale, times);
  }
  if (!face.picture) return;
  face.picture.mmPerPx *= times;
  face.picture.x0 *= times;
  face.picture.y0 *= times;
}

function moveStrips(
  placement: Placement,
  own: (strip: Strip) => boolean,
  before: Polygon<'face'>,
  after: Polygon<'face'>,
  [dx, dy]: readonly [number, number],
  shop: Job['shop'],
): void {
  const [wasLeast, wasMost] = depthOf(placement);
  for (const strip of placement.strips.filter(own)) {
    const shifted = ([x, y]: Point<'face'>): Point<'face'> => [x + dx, y + dy];
    const toTop = stripMap(strip);
    const moved: Affine<'face', 'top'> = compose(toTop, { m: [1, 0, 0, 1, -dx, -dy] });
    const edge = applyAll(moved, after);
    const ring = (points: Polygon<'face'>): Point<'face'>[] =>
      points.map((p) => {
        const there = shifted(p);
        if (before.length === 0 || distanceToRing(p, before) > ON_EDGE) return there;
        return shiftedBy(there, onEdge(apply(moved, there), edge), moved.m);
      });
    const on = (points: Polygon<'face'>): Ring => applyAll(toTop, points);
    const boxed = allowed([on(before), on(strip.finished), on(strip.rough)], shop);
    strip.finished = ring(strip.finished);
    const piece = applyAll(moved, strip.finished);
    const wood = boxed ? roughIn(boxed(piece), edge) : null;
    // Where the wood is smaller than was thought, a piece may reach over it: its blank then does too, and the check says so.
    const rough = wood && largestRing(union([region(wood), region(piece)]));
    strip.rough = rough ? applyAll(invert(moved), rough) : ring(strip.rough);
    strip.jointFront = strip.jointFront && [shifted(strip.jointFront[0]), shifted(strip.jointFront[1])];
    strip.jointBack = strip.jointBack && [shifted(strip.jointBack[0]), shifted(strip.jointBack[1])];
    strip.toTop = [...moved.m] as Strip['toTop'];
  }
  const [isLeast, isMost] = depthOf(placement);
  const [least, most] = placement.depth;
  placement.depth = [Math.max(1, least + isLeast - wasLeast), Math.max(1, most + isMost - wasMost)];
}

type Ring = Polygon<'top'>;
type Box = (finished: Ring) => Bounds;
const FAR = 1e5;
/** A blank that follows from its piece by the allowances does so to this share of its area. */
const SAME_BLANK = 0.001;

/** The blank around a piece with the shop's allowances, where that is what the blank was: then more wood at an end is taken up, too. */
function allowed(
  [outline, finished, rough]: readonly [outline: Ring, finished: Ring, rough: Ring],
  { endAllowance, jointAllowance }: Job['shop'],
): Box | null {
  const [f, r] = [bounds(finished), bounds(rough)];
  const [front, back] = [f.minY - r.minY, r.maxY - f.maxY].map((room) =>
    room > jointAllowance - 0.1 ? jointAllowance : FAR,
  );
  const box: Box = (piece) => {
    const { minX, maxX, minY, maxY } = bounds(piece);
    return {
      minX: minX - endAllowance,
      maxX: maxX + endAllowance,
      minY: minY - (front as number),
      maxY: maxY + (back as number),
    };
  };
  const again = roughIn(box(finished), outline);
  return again && Math.abs(ringArea(again) - ringArea(rough)) < SAME_BLANK * ringArea(rough) ? box : null;
}

/** What of a box is wood. */
const roughIn = ({ minX, minY, maxX, maxY }: Bounds, outline: Ring): Ring | null =>
  largestRing(intersection([region(rectangle<'top'>(minX, minY, maxX, maxY))], [region(outline)]));

const region = (outer: Ring): Region<'top'> => ({ outer, holes: [] });

/** How far a point of the top lies from the wood's edge, straight across or, at a live end, straight along: the nearer. */
function onEdge([x, y]: Point<'top'>, edge: Polygon<'top'>): readonly [number, number] {
  const nearest = (places: readonly number[], at: number): number =>
    places.reduce((best, place) => (Math.abs(place - at) < Math.abs(best) ? place - at : best), Infinity);
  const across = nearest(crossingsAtX(edge, x), y);
  if (Math.abs(across) <= MOST_MOVE) return [0, across];
  const along = nearest(
    crossingsAtX(
      edge.map(([u, v]): Point<'top'> => [v, u]),
      y,
    ),
    x,
  );
  return Math.abs(along) <= MOST_MOVE ? [along, 0] : [0, 0];
}

/** A point of the face moved by a step of the top: strips are turned and shifted onto their top, so the turn goes back transposed. */
const shiftedBy = (
  [x, y]: Point<'face'>,
  [dx, dy]: readonly [number, number],
  [a, b, c, d]: readonly [number, number, number, number, number, number],
): Point<'face'> => [x + a * dx + b * dy, y + c * dx + d * dy];

/** Least and most depth of all strips together, in their top. */
function depthOf({ strips }: Placement): [number, number] {
  const rings = strips.map((strip) => applyAll<'face', 'top'>(stripMap(strip), strip.finished));
  const { minX, maxX } = bounds(rings.flat());
  const depths = Array.from({ length: DEPTHS }, (_, k) => {
    const x = minX + ((k + 0.5) * (maxX - minX)) / DEPTHS;
    const ys = rings.flatMap((ring) => crossingsAtX(ring, x));
    return Math.max(...ys) - Math.min(...ys);
  });
  return [Math.min(...depths), Math.max(...depths)];
}
