import { distance, type Point } from '../geometry';
import { crossing, type Datum, LEAST_CROSSING, type Offsets, pointAt, TAPE_SIGMA, type Tapes } from './datum';
import type { SlabMeasures } from './measures';
import type { Taped } from './tape-lengths';

/**
 * What a tape reads on a marked slab, by its causes: how far the photo's scale is off, how far each mark was drilled from its place, how far each point
 * was set from where its tapes cross, and each reading's own slip. A point stands where its two tapes cross from the marks as drilled, so it
 * goes where they go.
 */

/** A cause with one standard deviation of it where nothing is wrong: a share for the scale, else mm. */
interface Cause {
  /** 'scale', 'along', 'across', 'A', 'B', a point's label, 'taping', 'reading 3'. */
  readonly of: string;
  readonly sigma: number;
  /** A step by which its effect is found. */
  readonly step: number;
}

export interface TapeModel {
  readonly causes: readonly Cause[];
  /** What the tape reads with causes of these sizes, mm, in the order of the readings. */
  predict(sizes: ArrayLike<number>): number[];
}

/** How sure the causes are beforehand. */
export interface Beforehand {
  /** One standard deviation of the photo's scale, as a share. */
  readonly scaleSigma: number;
  /** The photo shows the drilled holes. */
  readonly seen: boolean;
}

/**
 * One standard deviation of a mark that was drilled from the map and is right, in each direction, mm (practice). Hands miss by more, and every tape from
 * such a mark is then off: that is what is looked for.
 */
const DRILLED = 1;
/** Of a hole that the photo shows and that was tapped there. */
const TAPPED = 0.7;
/** Of a chalk cross about where its tapes cross (practice). */
const CROSS = 0.7;
/** Of a live edge about where the tape meets it, beside the outline's own doubt (practice). */
const LIVE_EDGE = 2;
/** A photo is off along and across unlike by this part of what its scale is off (practice). */
const UNLIKE = 0.5;
const STEPS = { share: 1e-5, mm: 0.01 } as const;

/** Two causes, across and along. */
type Shift = readonly [x: number, y: number];

/** The causes of what was read, and how it follows from them. */
export function tapeModel(taped: readonly Taped[], measures: SlabMeasures, before: Beforehand): TapeModel {
  const { datum } = measures;
  const causes: Cause[] = [];
  const add = (of: string, sigma: number, step: number = STEPS.mm): number => causes.push({ of, sigma, step }) - 1;
  const scale = add('scale', before.scaleSigma, STEPS.share);
  const along = add('along', UNLIKE * before.scaleSigma, STEPS.share);
  const across = add('across', UNLIKE * before.scaleSigma, STEPS.share);
  const pair = (of: string, sigma: number): Shift => [add(of, sigma), add(of, sigma)];
  const drill = before.seen ? TAPPED : DRILLED;
  const marks = [pair('A', drill), pair('B', drill)] as const;
  const named = new Set(taped.flatMap(({ from, to }) => [from, to]));
  const points = measures.points
    .filter(({ label }) => named.has(label))
    .map(({ label, at, offsets, tapes }) => ({
      label,
      offsets,
      tapes,
      flat: crossing(datum, at) < LEAST_CROSSING,
      shift: pair(label, CROSS),
      taping: pair('taping', TAPE_SIGMA),
    }));
  const slips = taped.map(({ kind, plusMinus }, i) =>
    add(`reading ${i}`, kind === 'edge' ? Math.hypot(TAPE_SIGMA, LIVE_EDGE, plusMinus / 2) : TAPE_SIGMA),
  );
  const centre: Point<'face'> = [(datum[0][0] + datum[1][0]) / 2, (datum[0][1] + datum[1][1]) / 2];

  function predict(sizes: ArrayLike<number>): number[] {
    const size = (cause: number): number => sizes[cause] as number;
    const wood = ([x, y]: Point<'face'>): Point<'face'> => [
      x + (size(scale) + size(along)) * (x - centre[0]),
      y + (size(scale) + size(across)) * (y - centre[1]),
    ];
    const shifted = ([x, y]: Point<'face'>, [dx, dy]: Shift): Point<'face'> => [x + size(dx), y + size(dy)];
    const drilled: Datum = [shifted(wood(datum[0]), marks[0]), shifted(wood(datum[1]), marks[1])];
    const places = new Map<string, Point<'face'>>([
      ['A', drilled[0]],
      ['B', drilled[1]],
    ]);
    for (const { label, flat, tapes, offsets, shift, taping } of points) {
      const tape = { fromA: tapes.fromA + size(taping[0]), fromB: tapes.fromB + size(taping[1]) };
      places.set(label, shifted(flat ? pointAt(drilled, offsets) : crossed(drilled, tape, offsets), shift));
    }
    return taped.map(({ from, to, ends: [p, q], mm, kind, gradient: [gx, gy] }, i) => {
      const slip = size(slips[i] as number);
      const here = places.get(from) ?? wood(p);
      const there = places.get(to) ?? wood(q);
      if (kind !== 'edge') return distance(here, there) + slip;
      return mm + gx * (here[0] - p[0] - there[0] + q[0]) + gy * (here[1] - p[1] - there[1] + q[1]) + slip;
    });
  }
  return { causes, predict };
}

/** Where two tapes cross on the side that a point lies; on the line where they do not reach each other. */
function crossed(datum: Datum, { fromA, fromB }: Tapes, { inward }: Offsets): Point<'face'> {
  const base = distance(...datum);
  const along = (fromA * fromA - fromB * fromB + base * base) / (2 * base);
  const square = Math.sqrt(Math.max(0, fromA * fromA - along * along));
  return pointAt(datum, { along, inward: inward >= 0 ? square : -square });
}
