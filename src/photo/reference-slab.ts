import type { Point } from '../geometry';
import type { Scale } from '../job';
import { InputProblem } from '../units';
import { adjust, type LensBelief, type Problem, type State } from './adjustment';
import { type Between, offBetween } from './between';
import { Camera } from './camera';
import { handSetPoint, type Mark } from './marks';
import type { Reference } from './reference-type';
import { layOut, reframed } from './start';

/**
 * A slab measured by its own length and three widths, with nothing laid on it. How the widths shrink along the slab tells the slant along it, length
 * against width the slant across, and that widths are taped square to the length tells which edge is nearer. All sigmas are practice, without a source.
 */
type SlabScale = Extract<Scale, { kind: 'slab' }>;

/** One standard deviation of a tap on an edge of the wood, as a share of the photo's longer side: four pixels of four thousand. */
const TAP_SIGMA = 0.001;
/** A length by tape from end to end, whose cuts are not quite square, and a width across wany edges, taped an inch aside of where it is tapped: mm. */
const LENGTH_SIGMA = 5;
const WIDTH_SIGMA = 6;
/** The two taps of a width, by eye where it was taped, lie so far from straight across, mm along the slab. */
const SQUARE_SIGMA = 40;
/** Who photographs a slab has its lower edge nearer, as far as the picture leans by more than this (sine of the slant); no more than so many sigma. */
const LEANS = { sigma: 0.1, most: 3 };
/** Tape and photo disagree where they miss by more than this: chi-square of six degrees of freedom that one honest slab in two thousand passes. */
const DISAGREE = 24;
/** A measure that is wrong is one without which they miss by less than this. */
const AGREE = 12;
/** Two taps nearer than this, px, are one spot. */
const APART = 20;
/** Tilts that are tried, degrees, and the ways they turn. */
const [STEEPEST, TILT_STEP, TURN_STEP] = [76, 4, 10] as const;

/** The eight taps by their places among the marks: the two ends, then the two edges of each width. */
const ENDS = [0, 1] as const;
const WIDTHS = [
  [2, 3],
  [4, 5],
  [6, 7],
] as const;
const NAMES = [
  'left end',
  'right end',
  ...['left', 'left', 'middle', 'middle', 'right', 'right'].map((w) => `${w} width`),
];
const MEASURES = ['length', 'width at the left end', 'width in the middle', 'width at the right end'] as const;

/**
 * The taps as free points, and what the tape says between them.
 * @param longer the photo's longer side, px
 * @throws InputProblem when the taps do not lie as a slab's do, or tape and photo contradict each other
 */
export function slabMarks(scale: SlabScale, lens: LensBelief, longer: number): Reference {
  const taps = tapsOf(scale);
  checkTaps(taps);
  const sigma = Math.max(1, TAP_SIGMA * longer);
  const marks = taps.map((px, i) => handSetPoint(NAMES[i] as string, px, sigma, null));
  const between = betweenOf(scale);
  const { state, missed, doubt } = posed(marks, between, lens);
  if (missed > DISAGREE) throw contradiction(scale, marks, lens);
  const { camera, poses } = state;
  return {
    ways: [{ marks, rough: marks }],
    start: { camera, poses },
    between,
    doubt,
    leftOut: [],
    leastEdgeSigma: 0,
    bias: { mean: 0, sigma: 1 },
    least: marks.length,
  };
}

const tapsOf = ({ length, widths }: SlabScale): Point<'photo'>[] => [length, ...widths].flatMap(({ px }) => [...px]);

function betweenOf({ length, widths }: SlabScale): Between[] {
  return [
    { kind: 'length', ends: ENDS, mm: length.mm, sigma: LENGTH_SIGMA },
    ...widths.map(
      ({ mm }, i): Between => ({
        kind: 'length',
        ends: WIDTHS[i] as readonly [number, number],
        mm,
        sigma: WIDTH_SIGMA,
      }),
    ),
    ...WIDTHS.map(
      (ends, i): Between => ({ kind: 'square', ends, to: ENDS, sigma: SQUARE_SIGMA / (widths[i] as typeof length).mm }),
    ),
  ];
}

