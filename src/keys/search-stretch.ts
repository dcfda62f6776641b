import { bounds, distance, type Point, type Polygon } from '../geometry';
import type { KeyRules } from '../job';
import { askedBy, type Obstacle, Site } from './clearance';
import { facePartsOf } from './crack-facts';
import type { CrackPart } from './crack-line';
import { areaGap } from './gap';
import type { Key, KeysInput } from './io';
import { inRhythm, type Rhythm, rhythmOf } from './rhythm';
import { bestRow, type Candidate, type Cost, compareCosts, type Row, type RowRules } from './search-row';
import { keyOutline, type Pose } from './shape';
import { type Fit, fittingSizes } from './size';

/** A part of a crack and what lies about it. */
export interface Rail {
  readonly crack: number;
  /** Place of the part among those of its crack. */
  readonly index: number;
  readonly part: CrackPart;
  readonly faces: readonly Key['face'][];
  /** What keys on it keep clear of, keys of other cracks left out. */
  readonly obstacles: readonly Obstacle[];
  readonly grain: number | null;
  /** Where on it a key stands that stands `s` mm along the stretch. */
  along(s: number): number;
}

/** A stretch that gets one row of keys: a part of a crack, or two that mirror each other and are keyed alike. */
export interface Stretch {
  readonly rails: readonly Rail[];
  readonly length: number;
  readonly widest: number;
  readonly rhythm: Rhythm;
  /** Sizes that suit it, best first; where none does, why. */
  readonly fits: readonly Fit[];
  readonly reason: string;
}

/** A place where a key may stand: on each rail. */
export interface Place extends Candidate {
  readonly poses: readonly Pose[];
  readonly outlines: readonly Polygon<'top'>[];
}

/** What was found for a stretch. */
export interface Keyed {
  readonly keys: readonly Place[];
  readonly cost: Cost;
}

/** Step of the places that are tried, mm; those of an even row are tried besides. */
const STEP = 1;
/** The same for a line that curls, as no crack does, mm: many of its keys lie in each other's way, and each two must be looked at. */
const CURLED_STEP = 6;
/** A line that is so many times as long as its tips are apart curls. */
const CURLED = 2;
/** No row is tried with more keys than this. */
const MOST_KEYS = 200;

/** The parts of a crack with what lies about each. */
export function railsOf(input: KeysInput, crack: number, obstacles: readonly Obstacle[]): Rail[] {
  const given = input.cracks[crack] as KeysInput['cracks'][number];
  return facePartsOf(given, input.top.outline).map(({ part, faces }, index) => ({
    crack,
    index,
    part,
    faces,
    obstacles,
    grain: given.grain ?? input.top.grain ?? null,
    along: (s) => s,
  }));
}

/** A stretch of one rail or of two that mirror each other. */
export function stretchOf(rails: readonly [Rail, ...Rail[]], input: KeysInput): Stretch {
  const [{ part }] = rails;
  const widest = Math.max(...rails.map((rail) => rail.part.widest));
  const both = rails.some(({ crack }) => input.cracks[crack]?.faces === 'both');
  const { fits, reason } = fittingSizes(
    input.sizes,
    { widest: input.rules.mixed ? Math.min(...rails.map((rail) => narrowest(rail.part))) : widest, both },
    input,
  );
  return { rails, length: part.length, widest, rhythm: rhythmOf(part, input.rules.rhythm), fits, reason };
}

const narrowest = ({ length, widthAt }: CrackPart): number =>
  Math.min(...Array.from({ length: 33 }, (_, i) => widthAt((length * i) / 32)));

/** Pose of a key of a size `s` mm along a stretch, on one of its rails: square to the crack as it runs there, waist on it. */
export function poseOn({ part, along }: Rail, s: number, { size }: Fit): Pose {
  const own = along(s);
  return { at: part.at(own), turn: part.direction(own, size.end / 2) + Math.PI / 2 };
}

/** Width of the crack where a key would cross it: the widest over the key's own width, on any rail. */
export function widthAbout(rails: readonly Rail[], s: number, { size }: Fit): number {
  let widest = 0;
  for (const { part, along } of rails) {
    const own = along(s);
    widest = Math.max(widest, part.widthAt(own - size.end / 2), part.widthAt(own), part.widthAt(own + size.end / 2));
  }
  return widest;
}

