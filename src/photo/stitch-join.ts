import { type Bounds, centroid, contains, largestRegion, type Point, type Polygon, union } from '../geometry';
import type { Calibration } from '../job';
import type { FacePicture } from '../raster';
import { type Control, pause, stage } from '../search';
import { InputProblem } from '../units';
import type { Cv } from './cv';
import { laidOf } from './laid';
import { type Measure, measure } from './measure';
import { frameOf } from './read-face';
import type { Mask } from './segment';
import type { Cut } from './stitch-cut';
import { reframedCalibration } from './stitch-frame';
import { type Ground, groundOf } from './stitch-ground';
import { bothTones, type Tone } from './stitch-light';
import { faceFrame } from './stitch-orient';
import { LIKE, type Pair, pairOf, type Seam, seamOf } from './stitch-pair';
import { type Layer, shareOf, stitched } from './stitch-picture';
import { check, tooLittle, untied } from './stitch-refusal';
import { rowOf } from './stitch-row';
import { markerOf, type Sighting } from './stitch-sightings';
import { type TieWay, tie, tieWays } from './stitch-tie';
import type { Join, MeasuredShot } from './stitch-types';
import type { Laid, TraceOptions } from './trace-types';

/** Photos of a face joined: where each looks, and how their pictures become one. */
export interface JoinedFace {
  /** In the order of the shots. */
  readonly calibrations: readonly Calibration[];
  readonly joins: readonly Join[];
  /** As they follow each other along the face, with the cuts between them; `order` says which shot each is. */
  readonly layers: readonly Layer[];
  readonly order: readonly number[];
  readonly cuts: readonly Cut[];
  /** The whole face, in little detail. */
  readonly whole: FacePicture;
}

/** Spots of the wood that tie two photos, along and across the overlap. */
const TIES = [5, 4] as const;
/** The wood's figure is laid on itself to this, mm, where it shows well. */
const LAID = 0.3;
/** A shift fades away over so much beyond the overlap, mm: it is half a millimetre or two, and bends no line that one could see. */
const FADE = 500;

/** @throws InputProblem when the photos cannot be joined */
export async function joined(cv: Cv, shots: readonly MeasuredShot[], control: Control): Promise<JoinedFace> {
  const ways = tieWays(shots);
  if (ways.length === 0) throw untied(shots);
  let refused: InputProblem | null = null;
  for (const [i, way] of ways.entries()) {
    await pause(control, i / ways.length, 'Laying the photos on each other');
    try {
      return await joinedBy(cv, shots, way, stage(control, i / ways.length, 1));
    } catch (error) {
      if (!(error instanceof InputProblem)) throw error;
      refused ??= error;
    }
  }
  throw refused;
}

async function joinedBy(cv: Cv, shots: readonly MeasuredShot[], way: TieWay, control: Control): Promise<JoinedFace> {
  const overFace = (calibrations: readonly Calibration[]) => {
    const frame = faceFrame(shots, calibrations);
    return calibrations.map((calibration) => reframedCalibration(calibration, frame));
  };
  const roughly = overFace(way.tie.calibrations);
  const ground = groundOf(cv, shots, roughly);
  const rough = laidOut(shots, roughly, ground);
  const first: Pair[] = [];
  for (const [k, of] of rough.overlaps(ground.wood).entries()) {
    await pause(control, 0.2 + (0.3 * k) / shots.length, 'Comparing the wood in both');
    const pair = pairOf(cv, ...of);
    check(pair, way, shots, rough.between(k));
    first.push(pair);
  }
  // What the wood tells of how the photos lie goes into the fit, beside the marks; what it still misses is evened out in the picture.
  const spots = first.flatMap((pair, i) => (pair.shift.likeness >= LIKE ? woodSightings(rough, pair, i) : []));
  const kept = shots.map((shot, i) => ({
    ...shot,
    sightings: [
      ...shot.sightings.filter(({ name }) => !way.moved.includes(name)),
      ...spots.filter((spot) => spot.shot === i).map(({ mark }) => mark),
    ],
  }));
  const tied = spots.length > 0 ? (tie(kept) ?? way.tie) : way.tie;
  await pause(control, 0.5, 'Laying the wood on itself');
  // The wood moved by a millimetre or two since: cards and floor are where they were.
  const final = laidOut(shots, overFace(tied.calibrations), ground);
  const pairs: Seam[] = [];
  for (const [k, of] of final.overlaps(ground.wood).entries()) {
    await pause(control, 0.55 + (0.35 * k) / shots.length, 'Making one picture of the photos');
    pairs.push(seamOf(cv, ...of));
  }
  await pause(control, 0.9);
  const { order } = final;
  const layers = order.map((shot, k) => settledLayer(final.layers[shot] as Layer, pairs, k, final.axis));
  const cuts = pairs.map(({ cut }) => cut);
  const nameOf = (k: number) => (shots[order[k] as number] as MeasuredShot).shot.name;
  return {
    calibrations: final.layers.map(({ calibration }, i) => named(calibration, way.moved, shots[i] as MeasuredShot)),
    layers,
    order,
    cuts,
    whole: stitched(cv, layers, cuts, { mmPerPx: final.mmPerPx, bounds: final.box }),
    joins: pairs.map(({ shift }, k) => ({
      between: [nameOf(k), nameOf(k + 1)],
      marks: way.tie.residual,
      wood: shift.likeness >= LIKE ? shift.size : null,
      likeness: shift.likeness,
      moved: way.moved,
    })),
  };
}

