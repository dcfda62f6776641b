import { bounds, offset, type Point, type Polygon, ringArea } from '../geometry';
import type { Calibration, Scale } from '../job';
import { maskOf, type Raster } from '../raster';
import { type Control, pause, stage, unwatched } from '../search';
import { InputProblem } from '../units';
import type { Cv } from './cv';
import { laidOf } from './laid';
import { middleOf, numbered, orderSaid, usualOrder } from './leaf-order';
import { findLeaves } from './leaf-pieces';
import type { LeafRead, LeavesRead, ReadLeavesOptions } from './leaf-types';
import { onFace, type Pose } from './marks';
import { type Measure, measure } from './measure';
import { medianSigma } from './outline-doubt';
import { type PaperLight, paperLight, relit } from './paper-light';
import { checkPhotoShape } from './photo-file';
import { crop, gridOf } from './pictures';
import { AROUND, COARSEST, cutOffSides, detailOf, FINEST, frameOf, WHOLE_PX } from './read-face';
import { rectify, visible } from './rectify';
import { grown, type Mask } from './segment';
import { sightedIn } from './sighted';
import { reframedCalibration } from './stitch-frame';
import { traceWood } from './trace';
import type { TraceOptions } from './trace-types';
import { axisOf } from './turned';
import { calibrationAt } from './working-copy';

/** So much around a leaf's rough rim is looked at for its edge, mm. */
const ABOUT = 90;
/** A leaf's edge lies this near to where it was found among the others, mm; another leaf is looked into so far, which may touch it. */
const NEAR = 6;
const ACROSS = 4;
/** A leaf so much wider than the middle one of them may be two that touch or overlap, one so much narrower may lie under another. */
const WIDER = 1.3;
const NARROWER = 0.75;
/** One leaf alone that is no longer than this against its width may be several that touch. */
const SQUAT = 2;
/** What reaches so many sides of the picture is no leaf. */
const ALL_ROUND = 3;

/** What all leaves of the picture are read by. */
interface Ground {
  readonly cv: Cv;
  readonly photo: Raster;
  readonly calibration: Calibration;
  readonly options: ReadLeavesOptions;
  readonly hints: TraceOptions;
  readonly light: PaperLight | null;
  readonly mmPerPx: number;
}

/**
 * Measures and traces every leaf that a picture shows, by the reference in it: marks on the bench beside them (`drop` is then a leaf's thickness)
 * or on them. Each is given its own frame, and a number; sawing order is what the maker laid them in, so what was numbered how is told.
 * @throws InputProblem when the reference or the wood is not found; Cancelled when called off
 */
export async function readLeaves(
  cv: Cv,
  photo: Raster,
  scale: Scale,
  options: ReadLeavesOptions = {},
): Promise<LeavesRead> {
  const control: Control = { ...unwatched(), ...options.control };
  checkPhotoShape(options.full ?? photo, '');
  await pause(control, 0, 'Finding the reference');
  const sighted = sightedIn(cv, photo, scale, options);
  const calibration = sighted.calibrated();
  const view = measure(calibration);
  await pause(control, 0.15, 'Looking at the leaves from above');
  const seen = visible(view, calibration.width, calibration.height);
  const longer = Math.max(seen.maxX - seen.minX, seen.maxY - seen.minY);
  const mmPerPx = Math.min(COARSEST, Math.max(FINEST, detailOf(measure(calibrationAt(calibration, photo)), photo)));
  const coarse = Math.max(mmPerPx, longer / WHOLE_PX);
  const whole = rectify(cv, photo, calibration, { mmPerPx: coarse, bounds: seen, alpha: true });
  const laid = laidOf(sighted, calibration);
  const cards = scale.kind === 'markers' || scale.kind === 'paper' ? laid.map(({ polygon }) => polygon) : [];
  const hints: TraceOptions = {
    laid,
    points: scale.kind === 'points' ? scale.points.map(({ mm }) => mm) : [],
    strokes: (options.strokes ?? []).map(({ line, kind }) => ({
      kind,
      line: line.map((px) => view.place(px)).filter((at) => at !== null),
    })),
    sigma: () => medianSigma(calibration),
  };
  await pause(control, 0.2, 'Telling the leaves from what they lie on');
  const found = findLeaves(cv, whole, hints);
  if (found.length === 0) throw noLeaf();
  const inPhoto = (ring: Polygon<'face'>): Polygon<'photo'> => ring.map((p) => view.toPhoto(p));
  const places = found.map(inPhoto);
  const order = options.order ?? usualOrder(places);
  const sequence = numbered(places, order);
  options.found?.(sequence.map((i) => places[i] as Polygon<'photo'>));
  const rings = sequence.map((i) => found[i] as Polygon<'face'>);
  const along = sharedAxis(rings, view);
  const ground: Ground = {
    cv,
    photo,
    calibration,
    options,
    hints,
    light: paperLight(whole, cards),
    mmPerPx: options.resolution ?? mmPerPx,
  };
  const leaves: LeafRead[] = [];
  for (const [i, ring] of rings.entries()) {
    const part = stage(control, 0.3 + (0.7 * i) / rings.length, 0.3 + (0.7 * (i + 1)) / rings.length);
    await pause(part, 0, `Tracing leaf ${i + 1} of ${rings.length}`);
    const others = rings.filter((other) => other !== ring);
    leaves.push(await leafOf(ground, { ring, others, along, place: i + 1 }, part));
  }
  return { leaves, order, numbered: orderSaid(leaves.length, order), doubts: doubtsOf(leaves) };
}

