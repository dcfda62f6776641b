import { difference, largestRing, offset, type Point, type Polygon, type Region } from '../geometry';
import type { KeySize, Router } from '../job';
import { type Say, sayIn } from './say';
import { cornerOf, flareOf, keyOutline, openingFor, standOff, tooWideFor } from './shape';

/** How a pocket is cut along a template. Rings lie in the key's own frame: x along its length, origin at its middle; mm. */
export interface Template {
  /** From the template's edge to the cut: half of bushing less bit. */
  readonly offset: number;
  /** What is sawn out of the template. */
  readonly opening: Polygon<'top'>;
  /** What the bit really clears as the bushing rolls along the opening. */
  readonly routed: Polygon<'top'>;
  /** Where the middle of bushing and bit stands in a corner. */
  readonly inCorner: Point<'top'>;
  /** What the chisel takes after it: one area for every corner of the pocket. */
  readonly chisel: readonly Polygon<'top'>[];
  /** From a corner of the pocket, along its end, to where the bit's round begins. */
  readonly corner: number;
  /** How much fuller than the key the pocket is on each side of the waist, since the bushing rolls round the template's point. */
  readonly fuller: number;
  /** Whether bushing and bit follow the opening all round; how deep they reach is another matter. */
  readonly follows: boolean;
  /** What cannot be cut so, a sentence each; none where all can. */
  readonly problems: readonly string[];
}

/** What rounding to micrometres may be off along a side, mm, with some to spare. */
const ROUNDED = 0.01;

/** The wood that a round tool clears whose middle may go wherever a disc of `held` diameter stays inside `opening`. */
export function cleared(opening: Polygon<'top'>, held: number, bit: number): Region<'top'>[] {
  return offset(offset([{ outer: opening, holes: [] }], -held / 2), bit / 2);
}

/** Width of an opening at its waist. */
export const waistOf = (opening: Polygon<'top'>): number =>
  2 * Math.min(...opening.map(([x, y]) => (x === 0 ? Math.abs(y) : Infinity)));

/**
 * The template of a size's pocket: every side of the key moved outward, square to itself, by half of bushing less bit (read), so that the
 * length grows by twice that and the waist by twice that over the cosine of the flare. A bushing cannot follow the template's
 * point at the waist but rolls round it: the pocket is fuller there by the offset times (1 / cos of the flare - 1) on each side.
 * @param depth how deep the pocket goes, mm
 * @param say how a sentence names a length
 */
export function templateOf(size: KeySize, depth: number, router: Router, say: Say = sayIn('mm')): Template {
  const by = standOff(router);
  const opening = openingFor(size, by);
  const pieces = by > 0 ? cleared(opening, router.bushing, router.bit) : [];
  const routed = largestRing(pieces) ?? [];
  const stops = routerProblems(size, router, say);
  // Grown by less than a pencil line, so that what rounding leaves along a side does not tie two corners together.
  const chisel =
    stops.length > 0 || routed.length === 0
      ? []
      : difference(
          [{ outer: keyOutline(size), holes: [] }],
          offset([{ outer: routed, holes: [] }], ROUNDED, 'mitre'),
        ).map(({ outer }) => outer);
  return {
    offset: by,
    opening,
    routed,
    inCorner: openingFor(size, -router.bit / 2)[0] as Point<'top'>,
    chisel,
    corner: cornerOf(size, router.bit),
    fuller: Math.max(0, by) * (1 / Math.cos(flareOf(size)) - 1),
    follows: stops.length === 0,
    problems: [...stops, ...depthProblem(depth, router, say)],
  };
}

/** What keeps a bit from the foot of a pocket. */
const depthProblem = (depth: number, { reach }: Router, say: Say): string[] =>
  reach === undefined || reach >= depth
    ? []
    : [
        `The bit cuts ${say(reach)} under the template and the pocket is ${say(depth)} deep: take a longer bit or a thinner template, or cut the rest without the template, with a bit whose bearing runs on the pocket's wall.`,
      ];

/** What keeps a bushing and bit from following a pocket's opening, a sentence each with its mend. */
function routerProblems(size: KeySize, router: Router, say: Say): string[] {
  const { bushing, bit } = router;
  if (bushing <= bit)
    return [`A bushing of ${say(bushing)} lets no bit of ${say(bit)} through: take a wider bushing or a narrower bit.`];
  const waist = waistOf(openingFor(size, standOff(router)));
  const tooWide = tooWideFor(size, bit);
  const found: string[] = [];
  if (tooWide.includes('waist'))
    found.push(
      `A bit of ${say(bit)} is wider than the waist of "${size.id}", ${say(size.waist)}: take a narrower bit.`,
    );
  else if (waist < bushing)
    found.push(
      `A bushing of ${say(bushing)} does not pass the waist of the template for "${size.id}", ${say(waist)}: take a smaller bushing or a narrower bit.`,
    );
  if (tooWide.includes('corners'))
    found.push(
      `A bit of ${say(bit)} does not reach the corners of "${size.id}": its rounds would meet; take a narrower bit.`,
    );
  return found;
}