/** What lies about a rail, ready to try keys of these sizes on it. */
export function siteOf(rail: Rail, fits: readonly Fit[], { top, rules }: KeysInput, more: readonly Obstacle[]): Site {
  const steps = 64;
  const line = Array.from({ length: steps + 1 }, (_, i) => rail.part.at((rail.part.length * i) / steps));
  const reach = Math.max(...fits.map(({ size }) => Math.hypot(size.length, size.end))) / 2 + rail.part.length / steps;
  return new Site(top.outline, [...rail.obstacles, ...more], rules, bounds(line), reach, rail.grain);
}

/** Lengths of the shortest and the longest rail over that of the stretch. */
function scalesOf({ rails, length }: Stretch): readonly [least: number, most: number] {
  const scales = rails.map(({ part }) => part.length / length);
  return [Math.min(...scales), Math.max(...scales)];
}

/** From a tip to the first key of a size, mm: in the middle of a crack that is too short for more. */
const tipOf = (fit: Fit, stretch: Stretch, rules: KeyRules): number =>
  Math.min((rules.tip * fit.size.length) / scalesOf(stretch)[0], stretch.length / 2);

/** What a row of these sizes keeps along a stretch. */
export function rowRules(stretch: Stretch, fits: readonly Fit[], rules: KeyRules): RowRules {
  const long = fits.map(({ size }) => size.length);
  const mean = (a: number, b: number) => ((long[a] as number) + (long[b] as number)) / 2;
  const tip = fits.map((fit) => tipOf(fit, stretch, rules));
  const [shrunk, stretched] = scalesOf(stretch);
  const clear = askedBy(rules, 'key');
  return {
    length: stretch.length,
    tip,
    mostToTip: tip.map((d, i) => d + (rules.spacing * (long[i] as number)) / 2),
    least: (a, b) => (rules.leastSpacing * mean(a, b)) / shrunk,
    most: (a, b) => (rules.spacing * mean(a, b)) / stretched,
    apart: (a, b) => placesApart(a as Place, b as Place, fits, clear),
    odd: rules.rhythm === 'odd',
  };
}

const reachOf = ({ size }: Fit): number => Math.hypot(size.length, size.end) / 2;

/** Whether two keys of a stretch keep clear of each other on every rail. */
export function placesApart(a: Place, b: Place, fits: readonly Fit[], clear: number): boolean {
  const far = reachOf(fits[a.size] as Fit) + reachOf(fits[b.size] as Fit) + clear;
  return a.poses.every(({ at: [ax, ay] }, i) =>
    b.poses.every(({ at: [bx, by] }, k) => {
      if (Math.hypot(ax - bx, ay - by) >= far) return true;
      return areaGap(a.outlines[i] as Polygon<'top'>, b.outlines[k] as Polygon<'top'>, clear - 1e-6) === null;
    }),
  );
}

/**
 * Every place along a stretch where a key of one of these sizes keeps the rules, in order.
 * @param worst sizes that suit the crack less than this are left out
 */
export function placesOn(
  stretch: Stretch,
  fits: readonly Fit[],
  input: KeysInput,
  more: readonly Obstacle[],
  { step = stepOf(stretch), worst = Infinity }: { readonly step?: number; readonly worst?: number } = {},
): Place[] {
  const { rails, length, rhythm } = stretch;
  const { rules } = input;
  const sites = rails.map((rail) => siteOf(rail, fits, input, more));
  return fits
    .flatMap((fit, size) =>
      positions(stretch, fit, rules, step).flatMap((s): Place[] => {
        const misfit = rules.mixed ? misfitAt(stretch, s, fits, size, rules) : 0;
        if (misfit === null || misfit > worst) return [];
        const poses = rails.map((rail) => poseOn(rail, s, fit));
        const outlines = poses.map((pose) => keyOutline(fit.size, pose));
        const clear = sites.every(
          (site, i) => site.objection(outlines[i] as Polygon<'top'>, fit.size, poses[i] as Pose) === null,
        );
        return clear ? [{ s, u: rhythm.measure(s), size, misfit, poses, outlines }] : [];
      }),
    )
    .filter(({ outlines: [a, b] }) => !a || !b || areaGap(a, b, askedBy(rules, 'key')) === null)
    .filter(({ s }) => s >= 0 && s <= length)
    .sort((a, b) => a.s - b.s || a.size - b.size);
}