/** One of the pieces that were found, the others, and which way leaves lie. */
interface Wanted {
  readonly ring: Polygon<'face'>;
  readonly others: readonly Polygon<'face'>[];
  /** Direction of the leaves' length, radians from +x. */
  readonly along: number;
  readonly place: number;
}

async function leafOf(ground: Ground, { ring, others, along, place }: Wanted, control: Control): Promise<LeafRead> {
  const { cv, photo, hints, mmPerPx } = ground;
  const frame = frameOfLeaf(ring, along);
  const moved = (p: Point<'face'>): Point<'face'> => onFace(frame, p);
  const ringHere = ring.map(moved);
  const calibration = reframedCalibration(ground.calibration, frame);
  const view = measure(calibration);
  const picture = rectify(cv, photo, calibration, { mmPerPx, bounds: grown(bounds(ringHere), ABOUT), alpha: true });
  const beside = offset(
    others.map((other) => ({ outer: other.map(moved), holes: [] })),
    -ACROSS,
  );
  const options: TraceOptions = {
    laid: [
      ...(hints.laid ?? []).map(({ polygon, onWood }) => ({ polygon: polygon.map(moved), onWood })),
      ...beside.map(({ outer }) => ({ polygon: outer, onWood: false })),
    ],
    near: NEAR,
    strokes: (hints.strokes ?? []).map(({ kind, line }) => ({ kind, line: line.map(moved) })),
    ...(hints.sigma && { sigma: hints.sigma }),
    frame: frameOf(view, calibration),
    control,
  };
  const grid = gridOf(picture);
  const wood: Mask = { ...grid, data: maskOf(grid, [{ outer: ringHere, holes: [] }]) };
  const found = await traceWood(cv, picture, { wood, others: [] }, options);
  const traced = { ...found, cutOff: cutOffSides(found.outline, view, calibration) };
  const box = bounds(offset([{ ...traced.outline, holes: [] }], AROUND).flatMap(({ outer }) => outer));
  const shot = crop(picture, box);
  const seen = traced.outline.outer.map((p) => view.toPhoto(p));
  return {
    place,
    calibration,
    traced,
    picture: ground.light ? relit(shot, lightIn(ground.light, frame)) : shot,
    ring: seen,
    at: middleOf(seen),
  };
}

/**
 * Which way the leaves lie, radians: the mean of their long axes, weighted by area and by how much longer than wide they are, since a square
 * piece has none. It points to the right of the picture, or up in it where they stand upright, so that y then runs from left to right.
 */