/** A calibration that says which of its marks were left out because another photo shows them elsewhere. */
function named(calibration: Calibration, moved: readonly string[], { sightings }: MeasuredShot): Calibration {
  const marks = moved.filter((name) => sightings.some((sighting) => sighting.name === name)).map(markerOf);
  if (marks.length === 0) return calibration;
  const why =
    'another photo of this face shows it elsewhere: it was moved between the shots, or does not lie flat. It does not tie the photos.';
  return {
    ...calibration,
    outliers: [...calibration.outliers, ...marks],
    reasons: [...(calibration.reasons ?? []), ...marks.map((name) => ({ name, why }))],
  };
}

/** Shots over one frame of the face, as they follow each other. */
function laidOut(shots: readonly MeasuredShot[], calibrations: readonly Calibration[], { tones, bare }: Ground) {
  const row = rowOf(calibrations);
  const { axis, order } = row;
  const layers = shots.map(
    ({ shot: { photo } }, i): Layer => ({
      photo,
      calibration: calibrations[i] as Calibration,
      moved: (spot) => spot,
      tone: tones[i] as Tone,
    }),
  );
  const between = (k: number) => [order[k] as number, order[k + 1] as number] as const;
  return {
    ...row,
    layers,
    between,
    /** What is held against each other of each shot and the next. */
    overlaps: (wood: Mask) =>
      order.slice(1).map((_, k) => {
        const overlap = clipped(row.overlap(k), wood);
        if (!overlap) throw tooLittle(shots, between(k), 0);
        const [a, b] = between(k);
        return [layers[a] as Layer, layers[b] as Layer, overlap, bare, axis] as const;
      }),
  };
}

/** Floor kept beside the wood in the overlap, mm. */
const BESIDE = 40;

/** The part of a box beside which wood lies; null where there is none. */
function clipped(box: Bounds, { data, width, mmPerPx, x0, y0 }: Mask): Bounds | null {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  data.forEach((v, i) => {
    if (!v) return;
    const [x, y] = [x0 + ((i % width) + 0.5) * mmPerPx, y0 + (Math.floor(i / width) + 0.5) * mmPerPx];
    if (x < box.minX || x > box.maxX || y < box.minY || y > box.maxY) return;
    [minX, minY, maxX, maxY] = [Math.min(minX, x), Math.min(minY, y), Math.max(maxX, x), Math.max(maxY, y)];
  });
  if (!(maxX > minX && maxY > minY)) return null;
  return {
    minX: Math.max(box.minX, minX - BESIDE),
    minY: Math.max(box.minY, minY - BESIDE),
    maxX: Math.min(box.maxX, maxX + BESIDE),
    maxY: Math.min(box.maxY, maxY + BESIDE),
  };
}

/** Spots of the wood in the overlap as marks that both photos show. */
function woodSightings(
  { order, layers }: ReturnType<typeof laidOut>,
  { shift, box }: Pair,
  k: number,
): { shot: number; mark: Sighting }[] {
  const [a, b] = [order[k] as number, order[k + 1] as number];
  const views = [a, b].map((i) => measure((layers[i] as Layer).calibration)) as [Measure, Measure];
  const [columns, rows] = TIES;
  return Array.from({ length: columns * rows }, (_, n) => n).flatMap((n) => {
    const [u, v] = [((n % columns) + 0.5) / columns, (Math.floor(n / columns) + 0.5) / rows];
    const spot: Point<'face'> = [box.minX + u * (box.maxX - box.minX), box.minY + v * (box.maxY - box.minY)];
    const name = `wood ${k}.${n}`;
    return [
      { shot: a, mark: woodMark(name, views[0], spot) },
      { shot: b, mark: woodMark(name, views[1], shift.to(spot)) },
    ];
  });
}

