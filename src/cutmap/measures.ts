import { centroid, distance, type Point, type Segment } from '../geometry';
import type { Face } from '../job';
import type { SlabReport } from '../plan';
import {
  crossing,
  type Datum,
  LEAST_CROSSING,
  LONGEST_TAPE,
  type Offsets,
  offsetsOf,
  type Tapes,
  tapesOf,
} from './datum';
import { marksOnDivisions, slidOnDivisions } from './divisions';
import { type MarkGround, type MarkTrouble, markTroubles } from './mark-troubles';
import { type MarkPlace, type MarkQuestion, proposeMarks } from './marks';
import { type EdgeCheck, edgeChecks, onWood, pairOn, spotsOf } from './spots';
import { type Sureness, surenessOf } from './sureness';

/** A distance to an edge with its two sigma, mm. */
interface Checked extends EdgeCheck {
  readonly plusMinus: number;
}

/** A point to find on the slab, measured in every way that its sheets print. */
export interface Measured {
  /** '1', 'J1', 'K1'. */
  readonly label: string;
  readonly kind: 'cut' | 'joint' | 'key';
  readonly what: string;
  /** Numbers of the rough cuts that it is a point of. */
  readonly cuts: readonly number[];
  /** False for a key on a crack that a photo proposed and nobody confirmed. */
  readonly confirmed: boolean;
  readonly at: Point<'face'>;
  readonly offsets: Offsets;
  readonly tapes: Tapes;
  /** Two sigma of the distances from A and from B, mm. */
  readonly plusMinus: Tapes;
  readonly across: Checked | null;
  readonly alongside: Checked | null;
  /** The two tapes cross so flat that along and in serve better. */
  readonly flat: boolean;
  /** What to mind with the two tapes; empty where they serve. */
  readonly flags: readonly string[];
}

/** A distance between two marked points that tells whether the marking is right. */
export interface CheckMeasure {
  readonly from: string;
  readonly to: string;
  readonly ends: readonly [Point<'face'>, Point<'face'>];
  readonly mm: number;
  readonly plusMinus: number;
}

/** What of a slab its measures follow from. */
export type MeasuredSlab = Pick<
  SlabReport,
  'outline' | 'outlineSigma' | 'pointSigma' | 'defects' | 'farDefects' | 'marks' | 'keys' | 'drilled'
> & {
  readonly blanks: readonly Pick<
    SlabReport['blanks'][number],
    'topName' | 'strip' | 'rough' | 'finished' | 'jointFront' | 'jointBack'
  >[];
  readonly cuts: readonly Pick<SlabReport['cuts'][number], 'number' | 'kind' | 'stage' | 'line'>[];
};

/** How one slab is marked out. */
export interface SlabMeasures {
  readonly datum: Datum;
  /** Whether the marks were set by hand, or where the proposed ones lie. */
  readonly place: 'set' | MarkPlace;
  /** Where each mark itself is found: across from a live edge, along from an end. */
  readonly marks: { readonly A: ReturnType<typeof checksOf>; readonly B: ReturnType<typeof checksOf> };
  readonly points: readonly Measured[];
  readonly checks: readonly CheckMeasure[];
}

/** What marks on a slab are proposed from. */
export const markQuestion = (slab: MeasuredSlab): MarkQuestion => ({
  outline: slab.outline,
  blanks: slab.blanks.map((blank) => blank.rough),
  lines: slab.cuts.filter((cut) => cut.stage === 'rough'),
  // The marks are drilled through.
  defects: [...slab.defects, ...slab.farDefects.map(({ defect }) => defect)],
});

/**
 * Measures a slab from its marks, set or proposed. Null where it has no place for two marks.
 * @param face its photos say how sure each length is; without it the report's uncertainties do
 * @param division the finest division that is printed, mm (`divisionOf`)
 */
