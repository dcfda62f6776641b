import type { Highs } from 'highs';

export type { Highs };

/** Something that can be chosen or left. */
export interface Candidate {
  /** What choosing it is worth; more is better. One of no worth is never chosen. */
  readonly value: number;
  /** At most one candidate of a group is chosen (the places of one top, say). */
  readonly group: string;
}

export interface ChoiceInput {
  readonly candidates: readonly Candidate[];
  /** Pairs of candidates, by index, of which at most one is chosen (two pieces that overlap, say). */
  readonly conflicts: readonly (readonly [number, number])[];
  /** Most branches that the solver may look at; without it, as many as it takes to prove the best. */
  readonly nodes?: number;
}

export interface Choice {
  /** Indices of the chosen candidates, rising. */
  readonly chosen: readonly number[];
  readonly value: number;
  /** How much better than `value` the best could still be, as a share of `value`; 0 is proven best. */
  readonly gap: number;
}

/**
 * The choice of most worth among candidates that exclude each other: one of a group, and not both of a conflicting pair.
 * Same input, same answer: only nodes limit it, never time. It blocks, so it belongs in a worker.
 * @param highs the loaded mixed-integer solver
 * @throws RangeError when a value is not finite or a conflict names no candidate
 */
export function solveChoice(highs: Highs, input: ChoiceInput): Choice {
  throw new Error(`not yet ${highs.version.string} ${input.candidates.length}`);
}
