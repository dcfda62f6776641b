import type { Highs, ModelData } from 'highs';

export type { Highs };

/** Something that can be chosen or left. */
export interface Candidate {
  /** What choosing it is worth; more is better. One of no worth is never chosen. */
  readonly value: number;
  /** At most one candidate of a group is chosen (the places of one top, say). One may stand in several groups: a run of tops. */
  readonly groups: readonly string[];
}

/** What it costs to choose any of some candidates, once, however many of them are chosen (a slab that is opened, say). */
export interface Charge {
  /** Not negative. */
  readonly charge: number;
  /** Candidates by index. */
  readonly candidates: readonly number[];
}

export interface ChoiceInput {
  readonly candidates: readonly Candidate[];
  /** Pairs of candidates, by index, of which at most one is chosen (two pieces that overlap, say). */
  readonly conflicts: readonly (readonly [number, number])[];
  readonly charges?: readonly Charge[];
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
 * The choice of most worth, charges taken off, among candidates that exclude each other: one of a group, and not both of a conflicting pair.
 * Same input, same answer: only nodes limit it, never time. It blocks, so it belongs in a worker.
 * @param highs the loaded mixed-integer solver
 * @throws RangeError when a value is not finite, a charge is below 0, or a conflict or charge names no candidate
 */
export function solveChoice(highs: Highs, input: ChoiceInput): Choice {
  const { candidates, conflicts, charges = [], nodes } = input;
  if (candidates.some(({ value }) => !Number.isFinite(value)))
    throw new RangeError('A candidate has a value that is not finite.');
  if ([...conflicts, ...charges.map((one) => one.candidates)].some((of) => of.some((i) => !candidates[i]))) {
    throw new RangeError('A conflict or a charge names a candidate that is not there.');
  }
  if (!charges.every(({ charge }) => charge >= 0 && Number.isFinite(charge)))
    throw new RangeError('A charge must not be negative.');
  const rivals = rivalsOf(candidates, conflicts);
  const quick = greedy(input, rivals);
  if (quick.length === 0 && charges.length === 0) return { chosen: [], value: 0, gap: 0 };

  return highs.withModel(modelOf(highs, input, cliquesOf(rivals)), (model) => {
    model.options.set({
      output_flag: false,
      mip_rel_gap: 0,
      mip_abs_gap: 0,
      ...(nodes === undefined ? {} : { mip_max_nodes: nodes }),
    });
    const { modelStatus } = model.run();
    const proven = modelStatus === highs.constants.modelStatus.optimal;
    // With few nodes the solver may stop before it has any choice: the quick one stands in, and the bound tells how good it is.
    const found =
      proven || model.info.get('primal_solution_status') === 2
        ? picked(model.getSolution().colValue.subarray(0, candidates.length))
        : [];
    const chosen = worth(input, found) >= worth(input, quick) ? found : quick;
    const value = worth(input, chosen);
    const bound = Math.min(Number(model.info.get('mip_dual_bound')), bestOfEachGroup(candidates));
    return { chosen, value, gap: proven ? 0 : Math.max(0, (bound - value) / Math.max(value, Number.MIN_VALUE)) };
  });
}

function worth({ candidates, charges = [] }: ChoiceInput, chosen: readonly number[]): number {
  const taken = new Set(chosen);
  const paid = charges.filter((one) => one.candidates.some((i) => taken.has(i)));
  return (
    chosen.reduce((sum, i) => sum + (candidates[i] as Candidate).value, 0) -
    paid.reduce((sum, { charge }) => sum + charge, 0)
  );
}

/** A bound that needs no solver: every group gives its best, conflicts and charges or not. What stands in several groups is shared out among them. */
function bestOfEachGroup(candidates: readonly Candidate[]): number {
  const best = new Map<string, number>();
  for (const { value, groups } of candidates) {
    const own = new Set(groups);
    for (const group of own) best.set(group, Math.max(value / own.size, best.get(group) ?? 0));
  }
  return [...best.values()].reduce((sum, value) => sum + value, 0);
}

const picked = (columns: Float64Array): number[] => [...columns.keys()].filter((i) => (columns[i] as number) > 0.5);

/** For each candidate, those that cannot be chosen with it. One without worth takes no part. */
function rivalsOf(candidates: readonly Candidate[], conflicts: ChoiceInput['conflicts']): Map<number, Set<number>> {
  const rivals = new Map<number, Set<number>>();
  const members = new Map<string, number[]>();
  candidates.forEach(({ value, groups }, i) => {
    if (value <= 0) return;
    const own = new Set<number>();
    rivals.set(i, own);
    for (const group of groups) {
      const mates = members.get(group) ?? [];
      members.set(group, mates);
      for (const mate of mates) {
        if (mate === i) continue;
        own.add(mate);
        rivals.get(mate)?.add(i);
      }
      mates.push(i);
    }
  });
  for (const [i, j] of conflicts) {
    if (i === j || !rivals.has(i) || !rivals.has(j)) continue;
    rivals.get(i)?.add(j);
    rivals.get(j)?.add(i);
  }
  return rivals;
}

/** Take the most worthy that still fits and pays for what it opens, again and again. */
function greedy({ candidates, charges = [] }: ChoiceInput, rivals: Map<number, Set<number>>): number[] {
  const charged = new Map<number, Charge[]>();
  for (const one of charges) for (const i of one.candidates) charged.set(i, [...(charged.get(i) ?? []), one]);
  const paid = new Set<Charge>();
  const chosen = new Set<number>();
  const byWorth = [...rivals.keys()].sort(
    (i, j) => (candidates[j] as Candidate).value - (candidates[i] as Candidate).value || i - j,
  );
  for (const i of byWorth) {
    if ([...(rivals.get(i) as Set<number>)].some((j) => chosen.has(j))) continue;
    const opened = (charged.get(i) ?? []).filter((one) => !paid.has(one));
    if ((candidates[i] as Candidate).value <= opened.reduce((sum, { charge }) => sum + charge, 0)) continue;
    chosen.add(i);
    for (const one of opened) paid.add(one);
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

/**
 * maximise sum value x - sum charge y, with the sum over each clique at most 1, x 0 or 1, and y at least the sum of the x of each group that it is
 * charged for, of which one at most is 1.
 */
function modelOf(highs: Highs, { candidates, charges = [] }: ChoiceInput, cliques: readonly number[][]): ModelData {
  const columns = candidates.length + charges.length;
  const rows: { readonly indices: number[]; readonly values: number[]; readonly upper: number }[] = cliques.map(
    (clique) => ({ indices: clique, values: clique.map(() => 1), upper: 1 }),
  );
  charges.forEach((one, k) => {
    const groups = new Map<string, Set<number>>();
    for (const i of one.candidates) {
      const { groups: own } = candidates[i] as Candidate;
      for (const group of own) groups.set(group, (groups.get(group) ?? new Set()).add(i));
    }
    for (const members of groups.values()) {
      const indices = [...members, candidates.length + k];
      rows.push({ indices, values: indices.map((_, n) => (n < members.size ? 1 : -1)), upper: 0 });
    }
  });
  const starts = [0];
  for (const { indices } of rows) starts.push((starts.at(-1) as number) + indices.length);
  const { integer, continuous } = highs.constants.variableType;
  return {
    numCols: columns,
    numRows: rows.length,
    sense: highs.constants.objectiveSense.maximize,
    colCost: [...candidates.map(({ value }) => value), ...charges.map(({ charge }) => -charge)],
    colLower: new Float64Array(columns),
    colUpper: [...candidates.map(({ value }) => (value > 0 ? 1 : 0)), ...charges.map(() => 1)],
    rowLower: new Float64Array(rows.length).fill(-highs.infinity),
    rowUpper: rows.map(({ upper }) => upper),
    matrix: {
      format: 'csr',
      numRows: rows.length,
      numCols: columns,
      starts,
      indices: rows.flatMap(({ indices }) => indices),
      values: rows.flatMap(({ values }) => values),
    },
    integrality: [...candidates.map(() => integer), ...charges.map(() => continuous)],
  };
}