export function measuresOf(slab: MeasuredSlab, face?: Face, division = 0.1): SlabMeasures | null {
  const rough = slab.cuts.filter((cut) => cut.stage === 'rough');
  const proposed = slab.marks ? { marks: slab.marks, place: 'set' as const } : proposeMarks(markQuestion(slab));
  if (!proposed || distance(proposed.marks[0], proposed.marks[1]) === 0) return null;
  const datum = slab.marks ?? onDivisions(proposed.marks, rough, slab.outline, division);
  const sure = surenessOf(slab, face);
  const slid = (at: Point<'face'>, line: Segment<'face'> | undefined): Point<'face'> => {
    const span = line && onWood(line, slab.outline);
    return span ? slidOnDivisions(at, span, datum, division) : at;
  };
  const points: Measured[] = [
    ...spotsOf(rough, slab.outline, datum).map(({ number, at, cuts }) => {
      const what = `${cuts.length > 1 ? 'cuts' : 'cut'} ${cuts.join(' and ')}`;
      // Where cuts cross, the point is theirs; on one alone it may slide.
      const line = cuts.length === 1 ? rough.find((cut) => cut.number === cuts[0])?.line : undefined;
      return { ...measured(slab, sure, datum, `${number}`, 'cut', what, slid(at, line)), cuts };
    }),
    ...jointPoints(slab, datum).map(({ at, line, blank }, i) =>
      measured(slab, sure, datum, `J${i + 1}`, 'joint', `joint of ${blank}`, slid(at, line)),
    ),
    ...slab.keys.map((key) => {
      const point = measured(slab, sure, datum, `K${key.number}`, 'key', `${key.size} key`, centroid(key.outline));
      return { ...point, confirmed: !key.proposed };
    }),
  ];
  return {
    datum,
    place: proposed.place,
    marks: { A: checksOf(slab, sure, datum[0]), B: checksOf(slab, sure, datum[1]) },
    points,
    checks: checkMeasures(sure, datum, points),
  };
}

const TURNED: Readonly<Record<EdgeCheck['edge'], EdgeCheck['edge']>> = {
  'upper edge': 'lower edge',
  'lower edge': 'upper edge',
  'left end': 'left end',
  'right end': 'right end',
};

/**
 * The same measures for marking from the other face, the slab turned over about its length with A still on the left: the holes go through, so along and both
 * tapes stay, and in changes its hand, as upper and lower edge do. How far the edge is holds on the face that was photographed: a live edge slopes.
 */
export function mirrored(measures: SlabMeasures): SlabMeasures {
  const turned = (check: Checked | null): Checked | null => check && { ...check, edge: TURNED[check.edge] };
  const checks = ({ across, alongside }: Pick<Measured, 'across' | 'alongside'>) => ({
    across: turned(across),
    alongside: turned(alongside),
  });
  return {
    ...measures,
    marks: { A: checks(measures.marks.A), B: checks(measures.marks.B) },
    points: measures.points.map((point) => ({
      ...point,
      ...checks(point),
      offsets: { along: point.offsets.along, inward: -point.offsets.inward },
    })),
  };
}

/** Proposed marks by a few millimetres elsewhere, where the points at which rough cuts cross are taped by divisions of the tape. */
function onDivisions(
  marks: Datum,
  rough: Parameters<typeof spotsOf>[0],
  outline: MeasuredSlab['outline'],
  division: number,
): Datum {
  const crossings = spotsOf(rough, outline, marks).filter(({ cuts }) => cuts.length > 1);
  return marksOnDivisions(
    marks,
    crossings.map(({ at }) => at),
    division,
  );
}

/** What speaks against the marks that a slab is measured from. @param say a length in words */
export function troublesOf(slab: MeasuredSlab, measures: SlabMeasures, say: (mm: number) => string): MarkTrouble[] {
  const ground: MarkGround = {
    outline: slab.outline,
    blanks: slab.blanks.map((blank) => ({ name: nameOf(blank), rough: blank.rough, finished: blank.finished })),
    defects: markQuestion(slab).defects,
    cuts: slab.cuts.filter((cut) => cut.stage === 'rough'),
    points: measures.points
      .filter(({ kind }) => kind !== 'key')
      .map(({ label, flat, tapes }) => ({ label, flat, far: Math.max(tapes.fromA, tapes.fromB) })),
    drilled: slab.drilled ?? false,
  };
  return markTroubles(measures.datum, ground, say);
}

