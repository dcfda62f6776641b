import {
  bounds,
  contains,
  difference,
  distance,
  offset,
  type Point,
  type Polygon,
  type Region,
  rectangle,
  regionContains,
  ribbon,
  type Segment,
} from '../geometry';
import type { Defect } from '../job';
import { type Datum, LONGEST_TAPE, tapedError } from './datum';
import { crossingOf, onWood } from './spots';

/** A hole of 4 mm keeps this far inside the wood's edge, and clear of blanks and saw lines (mm). */
const FROM_EDGE = 15;
const FROM_BLANK = 12;
const FROM_DEFECT = 8;
/** Marks nearer to each other than this share of the slab's length measure nothing well. */
export const LEAST_SHARE = 0.3;
const CANDIDATES = 160;
/** Pairs that are offered differ by this share of the slab's length at one end or both. */
const APART_SHARE = 0.08;
/** So many of the best pairs are looked at for the wood under their line. */
const LOOKED_AT = 4000;
/** The wood under a chalk line is looked at so closely, mm. */
const CHALK_STEP = 10;
/** Before there is a plan: so far from a live edge strips leave waste, and so far from an end a crosscut goes (mm, practice). */
const EDGE_BAND = 60;
const END_BAND = 200;

/** What marks are proposed from. */
export interface MarkQuestion {
  readonly outline: Region<'face'>;
  /** Rough blanks, which no mark may touch. */
  readonly blanks: readonly Polygon<'face'>[];
  readonly lines: readonly { readonly kind: string; readonly line: Segment<'face'> }[];
  readonly defects: readonly Defect[];
}

/** Where the proposed marks lie: the best is waste beside a strip; without it they go with a saw cut, and the sheet says so. */
export type MarkPlace = 'beside' | 'ends' | 'within';

/** Two marks that are proposed, and where they lie. */
export interface OfferedMarks {
  readonly marks: Datum;
  readonly place: MarkPlace;
}

/**
 * Proposes the marks A and B: far apart, on sound wood inside the crosscut length and in the waste beside a strip, so that they
 * outlast the crosscuts, and placed so that the tapes cross well at the lines' ends. Where no waste lies beside a strip they go to the
 * waste at the ends, and where that is missing too, into the blanks' own allowance near the edge. Before there is a plan they go near a live
 * edge, where strips leave waste. A is the left one. Null where the slab has no place for two marks.
 */
export const proposeMarks = (question: MarkQuestion): OfferedMarks | null => offerMarks(question, 1)[0] ?? null;

/** Up to `most` pairs of marks that really differ, the best first: of places that outlast the cuts as long as there are any. */
export function offerMarks(question: MarkQuestion, most: number): OfferedMarks[] {
  const { outline, blanks, lines, defects } = question;
  const planned = blanks.length > 0;
  const sound = soundWood(outline, defects);
  const kept = planned ? blanks.map((outer) => ({ outer, holes: [] })) : offset([outline], -EDGE_BAND);
  const clear = difference(sound, offset(kept, FROM_BLANK));
  const ends = planned ? endWaste(question) : endBands(outline);
  const beside = ends.length > 0 ? difference(clear, offset(ends, FROM_BLANK)) : clear;
  const targets = targetsOf(planned ? lines : edgeLines(outline), outline);
  const offers: OfferedMarks[] = [];
  for (const [place, regions] of [
    ['beside', beside],
    ['ends', clear],
    ['within', sound],
  ] as const) {
    if (place !== 'beside' && offers.length > 0) break;
    for (const marks of bestMarks(regions, targets, outline, most, planned ? 1 : 2)) offers.push({ marks, place });
  }
  return offers;
}

/** Wood without holes and soft places, clear of its edges. */
function soundWood(outline: Region<'face'>, defects: readonly Defect[]): Region<'face'>[] {
  const bad = defects
    .filter((defect) => defect.kind !== 'stain' && defect.kind !== 'pith')
    .flatMap((defect) =>
      defect.polygon ? [{ outer: defect.polygon, holes: [] }] : defect.line ? [lineRegion(defect.line)] : [],
    );
  const inner = offset([outline], -FROM_EDGE);
  return bad.length > 0 ? difference(inner, offset(bad, FROM_DEFECT)) : inner;
}

const lineRegion = (line: NonNullable<Defect['line']>): Region<'face'> => ({ outer: ribbon(line), holes: [] });

/** What the crosscuts take off: the far side of every crosscut that has blanks on one side only. */
function endWaste({ outline, blanks, lines }: MarkQuestion): Region<'face'>[] {
  const reach = 4 * Math.max(...Object.values(bounds(outline.outer)).map(Math.abs), 1000);
  return lines.flatMap(({ kind, line: [a, b] }) => {
    if (kind !== 'crosscut') return [];
    const length = distance(a, b);
    const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const sideOf = (p: Point<'face'>): number => ux * (p[1] - a[1]) - uy * (p[0] - a[0]);
    const sides = blanks.map((ring) => Math.sign(ring.reduce((sum, p) => sum + sideOf(p), 0)));
    if (sides.length === 0 || sides.some((side) => side !== sides[0])) return [];
    const far = -(sides[0] as number) * reach;
    const outer: Polygon<'face'> = [
      [a[0] - ux * reach, a[1] - uy * reach],
      [a[0] + ux * reach, a[1] + uy * reach],
      [a[0] + ux * reach - uy * far, a[1] + uy * reach + ux * far],
      [a[0] - ux * reach - uy * far, a[1] - uy * reach + ux * far],
    ];
    return [{ outer, holes: [] }];
  });
}