const stepOf = ({ rails: [rail], length }: Stretch): number =>
  rail && length > CURLED * distance(rail.part.at(0), rail.part.at(rail.part.length)) ? CURLED_STEP : STEP;

/** Places that are tried for one size: step by step between the tips, and those of every row in rhythm. */
function positions(stretch: Stretch, fit: Fit, rules: KeyRules, step: number): number[] {
  const { length, rhythm } = stretch;
  const first = tipOf(fit, stretch, rules);
  const last = length - first;
  const span = last - first;
  if (span <= 0) return [length / 2];
  const long = fit.size.length;
  const range = [
    Math.max(1, Math.floor(span / (rules.spacing * long))),
    Math.min(MOST_KEYS, Math.floor(span / (rules.leastSpacing * long)) + 1),
  ] as const;
  const all = [
    ...Array.from({ length: Math.floor(span / step) + 1 }, (_, i) => first + i * step),
    length / 2,
    ...inRhythm([first, last], range, rhythm),
  ].sort((a, b) => a - b);
  return all.filter((s, i) => i === 0 || s - (all[i - 1] as number) > 1e-7);
}

/** How far down the list of sizes that are long enough for the crack just here a size stands; null where it is too short. */
function misfitAt({ rails }: Stretch, s: number, fits: readonly Fit[], size: number, rules: KeyRules): number | null {
  let smaller = 0;
  for (let i = 0; i <= size; i++) {
    const fit = fits[i] as Fit;
    const enough = fit.size.length >= rules.width * widthAbout(rails, s, fit) - 1e-9;
    if (i === size) return enough ? smaller : null;
    if (enough) smaller++;
  }
  return null;
}

/**
 * The best row of keys along a stretch: of one size, the first whose row leaves nothing out, else the one that leaves out least; or of sizes mixed.
 * Null where no key fits.
 */
export function keyed(stretch: Stretch, input: KeysInput, more: readonly Obstacle[]): Keyed | null {
  const { rules } = input;
  const fits = stretch.fits.filter(({ size }) => size.end <= stretch.length + 1e-9);
  const tried = rules.mixed ? [fits] : fits.map((fit) => [fit]);
  let best: Keyed | null = null;
  for (const [rank, sizes] of tried.entries()) {
    if (sizes.length === 0) continue;
    const asked = rowRules(stretch, sizes, rules);
    // A row that leaves nothing out, of the sizes that suit best, is better than any with others: these are tried first.
    const suited = bestRow(placesOn(stretch, sizes, input, more, { worst: 0 }), asked);
    const row =
      rules.mixed && (suited?.cost.over ?? 1) > 1e-6 ? bestRow(placesOn(stretch, sizes, input, more), asked) : suited;
    if (!row) continue;
    const keys = untangled(row, sizes, askedBy(rules, 'key')).map((key) => ({
      ...key,
      size: stretch.fits.indexOf(sizes[key.size] as Fit),
    }));
    const made = { keys, cost: { ...row.cost, misfit: row.cost.misfit + (rules.mixed ? 0 : rank) } };
    if (!best || compareCosts(made.cost, best.cost) < 0) best = made;
    if (row.cost.over < 1e-6) break;
  }
  return best;
}

/** A row without the keys that lie in the way of others that are not their neighbours, as where a crack turns back on itself. */
function untangled({ keys }: Row, fits: readonly Fit[], clear: number): Place[] {
  const kept: Place[] = [];
  for (const key of keys as readonly Place[]) {
    if (kept.every((other) => placesApart(other, key, fits, clear))) kept.push(key);
  }
  return kept;
}

/** Where on the top a stretch's first rail runs, `s` mm along it. */
export const pointOn = ({ rails }: Stretch, s: number): Point<'top'> => {
  const rail = rails[0] as Rail;
  return rail.part.at(rail.along(s));
};
