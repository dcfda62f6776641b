import type { Highs, ModelData } from 'highs';

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
  const { candidates, conflicts, nodes } = input;
  if (candidates.some(({ value }) => !Number.isFinite(value)))
    throw new RangeError('A candidate has a value that is not finite.');
  if (conflicts.some((pair) => pair.some((i) => candidates[i] === undefined))) {
    throw new RangeError('A conflict names a candidate that is not there.');
  }
  const rivals = rivalsOf(candidates, conflicts);
  const quick = greedy(candidates, rivals);
  if (quick.length === 0) return { chosen: [], value: 0, gap: 0 };

  return highs.withModel(modelOf(highs, candidates, cliquesOf(rivals)), (model) => {
    model.options.set({
      output_flag: false,
      mip_rel_gap: 0,
      mip_abs_gap: 0,
      ...(nodes === undefined ? {} : { mip_max_nodes: nodes }),
    });
    const { modelStatus } = model.run();
    const proven = modelStatus === highs.constants.modelStatus.optimal;
    // With few nodes the solver may stop before it has any choice: the quick one stands in, and the bound tells how good it is.
    const found = proven || model.info.get('primal_solution_status') === 2 ? picked(model.getSolution().colValue) : [];
    const chosen = worth(candidates, found) >= worth(candidates, quick) ? found : quick;
    const value = worth(candidates, chosen);
    const bound = Math.min(Number(model.info.get('mip_dual_bound')), bestOfEachGroup(candidates));
    return { chosen, value, gap: proven ? 0 : Math.max(0, (bound - value) / value) };
  });
}

const worth = (candidates: readonly Candidate[], chosen: readonly number[]): number =>
  chosen.reduce((sum, i) => sum + (candidates[i] as Candidate).value, 0);

/** A bound that needs no solver: every group gives its best, conflicts or not. */
function bestOfEachGroup(candidates: readonly Candidate[]): number {
  const best = new Map<string, number>();
  for (const { value, group } of candidates) best.set(group, Math.max(value, best.get(group) ?? 0));
  return [...best.values()].reduce((sum, value) => sum + value, 0);
}

const picked = (columns: Float64Array): number[] => [...columns.keys()].filter((i) => (columns[i] as number) > 0.5);

/** For each candidate, those that cannot be chosen with it. One without worth takes no part. */
function rivalsOf(candidates: readonly Candidate[], conflicts: ChoiceInput['conflicts']): Map<number, Set<number>> {
  const rivals = new Map<number, Set<number>>();
  const groups = new Map<string, number[]>();
  candidates.forEach(({ value, group }, i) => {
    if (value <= 0) return;
    const mates = groups.get(group) ?? [];
    groups.set(group, mates);
    rivals.set(i, new Set(mates));
    for (const mate of mates) rivals.get(mate)?.add(i);
    mates.push(i);
  });
  for (const [i, j] of conflicts) {
    if (i === j || !rivals.has(i) || !rivals.has(j)) continue;
    rivals.get(i)?.add(j);
    rivals.get(j)?.add(i);
  }
  return rivals;
}

/** Take the most worthy that still fits, again and again. */
function greedy(candidates: readonly Candidate[], rivals: Map<number, Set<number>>): number[] {
  const chosen = new Set<number>();
  const byWorth = [...rivals.keys()].sort(
    (i, j) => (candidates[j] as Candidate).value - (candidates[i] as Candidate).value || i - j,
  );
  for (const i of byWorth) {
    if (![...(rivals.get(i) as Set<number>)].some((j) => chosen.has(j))) chosen.add(i);
  }
  return [...chosen].sort((i, j) => i - j);
}

/**
 * Sets of candidates that all exclude each other, so that every excluding pair lies in one of them. One row for a set binds the
 * relaxed program far more tightly than one row for each of its pairs.
 */
function cliquesOf(rivals: Map<number, Set<number>>): number[][] {
  const done = new Set<number>();
  const key = (i: number, j: number): number => Math.min(i, j) * 2 ** 26 + Math.max(i, j);
  const cliques: number[][] = [];
  for (const [i, others] of rivals) {
    for (const j of others) {
      if (j < i || done.has(key(i, j))) continue;
      const clique = [i, j];
      for (const k of others) {
        if (k !== j && clique.every((m) => rivals.get(k)?.has(m))) clique.push(k);
      }
      clique.forEach((a, n) => {
        for (const b of clique.slice(n + 1)) done.add(key(a, b));
      });
      cliques.push(clique);
    }
  }
  return cliques;
}

/** maximise sum value x, with the sum over each clique at most 1 and each x 0 or 1. */
function modelOf(highs: Highs, candidates: readonly Candidate[], cliques: readonly number[][]): ModelData {
  const columns = candidates.length;
  const starts = [0];
  for (const clique of cliques) starts.push((starts.at(-1) as number) + clique.length);
  const indices = cliques.flat();
  return {
    numCols: columns,
    numRows: cliques.length,
    sense: highs.constants.objectiveSense.maximize,
    colCost: candidates.map(({ value }) => value),
    colLower: new Float64Array(columns),
    colUpper: candidates.map(({ value }) => (value > 0 ? 1 : 0)),
    rowLower: new Float64Array(cliques.length).fill(-highs.infinity),
    rowUpper: new Float64Array(cliques.length).fill(1),
    matrix: { format: 'csr', numRows: cliques.length, numCols: columns, starts, indices, values: indices.map(() => 1) },
    integrality: candidates.map(() => highs.constants.variableType.integer),
  };
}
