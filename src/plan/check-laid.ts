import { type Affine, applyAll, distanceToRing, type Frame, offset, type Polygon, type Region } from '../geometry';
import { type Face, HAND_SIGMA, type Job, type Placement, type Strip, type Top } from '../job';
import { formatLength } from '../units';
import type { Rule, Verdict } from './report';

/** What all rules of the checker look at, and how they say what they find. */

/** Lengths are held to this, mm. */
export const CLOSE = 0.05;

export type Fault = Verdict['faults'][number];

/** A placement of the plan with the top that it is for. */
export interface LaidTop {
  readonly job: Job;
  readonly top: Top;
  readonly placement: Placement;
  readonly where: string;
  readonly strips: readonly LaidStrip[];
}

/** One strip of it on its slab, whose outline is there. */
export interface LaidStrip {
  readonly job: Job;
  readonly top: Top;
  readonly strip: Strip;
  /** From 0 at the front of the top. */
  readonly index: number;
  readonly face: Face & { readonly outline: Region<'face'> };
  /** Two sigma of the outline. */
  readonly margin: number;
  readonly toTop: Affine<'face', 'top'>;
  /** The finished piece in the top's frame. */
  readonly inTop: Polygon<'top'>;
  readonly where: string;
}

/** A placement with the strips of it whose slab still has an outline. */
export function layTop(job: Job, top: Top, placement: Placement, where: string): LaidTop {
  const strips = placement.strips.flatMap((strip, index): LaidStrip[] => {
    const face = job.flitches[strip.flitch]?.slabs[strip.slab]?.faces[strip.face];
    if (!face?.outline) return [];
    const toTop: Affine<'face', 'top'> = { m: strip.toTop };
    return [
      {
        job,
        top,
        strip,
        index,
        face: { ...face, outline: face.outline },
        margin: 2 * (face.outlineSigma ?? HAND_SIGMA),
        toTop,
        inTop: applyAll(toTop, strip.finished),
        where: `${where}/strips/${index}`,
      },
    ];
  });
  return { job, top, placement, where, strips };
}

/** A list of faults that one rule after the other writes into, all about one place in the job. */
export interface Findings {
  readonly faults: Fault[];
  say(rule: Rule, message: string): void;
}

export function findings(where: string): Findings {
  const faults: Fault[] = [];
  return { faults, say: (rule, message) => void faults.push({ where, rule, message }) };
}

/** A length in the job's units, fine enough to show what was just too much. */
export const said = (job: Job, mm: number): string =>
  formatLength(mm, job.units, { unit: true, decimals: 2, denominator: 32 });

export const solid = <F extends Frame>(ring: Polygon<F>): Region<F> => ({ outer: ring, holes: [] });

/** What of some regions is wider than the rounding of lengths: the rest is no fault. Narrower by that rounding all around. */
export const beyondRounding = <F extends Frame>(regions: readonly Region<F>[]): Region<F>[] =>
  regions.length === 0 ? [] : offset(regions, -CLOSE / 2, 'mitre');

/** How far regions reach from a ring's edge, mm, at their farthest corner. */
export function reachFrom<F extends Frame>(regions: readonly Region<F>[], rings: readonly Polygon<F>[]): number {
  let most = 0;
  for (const { outer } of regions)
    for (const p of outer) most = Math.max(most, Math.min(...rings.map((ring) => distanceToRing(p, ring))));
  return most + CLOSE / 2;
}
