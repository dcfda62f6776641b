import type { KeyRules, KeySize, Router } from '../job';
import type { KeysInput } from './io';
import { sayIn } from './say';
import { tooWideFor } from './shape';

/** A size that suits a crack, with the depth its pocket gets. */
export interface Fit {
  readonly size: KeySize;
  readonly depth: number;
}

const BIT_SAYS = { waist: 'the bit is wider than the waist', corners: 'the bit is too wide for its ends' } as const;

/** Why a bit cannot cut a size's pocket, or null. */
function bitProblem(size: KeySize, { bit }: Router): string | null {
  const [first] = tooWideFor(size, bit);
  return first ? BIT_SAYS[first] : null;
}

/**
 * Depth of a size's pocket in wood of this finished thickness: the shallowest that reaches the wanted share, else the deepest that
 * reaches the least share; never over the most share nor into the floor. With `both`, two pockets lie back to back.
 */
function pocketDepth(size: KeySize, thickness: number, both: boolean, { depth }: KeyRules): number | null {
  const deepest = Math.min(depth.most * thickness, (thickness - depth.floor) / (both ? 2 : 1));
  const SLACK = 1e-9;
  const able = size.depths
    .filter((d) => d <= deepest + SLACK && d >= depth.least * thickness - SLACK)
    .sort((a, b) => a - b);
  return able.find((d) => d >= depth.wanted * thickness - SLACK) ?? able.at(-1) ?? null;
}

/**
 * Sizes that suit a crack of this width, best first: those whose pocket reaches the wanted depth before those that do not, and of
 * these the shortest first, since a longer key moves more with the seasons. None: the reason, in a sentence.
 */
export function fittingSizes(
  sizes: readonly KeySize[],
  crack: { readonly widest: number; readonly both: boolean },
  { top: { thickness }, router, rules, units }: Pick<KeysInput, 'top' | 'router' | 'rules' | 'units'>,
): { readonly fits: readonly Fit[]; readonly reason: string } {
  const say = sayIn(units);
  const longEnough = sizes.filter((size) => size.length >= rules.width * crack.widest - 1e-9);
  if (longEnough.length === 0) {
    const longest = Math.max(...sizes.map((size) => size.length));
    return {
      fits: [],
      reason: `The crack is ${say(crack.widest)} wide and asks for a key ${say(rules.width * crack.widest)} long; the longest is ${say(longest)}: fill it, or keep templates for a longer one.`,
    };
  }
  const { longest } = rules;
  const shortEnough = longEnough.filter(({ length }) => longest === undefined || length <= longest + 1e-9);
  if (shortEnough.length === 0)
    return {
      fits: [],
      reason: `The rules allow no key over ${say(longest as number)}, and every one that is long enough for the crack is longer.`,
    };
  const cut = shortEnough.filter((size) => !router || bitProblem(size, router) === null);
  if (router && cut.length === 0) {
    const why = shortEnough.map((size) => `"${size.id}": ${bitProblem(size, router)}`).join('; ');
    return { fits: [], reason: `A bit of ${say(router.bit)} cuts none of the sizes that are long enough (${why}).` };
  }
  const fits = cut.flatMap((size) => {
    const depth = pocketDepth(size, thickness, crack.both, rules);
    return depth === null ? [] : [{ size, depth }];
  });
  const wanted = rules.depth.wanted * thickness;
  fits.sort(
    (a, b) => Number(b.depth >= wanted - 1e-9) - Number(a.depth >= wanted - 1e-9) || a.size.length - b.size.length,
  );
  const { least, most, floor } = rules.depth;
  const deepest = Math.min(most * thickness, (thickness - floor) / (crack.both ? 2 : 1));
  const range =
    deepest < least * thickness
      ? `a pocket of at least ${say(least * thickness)} leaves less than ${say(floor)} of wood`
      : `a pocket ${crack.both ? 'in each face ' : ''}is ${say(least * thickness)} to ${say(deepest)} deep`;
  return { fits, reason: `In ${say(thickness)} of wood ${range}, and no size that is long enough has such a depth.` };
}