function sharedAxis(rings: readonly Polygon<'face'>[], view: Measure): number {
  let [c, s] = [0, 0];
  for (const ring of rings) {
    const angle = axisOf(ring);
    const box = bounds(ring.map((p) => turnedBy(p, -angle)));
    const weight = ringArea(ring) * Math.log((box.maxX - box.minX) / Math.max(1, box.maxY - box.minY));
    c += weight * Math.cos(2 * angle);
    s += weight * Math.sin(2 * angle);
  }
  const along = Math.atan2(s, c) / 2;
  const middle = (rings[0] as Polygon<'face'>)[0] as Point<'face'>;
  const [u, v] = view.toPhoto(middle);
  const [p, q] = view.toPhoto([middle[0] + Math.cos(along), middle[1] + Math.sin(along)]);
  const forward = Math.abs(p - u) >= Math.abs(q - v) ? p > u : q < v;
  return forward ? along : along + Math.PI;
}

const turnedBy = ([x, y]: Point<'face'>, radians: number): Point<'face'> => {
  const [c, s] = [Math.cos(radians), Math.sin(radians)];
  return [c * x - s * y, s * x + c * y];
};

/** A piece whose length runs farther from the others' than this, radians, has it across them: nearly square ones are read as they lie. */
const MOST_TURN = Math.PI / 4;

/** The leaf's own frame as the pose in which it sees the picture's: x along it, the way the leaves lie, its box beginning at the origin. */
function frameOfLeaf(ring: Polygon<'face'>, along: number): Pose {
  const off = (((axisOf(ring) - along + Math.PI / 2) % Math.PI) + Math.PI) % Math.PI;
  const turn = off - Math.PI / 2;
  const angle = Math.abs(turn) <= MOST_TURN ? along + turn : along;
  const box = bounds(ring.map((p) => turnedBy(p, -angle)));
  return { at: [-box.minX, -box.minY], radians: -angle };
}

/** The light over the picture, told in a leaf's frame. */
function lightIn({ at, channels }: PaperLight, frame: Pose): PaperLight {
  return {
    at: onFace(frame, at),
    channels: channels.map(([base, perX, perY]) => {
      const [x, y] = turnedBy([perX, perY], frame.radians);
      return [base, x, y];
    }),
  };
}

/** What speaks against the picture. */
function doubtsOf(leaves: readonly LeafRead[]): string[] {
  const boxes = leaves.map(({ traced }) => {
    const { minX, maxX, minY, maxY } = bounds(traced.outline.outer);
    return { length: maxX - minX, width: maxY - minY };
  });
  const middle = [...boxes].sort((a, b) => a.width - b.width)[Math.floor((boxes.length - 1) / 2)]?.width ?? 0;
  return leaves.flatMap(({ place, traced: { cutOff } }, i) => {
    const { length, width } = boxes[i] as (typeof boxes)[number];
    const [own, usual] = [Math.round(width), Math.round(middle)];
    const wide = `Leaf ${place} is ${own} mm wide, the others about ${usual}`;
    return [
      ...(cutOff.length >= ALL_ROUND
        ? [
            `Leaf ${place} reaches ${cutOff.length} sides of the picture and may be what the leaves lie on: lay them on something of another colour and take it again.`,
          ]
        : cutOff.length > 0
          ? [
              `Leaf ${place} runs out of the picture (${cutOff.join(' and ')}): take it again with the whole leaf in it.`,
            ]
          : []),
      ...(leaves.length > 1 && width > WIDER * middle
        ? [`${wide}: if two leaves touch or overlap there, ${APART}`]
        : leaves.length === 1 && length < SQUAT * width
          ? [
              `The one leaf found is ${Math.round(length)} mm long and ${own} mm wide: if several leaves touch there, ${APART}`,
            ]
          : []),
      ...(width < NARROWER * middle ? [`${wide}: if part of it lies under another leaf, ${APART}`] : []),
    ];
  });
}

const APART = "lay them apart by a finger's width and take the picture again.";

const noLeaf = (): InputProblem =>
  new InputProblem(
    'No leaf was found in this photo.',
    '',
    'Lay the leaves apart on something of another colour, the marks around or between them, and take the photo again with all of them in it.',
  );
