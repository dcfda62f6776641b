import type { Plan } from '../job';
import type { Highs } from '../search';
import type { Candidate } from './candidate';
import { alike, bestChoice, type Choice, type Conflicts, type Option } from './choose';
import type { KeptPlaces } from './kept-places';
import type { Valuer } from './worth';

/** What is wrong with a plan, and where. */
export interface PlanFault {
  readonly where: string;
  readonly message: string;
}

/** What a checker says of a plan: nothing where it passes. The solver knows no checker of its own, so that the two share nothing. */
export type Checker = (plan: Pick<Plan, 'placements' | 'misses'>) => readonly PlanFault[];

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

/** What a checker says of places together. What it says of fixed places alone is not the choice's fault. */
export function faultsOf(
  { check, fixed }: Choosing,
  candidates: readonly Candidate[],
  misses: Plan['misses'] = [],
): string[] {
  const says = (of: readonly Candidate[]) =>
    check({ placements: Object.fromEntries(of.map(({ top, placement }) => [top.id, placement])), misses });
  const given = fixed.length === 0 ? [] : says(fixed).map(({ where, message }) => where + message);
  return says(candidates).flatMap(({ where, message }) => (given.includes(where + message) ? [] : [message]));
}

/**
 * The best choice whose places are measured and pass the checker: what turns out thinner than the first sieve said is weighed again, what the
 * checker does not pass is let go.
 * @param allowed which options may be chosen
 */
export function choose(choosing: Choosing, allowed: (option: Option) => boolean = () => true): Choice {
  const { highs, kept, valuer, conflicts, fixed } = choosing;
  for (;;) {
    const choice = bestChoice(highs, kept.options().filter(allowed), valuer, conflicts, fixed);
    // Every one is measured, so that one look again serves them all.
    const changed = choice.options.filter((option) => kept.measure(option));
    if (changed.length > 0) continue;
    const faults = faultsOf(choosing, choice.candidates);
    if (faults.length === 0 || choice.options.length === 0) return choice;
    blame(choosing, choice.options, faults[0] as string);
  }
}

/** Lets go of the places that a checker does not pass: each by itself, then in pairs, else the last of all. */
function blame(choosing: Choosing, options: readonly Option[], fault: string): void {
  const { kept, conflicts, fixed } = choosing;
  const says = (...together: readonly Option[]): string | undefined =>
    faultsOf(choosing, [...fixed, ...together.flat()])[0];
  let found = false;
  for (const option of options) {
    const why = says(option);
    if (why === undefined) continue;
    kept.ban(option, why);
    found = true;
  }
  if (found) return;
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
