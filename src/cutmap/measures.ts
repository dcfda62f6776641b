import { centroid, distance, type Point } from '../geometry';
import type { SlabReport } from '../plan';
import {
  crossing,
  type Datum,
  LEAST_CROSSING,
  LONGEST_TAPE,
  type Offsets,
  offsetsOf,
  plusMinus,
  plusMinusToEdge,
  type Tapes,
  tapesOf,
} from './datum';
import { type MarkPlace, proposeMarks } from './marks';
import { crossingOf, type EdgeCheck, edgeChecks, onWood, spotsOf } from './spots';

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
interface CheckMeasure {
  readonly from: string;
  readonly to: string;
  readonly mm: number;
  readonly plusMinus: number;
}

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

/** Measures a slab from its marks, set or proposed. Null where it has no place for two marks. */
export function measuresOf(slab: SlabReport): SlabMeasures | null {
  const rough = slab.cuts.filter((cut) => cut.stage === 'rough');
  const proposed = slab.marks
    ? { marks: slab.marks, place: 'set' as const }
    : proposeMarks({
        outline: slab.outline,
        blanks: slab.blanks.map((blank) => blank.rough),
        lines: rough,
        // The marks are drilled through.
        defects: [...slab.defects, ...slab.farDefects.map(({ defect }) => defect)],
      });
  if (!proposed || distance(proposed.marks[0], proposed.marks[1]) === 0) return null;
  const datum = proposed.marks;
  const points: Measured[] = [
    ...spotsOf(rough, slab.outline, datum).map(({ number, at, cuts }) =>
      measured(slab, datum, `${number}`, 'cut', `${cuts.length > 1 ? 'cuts' : 'cut'} ${cuts.join(' and ')}`, at),
    ),
    ...jointPoints(slab).map(({ at, blank }, i) =>
      measured(slab, datum, `J${i + 1}`, 'joint', `joint of ${blank}`, at),
    ),
    ...slab.keys.map((key) => {
      const point = measured(slab, datum, `K${key.number}`, 'key', `${key.size} key`, centroid(key.outline));
      return { ...point, confirmed: !key.proposed };
    }),
  ];
  return {
    datum,
    place: proposed.place,
    marks: { A: checksOf(slab, datum[0]), B: checksOf(slab, datum[1]) },
    points,
    checks: checkMeasures(slab, datum, points),
  };
}

function measured(
  slab: SlabReport,
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
    confirmed: true,
    at,
    offsets: offsetsOf(datum, at),
    tapes,
    plusMinus: { fromA: plusMinus(slab, datum[0], at), fromB: plusMinus(slab, datum[1], at) },
    ...checksOf(slab, at),
    flat,
    flags,
  };
}

function checksOf(slab: SlabReport, at: Point<'face'>): Pick<Measured, 'across' | 'alongside'> {
  const { across, alongside } = edgeChecks(slab.outline.outer, at);
  const sure = (check: EdgeCheck | null): Checked | null => check && { ...check, plusMinus: plusMinusToEdge(slab, at) };
  return { across: sure(across), alongside: sure(alongside) };
}

/** The two ends of every joint line, as far as it lies on wood. */
function jointPoints(slab: SlabReport): { at: Point<'face'>; blank: string }[] {
  return slab.blanks.flatMap((blank) =>
    [blank.jointFront, blank.jointBack].flatMap((line) => {
      const span = line && onWood(line, slab.outline);
      return (span ?? []).map((at) => ({ at, blank: nameOf(blank) }));
    }),
  );
}

/** A blank as its sheets call it: the top's name and the strip's number, from the front. */
export const nameOf = (blank: { readonly topName: string; readonly strip: number }): string =>
  `${blank.topName} ${blank.strip + 1}`;

/** The chalk line itself, the two diagonals of the marked cuts, and each joint's diagonal to the far end of another line. */
function checkMeasures(slab: SlabReport, [a, b]: Datum, points: readonly Measured[]): CheckMeasure[] {
  const between = (
    from: { label: string; at: Point<'face'> },
    to: { label: string; at: Point<'face'> },
  ): CheckMeasure => ({
    from: from.label,
    to: to.label,
    mm: distance(from.at, to.at),
    plusMinus: plusMinus(slab, from.at, to.at),
  });
  const out = [between({ label: 'A', at: a }, { label: 'B', at: b })];
  const cuts = points.filter((point) => point.kind === 'cut').slice(0, 4);
  if (cuts.length === 4) {
    // Of the three ways to pair four points, the diagonals are the pair that crosses.
    const [p, q, r, s] = cuts as [Measured, Measured, Measured, Measured];
    const pairs = [
      [p, q, r, s],
      [p, r, q, s],
      [p, s, q, r],
    ] as const;
    const crossed = pairs.find(([i, j, k, l]) => crossingOf([i.at, j.at], [k.at, l.at]));
    if (crossed) out.push(between(crossed[0], crossed[1]), between(crossed[2], crossed[3]));
  }
  const joints = points.filter((point) => point.kind === 'joint');
  for (let i = 0; i + 1 < joints.length; i += 2) {
    const start = joints[i] as Measured;
    const far = cuts.reduce<Measured | null>(
      (best, cut) => (!best || distance(start.at, cut.at) > distance(start.at, best.at) ? cut : best),
      null,
    );
    if (far) out.push(between(start, far));
  }
  return out;
}
