import type { Plan } from '../job';
import type { Highs } from '../search';
import type { Candidate } from './candidate';
import { alike, bestChoice, type Choice, type Conflicts, type Option } from './choose';
import type { KeptPlaces } from './kept-places';
import type { Valuer } from './worth';

/** What a checker says of a plan: empty where it passes. The solver knows no checker of its own, so that the two share nothing. */
export type Checker = (placements: Plan['placements']) => readonly string[];

/** All that a choice is made with. */
export interface Choosing {
  readonly highs: Highs;
  readonly kept: KeptPlaces;
  readonly valuer: Valuer;
  readonly conflicts: Conflicts;
  /** Places that stay whatever is chosen. */
  readonly fixed: readonly Candidate[];
  readonly check: Checker;
}

/** Places by their tops, as a plan holds them. */
export const placementsOf = (candidates: readonly Candidate[]): Plan['placements'] =>
  Object.fromEntries(candidates.map(({ top, placement }) => [top.id, placement]));

/**
 * The best choice whose places are measured and pass the checker: what turns out thinner than the first sieve said is weighed again, what the
 * checker does not pass is let go.
 * @param allowed which options may be chosen
 */
export function choose(choosing: Choosing, allowed: (option: Option) => boolean = () => true): Choice {
  const { highs, kept, valuer, conflicts, fixed, check } = choosing;
  for (;;) {
    const choice = bestChoice(highs, kept.options().filter(allowed), valuer, conflicts, fixed);
    // Every one is measured, so that one look again serves them all.
    const changed = choice.options.filter((option) => kept.measure(option));
    if (changed.length > 0) continue;
    const faults = check(placementsOf(choice.candidates));
    if (faults.length === 0 || choice.options.length === 0) return choice;
    blame(choosing, choice.options, faults[0] as string);
  }
}

/** Lets go of the places that a checker does not pass: each by itself, then in pairs, else the last of all. */
function blame({ kept, conflicts, fixed, check }: Choosing, options: readonly Option[], fault: string): void {
  const says = (...together: readonly Option[]): string | undefined => check(placementsOf(together.flat()))[0];
  const alone = options.filter((option) => {
    const why = says(option) ?? (fixed.length > 0 ? says(fixed, option) : undefined);
    if (why !== undefined && says(fixed) === undefined) kept.ban(option, why);
    return why !== undefined;
  });
  if (alone.length > 0 && says(fixed) === undefined) return;
  let found = false;
  options.forEach((a, i) => {
    for (const b of options.slice(i + 1)) {
      if (says(a, b) === undefined) continue;
      conflicts.add(a, b);
      found = true;
    }
  });
  if (!found) kept.ban(options.at(-1) as Option, fault);
}

/**
 * The best choice, and then others that a maker would call different: each next one must place the largest top elsewhere.
 * A later choice that places fewer tops than the first is not offered.
 */
export function chooseSeveral(choosing: Choosing, count: number): Choice[] {
  const choices: Choice[] = [];
  const before: Candidate[] = [];
  while (choices.length < count) {
    const choice = choose(choosing, (option) => !option.some((one) => before.some((other) => alike(one, other))));
    const open = choice.options.flat();
    if (open.length === 0 || choice.candidates.length < (choices[0]?.candidates.length ?? 0)) break;
    choices.push(choice);
    before.push(open.reduce((a, b) => (b.top.length * b.top.depth[1] > a.top.length * a.top.depth[1] ? b : a)));
  }
  return choices;
}