function woodMark(name: string, view: Measure, spot: Point<'face'>): Sighting {
  const px = view.toPhoto(spot);
  const aside = view.toPhoto([spot[0] + 1, spot[1]]);
  return { name, px: [px], below: 0, sigma: LAID * Math.hypot(aside[0] - px[0], aside[1] - px[1]) };
}

/** A layer with what its neighbours tell of its shift and light: each of two takes half. */
function settledLayer(layer: Layer, pairs: readonly Seam[], k: number, axis: 0 | 1): Layer {
  const [before, after] = [pairs[k - 1], pairs[k]];
  // Steps from layer to layer, their mean over all taken out, so that the face as a whole is neither lightened nor darkened.
  const levels: Point3[] = [[0, 0, 0]];
  for (const { light, box } of pairs) {
    const step = light((box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2);
    levels.push((levels.at(-1) as Point3).map((v, c) => v + (step[c] as number)) as unknown as Point3);
  }
  const level = [0, 1, 2].map(
    (c) => (levels[k]?.[c] as number) - levels.reduce((sum, l) => sum + (l[c] as number), 0) / levels.length,
  );
  const near = (pair: Pair, x: number, y: number) => {
    const { box } = pair;
    const [from, to, at] = axis === 0 ? [box.minX, box.maxX, x] : [box.minY, box.maxY, y];
    const beyond = Math.max(0, from - at, at - to);
    return beyond >= FADE ? 0 : 0.5 + 0.5 * Math.cos((Math.PI * beyond) / FADE);
  };
  const tone: Tone = (x, y) => {
    const own = (pair: Seam | undefined, sign: number): readonly number[] => {
      if (!pair) return [0, 0, 0];
      const { light, box } = pair;
      const [here, mean] = [light(x, y), light((box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2)];
      const share = 0.5 * sign * near(pair, x, y);
      return here.map((v, c) => share * (v - (mean[c] as number)));
    };
    const [p, q] = [own(before, 1), own(after, -1)];
    return [0, 1, 2].map((c) => (level[c] as number) + (p[c] as number) + (q[c] as number)) as unknown as Point3;
  };
  return {
    ...layer,
    tone: bothTones(layer.tone, tone),
    moved: ([x, y]) => {
      let [mx, my] = [x, y];
      for (const [pair, sign] of [
        [before, 0.5],
        [after, -0.5],
      ] as const) {
        if (!pair || pair.shift.likeness < LIKE) continue;
        const to = pair.shift.to([x, y]);
        const share = sign * near(pair, x, y);
        mx += share * (to[0] - x);
        my += share * (to[1] - y);
      }
      return [mx, my];
    },
  };
}

type Point3 = readonly [number, number, number];

/** What the shots say of where the wood is. A card that one photo shows and the other's picture covers hides nothing. */
export function hintsOf(
  shots: readonly MeasuredShot[],
  face: JoinedFace,
): Pick<TraceOptions, 'laid' | 'points' | 'strokes'> {
  const { order, cuts, calibrations } = face;
  const laid: Laid[] = [];
  order.forEach((shot, k) => {
    const { sighted } = shots[shot] as MeasuredShot;
    for (const one of laidOf(sighted, calibrations[shot] as Calibration)) {
      const shown = one.polygon.some(([x, y]) => {
        const [before, after] = [cuts[k - 1], cuts[k]];
        return (!before || shareOf(before, x, y) > 0) && (!after || shareOf(after, x, y) < 1);
      });
      const middle = centroid(one.polygon);
      if (shown && !laid.some(({ polygon }) => contains(polygon, middle))) laid.push(one);
    }
  });
  return {
    laid,
    points: shots.flatMap(({ shot: { scale } }, i) =>
      scale.kind === 'points'
        ? scale.points.map(({ px }) => measure(calibrations[i] as Calibration).place(px)).filter((at) => at !== null)
        : [],
    ),
    strokes: shots.flatMap(({ shot: { strokes = [] } }, i) =>
      strokes.map(({ line, kind }) => ({
        kind,
        line: line.flatMap((px) => {
          const at = measure(calibrations[i] as Calibration).place(px);
          return at ? [at] : [];
        }),
      })),
    ),
  };
}

/** What all shots show of the face, as one ring. */
export function frameOfShots(calibrations: readonly Calibration[]): Polygon<'face'> {
  const rings = calibrations.map((calibration) => ({ outer: frameOf(measure(calibration), calibration), holes: [] }));
  return largestRegion(union(rings)).outer;
}
