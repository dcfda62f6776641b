import type { Candidate } from './candidate';
import type { Choice, Option } from './choose';
import { type Choosing, choose } from './chosen';

const isReglued = ({ placement }: Candidate): boolean => placement.joints.some(({ made }) => made === 'reglued');

/**
 * The choices, and one more where a crack could be ripped out and glued shut and none of them does: the maker is to see both. Of several such
 * tops the deepest and longest is reglued.
 */
export function withReglued(choosing: Choosing, choices: readonly Choice[]): Choice[] {
  const [first] = choices;
  const reglued = (option: Option): boolean => option.some(isReglued);
  if (!first || choices.some(({ candidates }) => candidates.some(isReglued))) return [...choices];
  const tops = choosing.kept.options().filter(reglued).flat();
  const [largest] = tops.map(({ top }) => top).sort((a, b) => b.length * b.depth[0] - a.length * a.depth[0]);
  if (!largest) return [...choices];
  const of = (option: Option): boolean => option.some(({ top }) => top.id === largest.id);
  const choice = choose(choosing, (option) => !of(option) || reglued(option));
  const whole = choice.candidates.length >= first.candidates.length && choice.candidates.some(isReglued);
  return whole ? [...choices, choice] : [...choices];
}