function measured(
  slab: MeasuredSlab,
  sure: Sureness,
  datum: Datum,
  label: string,
  kind: Measured['kind'],
  what: string,
  at: Point<'face'>,
): Measured {
  const tapes = tapesOf(datum, at);
  const flags: string[] = [];
  const flat = crossing(datum, at) < LEAST_CROSSING;
  if (flat) flags.push('flat: use along, in');
  if (Math.max(tapes.fromA, tapes.fromB) > LONGEST_TAPE) flags.push('long: two people');
  return {
    label,
    kind,
    what,
    cuts: [],
    confirmed: true,
    at,
    offsets: offsetsOf(datum, at),
    tapes,
    plusMinus: { fromA: sure.between(datum[0], at), fromB: sure.between(datum[1], at) },
    ...checksOf(slab, sure, at),
    flat,
    flags,
  };
}

function checksOf(slab: MeasuredSlab, sure: Sureness, at: Point<'face'>): Pick<Measured, 'across' | 'alongside'> {
  const { across, alongside } = edgeChecks(slab.outline.outer, at);
  const checked = (check: EdgeCheck | null): Checked | null =>
    check && { ...check, plusMinus: sure.toEdge(at, check.at) };
  return { across: checked(across), alongside: checked(alongside) };
}

/** Two points of every joint line, as far as it lies on wood, from which it is truest at both ends. */
function jointPoints(slab: MeasuredSlab, datum: Datum): { at: Point<'face'>; line: Segment<'face'>; blank: string }[] {
  return slab.blanks.flatMap((blank) =>
    [blank.jointFront, blank.jointBack].flatMap((line) => {
      const pair = line && pairOn(line, slab.outline, datum);
      return line && pair ? pair.map((at) => ({ at, line, blank: nameOf(blank) })) : [];
    }),
  );
}

/** A blank as its sheets call it: the top's name and the strip's number, from the front. */
export const nameOf = (blank: { readonly topName: string; readonly strip: number }): string =>
  `${blank.topName} ${blank.strip + 1}`;

/**
 * The chalk line itself, then lengths between the marked points that are not taped to set them: each point stands in one, the farthest first, which of a
 * blank's four are its diagonals. Two at least, so that there are three to tape. After them each joint's diagonal to the farthest rough point.
 */
function checkMeasures(sure: Sureness, [a, b]: Datum, points: readonly Measured[]): CheckMeasure[] {
  const between = (from: Spot, to: Spot): CheckMeasure => ({
    from: from.label,
    to: to.label,
    ends: [from.at, to.at],
    mm: distance(from.at, to.at),
    plusMinus: sure.between(from.at, to.at),
  });
  const cuts = points.filter((point) => point.kind === 'cut');
  const checks = [between({ label: 'A', at: a }, { label: 'B', at: b })];
  for (const [from, to] of farPairs(cuts)) checks.push(between(from, to));
  const joints = points.filter((point) => point.kind === 'joint');
  for (let i = 0; i + 1 < joints.length; i += 2) {
    const start = joints[i] as Measured;
    const far = cuts.reduce<Measured | null>(
      (best, cut) => (!best || worth(start, cut) > worth(start, best) ? cut : best),
      null,
    );
    if (far) checks.push(between(start, far));
  }
  return checks;
}

type Spot = Pick<Measured, 'label' | 'at'>;

/** The longer the better, up to what a tape reads without sagging. */
function worth(p: Spot, q: Spot): number {
  const mm = distance(p.at, q.at);
  return mm > LONGEST_TAPE ? -mm : mm;
}

/** Pairs of points, the best first, until every point stands in one; two pairs at least where there are points for them. */
function farPairs(points: readonly Spot[]): [Spot, Spot][] {
  const all = points.flatMap((p, i) => points.slice(i + 1).map((q): [Spot, Spot] => [p, q]));
  all.sort(([p, q], [r, s]) => worth(r, s) - worth(p, q));
  const paired = new Set<Spot>();
  const chosen: [Spot, Spot][] = [];
  for (const pair of all) {
    if (pair.some((point) => paired.has(point))) continue;
    for (const point of pair) paired.add(point);
    chosen.push(pair);
  }
  for (const pair of all) {
    if (chosen.length >= 2 && pair.every((point) => paired.has(point))) continue;
    if (!pair.every((point) => paired.has(point)) || chosen.length < 2) {
      for (const point of pair) paired.add(point);
      if (!chosen.includes(pair)) chosen.push(pair);
    }
  }
  return chosen;
}