/** @throws InputProblem when the taps lie on one line, on one spot, or in an order in which no slab has them */
function checkTaps(taps: readonly Point<'photo'>[]): void {
  const [left, right] = taps as [Point<'photo'>, Point<'photo'>];
  const [dx, dy] = [right[0] - left[0], right[1] - left[1]];
  const long = Math.hypot(dx, dy);
  if (long < APART)
    throw new InputProblem(
      'The two ends are tapped on one spot of the photo.',
      '/length/px',
      'Tap one end of the slab, then the other.',
    );
  const along = ([u, v]: Point<'photo'>) => ((u - left[0]) * dx + (v - left[1]) * dy) / long / long;
  const across = ([u, v]: Point<'photo'>) => ((v - left[1]) * dx - (u - left[0]) * dy) / long;
  const pairs = WIDTHS.map(([a, b]) => [taps[a], taps[b]] as [Point<'photo'>, Point<'photo'>]);
  pairs.forEach(([a, b], i) => {
    if (Math.abs(across(a) - across(b)) < APART)
      throw new InputProblem(
        `The ${MEASURES[i + 1]} is tapped along the slab, or both its taps lie on one spot: nothing of the slab's breadth lies between them.`,
        `/widths/${i}/px`,
        'Tap one edge of the wood, then the other edge straight across from it.',
      );
  });
  const sides = pairs.map(([a, b]) => (across(a) < across(b) ? [a, b] : [b, a]));
  for (const side of [0, 1] as const) {
    const at = sides.map((pair) => along(pair[side] as Point<'photo'>)) as [number, number, number];
    const i = at[0] >= at[1] ? 0 : at[1] >= at[2] ? 1 : null;
    if (i !== null)
      throw new InputProblem(
        `The ${MEASURES[i + 1]} and the ${MEASURES[i + 2]} cross in the photo, or stand in the wrong order.`,
        `/widths/${i}/px`,
        'Put the left width nearest the left end, the middle one in the middle, the right one nearest the right end, each straight across.',
      );
  }
}

interface Posed {
  readonly state: State;
  /** Sum of the squares of what measures, taps and beliefs miss by, in sigmas. */
  readonly missed: number;
  /** What it adds to the camera's covariance that the other lean may be the true one. */
  readonly doubt: readonly number[];
}

/** The camera that fits best, of the two that lean over either edge. */
function posed(marks: readonly Mark[], between: readonly Between[], lens: LensBelief): Posed {
  const problem: Problem = {
    marks,
    tapes: [],
    between,
    lens,
    bias: { mean: 0, sigma: 1 },
    drop: 0,
    height: null,
    edgeSigma: { outer: 1, inner: 1 },
    pointScale: 1,
  };
  const fits = starts(marks, between, lens).map((start) => {
    const state = adjust(problem, start);
    return { state, missed: state.fit.cost, odd: state.fit.cost + leansOver(state.camera) };
  });
  const [best, other] = fits.sort((a, b) => a.odd - b.odd);
  if (!best)
    throw new InputProblem(
      'These taps do not show how the slab lies: they are on one line.',
      '/widths',
      'Tap both edges of the wood at the three places where you taped the widths.',
    );
  const share = other ? 1 / (1 + Math.exp((other.odd - best.odd) / 2)) : 0;
  const off = best.state.camera.p.map((p, k) => (other?.state.camera.p[k] ?? p) - p);
  const doubt = [...off].flatMap((p) => [...off].map((q) => share * p * q));
  return { ...best, doubt };
}

/** How odd it is that the camera has the lower edge farther away. */
function leansOver(camera: Camera): number {
  const [gx, gy] = camera.slant;
  const at = camera.project([0, 0], 0);
  const farther = camera.project([gx, gy], 0);
  const size = Math.hypot(farther[0] - at[0], farther[1] - at[1]);
  const down = size > 0 ? (Math.hypot(gx, gy) * (farther[1] - at[1])) / size : 0;
  return Math.min(LEANS.most, Math.max(0, down) / LEANS.sigma) ** 2;
}