/** A place that the tapes must find well, at least across its line. */
interface Target {
  readonly at: Point<'face'>;
  readonly normal: readonly [number, number];
}

/** Both ends of every line, and where lines cross: there both lines want to be found. */
function targetsOf(lines: MarkQuestion['lines'], outline: Region<'face'>): Target[] {
  const spans = lines.flatMap(({ line }) => {
    const span = onWood(line, outline);
    if (!span) return [];
    const [p, q] = span;
    const length = distance(p, q);
    return [{ span, normal: [-(q[1] - p[1]) / length, (q[0] - p[0]) / length] as const }];
  });
  return spans.flatMap(({ span, normal }) => [
    ...span.map((at): Target => ({ at, normal })),
    ...spans.flatMap((other): Target[] => {
      const at = other.span === span ? null : crossingOf(span, other.span);
      return at ? [{ at, normal }] : [];
    }),
  ]);
}

/**
 * The first pairs by cost, each well away from those before it. The chalk line between them lies on wood, where any does.
 * @param reach how much it counts that they are far apart: more where nobody knows yet what is to be found
 */
function bestMarks(
  regions: readonly Region<'face'>[],
  targets: readonly Target[],
  outline: Region<'face'>,
  most: number,
  reach: number,
): Datum[] {
  const { minX, maxX } = bounds(outline.outer);
  const least = LEAST_SHARE * (maxX - minX);
  const places = regions.flatMap((region) => sample(region, CANDIDATES / regions.length));
  const pairs: { marks: Datum; cost: number }[] = [];
  for (const a of places) {
    for (const b of places) {
      if (b[0] - a[0] < least) continue;
      pairs.push({ marks: [a, b], cost: worstError([a, b], targets) / distance(a, b) ** reach });
    }
  }
  pairs.sort((p, q) => p.cost - q.cost);
  const apart = APART_SHARE * (maxX - minX);
  const best: Datum[] = [];
  for (const wanted of [true, false]) {
    for (const { marks } of pairs.slice(0, wanted ? LOOKED_AT : most)) {
      if (best.length >= most) return best;
      const other = best.every(([a, b]) => Math.max(distance(a, marks[0]), distance(b, marks[1])) > apart);
      if (other && (!wanted || onWoodThroughout(marks, outline))) best.push(marks);
    }
    if (best.length > 0) break;
  }
  return best;
}

/** Whether chalk that is snapped between two marks strikes wood all along. */
export function onWoodThroughout([a, b]: Datum, outline: Region<'face'>): boolean {
  const steps = Math.ceil(distance(a, b) / CHALK_STEP);
  return Array.from({ length: steps + 1 }, (_, k): Point<'face'> => {
    const t = k / Math.max(1, steps);
    return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
  }).every((p) => contains(outline.outer, p));
}

/** Lines that stand for those of a plan to come: along both live edges and across both ends, a hand inside the wood. */
function edgeLines({ outer }: Region<'face'>): MarkQuestion['lines'] {
  const { minX, minY, maxX, maxY } = bounds(outer);
  const line = (...ends: Segment<'face'>) => ({ kind: 'edge', line: ends });
  const [x0, x1, y0, y1] = [minX + END_BAND, maxX - END_BAND, minY + EDGE_BAND, maxY - EDGE_BAND];
  return [
    line([x0, y0], [x1, y0]),
    line([x0, y1], [x1, y1]),
    line([x0, minY], [x0, maxY]),
    line([x1, minY], [x1, maxY]),
  ];
}

/** What crosscuts usually take off, before there is a plan. */
function endBands({ outer }: Region<'face'>): Region<'face'>[] {
  const { minX, minY, maxX, maxY } = bounds(outer);
  const band = (x0: number, x1: number) => ({ outer: rectangle<'face'>(x0, minY - 1, x1, maxY + 1), holes: [] });
  return [band(minX - 1, minX + END_BAND), band(maxX - END_BAND, maxX + 1)];
}

/** Points of a region on a grid of its own size, whole millimetres, so that they can be set with a rule. */
function sample(region: Region<'face'>, wanted: number): Point<'face'>[] {
  const { minX, minY, maxX, maxY } = bounds(region.outer);
  const [width, height] = [maxX - minX, maxY - minY];
  const rows = Math.min(6, Math.max(1, Math.ceil(height / 40)));
  const columns = Math.max(2, Math.ceil(wanted / rows));
  const out: Point<'face'>[] = [];
  for (let i = 0; i < columns; i++) {
    for (let j = 0; j < rows; j++) {
      const p: Point<'face'> = [
        Math.round(minX + ((i + 0.5) * width) / columns),
        Math.round(minY + ((j + 0.5) * height) / rows),
      ];
      if (contains(region.outer, p) && regionContains(region, p)) out.push(p);
    }
  }
  return out;
}

/** The worst uncertainty of any target across its line, tapes over 3 m counted double. */
function worstError(datum: Datum, targets: readonly Target[]): number {
  let worst = 0;
  for (const { at, normal } of targets) {
    const long = Math.max(distance(datum[0], at), distance(datum[1], at)) > LONGEST_TAPE ? 2 : 1;
    worst = Math.max(worst, long * tapedError(datum, at, normal));
  }
  return worst;
}