/** The best first camera with either edge nearer, each in a frame amid the ends with x from the left one to the right one. */
function starts(marks: readonly Mark[], between: readonly Between[], lens: LensBelief) {
  const centre: Point<'photo'> = [lens.centre[0].mean, lens.centre[1].mean];
  const best = new Map<boolean, { readonly cost: number; readonly camera: Camera }>();
  for (let tilt = 0; tilt <= STEEPEST; tilt += TILT_STEP)
    for (let turn = 0; turn < (tilt === 0 ? 1 : 360); turn += TURN_STEP) {
      const unit = Camera.above(1000, lens.focal.mean, centre, tilt, turn);
      const seen = marks.map(({ points }) => unit.place((points[0] as Mark['points'][0]).px, 0));
      if (seen.some((at) => at === null)) continue;
      const { cost, times } = roughCost(seen as Point<'face'>[], between);
      const [[ax, ay], [bx, by]] = [seen[ENDS[0]], seen[ENDS[1]]] as [Point<'face'>, Point<'face'>];
      const [gx, gy] = unit.slant;
      const over = (bx - ax) * gy - (by - ay) * gx > 0;
      if (cost < (best.get(over)?.cost ?? Infinity))
        best.set(over, { cost, camera: Camera.above(1000 * times, lens.focal.mean, centre, tilt, turn) });
    }
  return [...best.values()].map(({ camera }) => {
    const poses = layOut(camera, marks, 0);
    const [a, b] = [poses[ENDS[0]]?.at, poses[ENDS[1]]?.at] as [Point<'face'>, Point<'face'>];
    const at: Point<'face'> = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    return reframed(camera, poses, { at, radians: Math.atan2(b[1] - a[1], b[0] - a[0]) });
  });
}

/** How far a view of the marks misses what is known between them at the size that fits best, and that size. */
function roughCost(seen: readonly Point<'face'>[], between: readonly Between[]): { cost: number; times: number } {
  const ratios = between.flatMap((known) => {
    if (known.kind !== 'length') return [];
    const [p, q] = [seen[known.ends[0]], seen[known.ends[1]]] as [Point<'face'>, Point<'face'>];
    // Of the taps, too: a start needs no more.
    return [
      { log: Math.log(known.mm / Math.hypot(p[0] - q[0], p[1] - q[1])), weight: (known.mm / (2 * known.sigma)) ** 2 },
    ];
  });
  const weight = ratios.reduce((sum, ratio) => sum + ratio.weight, 0);
  const mean = ratios.reduce((sum, ratio) => sum + ratio.weight * ratio.log, 0) / weight;
  let cost = ratios.reduce((sum, ratio) => sum + ratio.weight * (ratio.log - mean) ** 2, 0);
  for (const known of between)
    if (known.kind === 'square') cost += offBetween(known, (i) => seen[i] as Point<'face'>) ** 2;
  return { cost, times: Math.exp(mean) };
}

/** Which of the measures is likely wrong: the one without which the others and the photo agree. */
function contradiction(scale: SlabScale, marks: readonly Mark[], lens: LensBelief): InputProblem {
  const { length, widths } = scale;
  const swapped: SlabScale = {
    ...scale,
    widths: [{ ...widths[0], mm: widths[2].mm }, widths[1], { ...widths[2], mm: widths[0].mm }],
  };
  if (posed(marks, betweenOf(swapped), lens).missed < AGREE)
    return new InputProblem(
      'The widths at the left and the right end fit this photo the other way round.',
      '/widths',
      'Either they were typed into each other’s field, or the photo was taken from the other side of the slab: change them over, or move the taps of the left end to the other end.',
    );
  const all = betweenOf(scale);
  const suspects = [length, ...widths].flatMap(({ mm }, i) => {
    const { state, missed } = posed(
      marks,
      all.filter((_, k) => k !== i),
      lens,
    );
    const [a, b] = (all[i] as Between).ends.map((mark) => state.poses[mark]?.at) as [Point<'face'>, Point<'face'>];
    const shown = Math.hypot(a[0] - b[0], a[1] - b[1]);
    return missed < AGREE ? [{ i, mm, shown, missed }] : [];
  });
  const told = suspects.map(
    ({ i, mm, shown }) => `the ${MEASURES[i]}, ${mm.toFixed(0)} mm as typed, looks like about ${shown.toFixed(0)} mm`,
  );
  const [first] = suspects;
  if (!first)
    return new InputProblem(
      'The length and the widths do not go together with this photo, and more than one of them, or of the taps, is off.',
      '/widths',
      'Look at each tap: on the edge of the wood, where that width was taped, straight across. Then tape again.',
    );
  return new InputProblem(
    told.length === 1
      ? `One measure does not go with this photo: ${told[0]}.`
      : `One measure does not go with this photo, and it is one of these: ${told.join('; or ')}.`,
    first.i === 0 ? '/length/mm' : `/widths/${first.i - 1}/mm`,
    'Tape it again, or move its two taps to where it was taped.',
  );
}
