/**
 * The best row of keys along one crack: exact over the places and sizes that it is given, by dynamic programming along the crack.
 *
 * What is best, each before the next: least of the crack farther from a key than the rule allows (`over`); sizes that suit the crack (`misfit`); the
 * outer keys as near the tips as the rule allows (`shift`); the fewest keys (`count`); and the steadiest spacing (`value`: the sum of squared
 * gaps, in the rhythm's own measure). Each is a sum over keys and gaps, so the best row up to a key needs only the best rows up to the keys before it.
 */

/** A place where a key may stand. */
export interface Candidate {
  /** mm from the first tip. */
  readonly s: number;
  /** The same in the rhythm's measure, in which the keys stand evenly. */
  readonly u: number;
  /** Which size, by its place in the row's rules. */
  readonly size: number;
  /** How far down the list of sizes that suit the crack here this one stands, from 0. */
  readonly misfit: number;
}

/** What a row must keep. Distances in mm; the functions take sizes by their place. */
export interface RowRules {
  /** Of the crack, from tip to tip. */
  readonly length: number;
  /** From a tip to the first key. */
  readonly tip: readonly number[];
  /** Most from a tip to the first key before it counts as missing. */
  readonly mostToTip: readonly number[];
  /** Least and most between keys of two sizes that stand beside each other. */
  least(a: number, b: number): number;
  most(a: number, b: number): number;
  /** Whether two keys that keep the least distance are clear of each other: where a crack bends they may not be. */
  apart(a: Candidate, b: Candidate): boolean;
  /** Only an odd number of keys will do. */
  readonly odd: boolean;
}

export interface Cost {
  readonly over: number;
  readonly misfit: number;
  readonly shift: number;
  readonly count: number;
  readonly value: number;
}

export interface Row {
  readonly keys: readonly Candidate[];
  readonly cost: Cost;
}

/** Lengths nearer than this, mm, are alike. */
const ALIKE = 1e-6;

/** Less than 0 where `a` is better than `b`. */
export const compareCosts = (a: Cost, b: Cost): number => comparedWith(a, a.value, b, b.value);

export const addCosts = (a: Cost, b: Cost): Cost => ({
  over: a.over + b.over,
  misfit: a.misfit + b.misfit,
  shift: a.shift + b.shift,
  count: a.count + b.count,
  value: a.value + b.value,
});

/** What a key costs that is the first or the last, `d` mm from its tip. */
export function endCost(d: number, size: number, { tip, mostToTip }: RowRules): Cost {
  const shift = Math.max(0, d - (tip[size] as number));
  return { over: Math.max(0, d - (mostToTip[size] as number)), misfit: 0, shift, count: 0, value: shift ** 2 };
}

/** What the gap between two neighbours costs. Beyond the rule its value stays that of the widest gap: it is `over` that counts. */
export function gapCost(a: Candidate, b: Candidate, rules: RowRules): Cost {
  const most = rules.most(a.size, b.size);
  const gap = b.s - a.s;
  const over = Math.max(0, gap - most);
  return { over, misfit: 0, shift: 0, count: 0, value: over > 0 ? most ** 2 : (b.u - a.u) ** 2 };
}

const keyCost = ({ misfit }: Candidate): Cost => ({ over: 0, misfit, shift: 0, count: 1, value: 0 });

/** The best row that ends in a key, and the key before it in that row. */
interface Best {
  readonly cost: Cost;
  readonly before: Best | null;
  readonly key: Candidate;
}

/**
 * The best row of all that the candidates allow, or null where there is none.
 * @param candidates in the order of `s`
 */
export function bestRow(candidates: readonly Candidate[], rules: RowRules): Row | null {
  const sizes = rules.tip.length;
  const parities = rules.odd ? 2 : 1;
  const met = Array.from({ length: sizes * parities }, (): Best[] => []);
  const behind = Array.from({ length: sizes * sizes * parities }, (): Behind => ({ passed: 0, best: null }));
  let best: Best | null = null;
  for (const key of candidates) {
    const ends = new Array<Best | null>(parities).fill(null);
    ends[1 % parities] = {
      cost: addCosts(keyCost(key), endCost(key.s, key.size, rules)),
      before: null,
      key,
    };
    for (let i = 0; i < met.length; i++) {
      const [size, parity] = [Math.floor(i / parities), i % parities];
      const next = (parity + 1) % parities;
      const found = bestBefore(key, met[i] as Best[], behind[i * sizes + key.size] as Behind, size, rules);
      const known = ends[next];
      if (found && (!known || compareCosts(found.cost, known.cost) < 0)) ends[next] = found;
    }
    ends.forEach((end, parity) => {
      if (!end) return;
      (met[key.size * parities + parity] as Best[]).push(end);
      if (rules.odd && parity === 0) return;
      const cost = addCosts(end.cost, endCost(rules.length - key.s, key.size, rules));
      if (!best || compareCosts(cost, best.cost) < 0) best = { ...end, cost };
    });
  }
  return best && { keys: chain(best), cost: (best as Best).cost };
}

/** Of the keys of one size and parity, how many lie farther back than `most`, and which of these is best to come from. */
interface Behind {
  passed: number;
  best: Best | null;
}

/** The best row that ends in `key` after a key of one size and parity. */
function bestBefore(
  key: Candidate,
  earlier: readonly Best[],
  behind: Behind,
  size: number,
  rules: RowRules,
): Best | null {
  const [least, most] = [rules.least(size, key.size), rules.most(size, key.size)];
  // Beyond `most` a gap costs what it is long, so the best to come from is the same for every later key.
  for (; behind.passed < earlier.length; behind.passed++) {
    const next = earlier[behind.passed] as Best;
    if (key.s - next.key.s <= most + ALIKE) break;
    if (!behind.best || compareCosts(fromHere(next), fromHere(behind.best)) < 0) behind.best = next;
  }
  const before = bestNear(key, earlier, behind.passed, least, () => true);
  const clear =
    before && !rules.apart(before.key, key) ? bestNear(key, earlier, behind.passed, least, rules.apart) : before;
  const near = clear && { cost: joined(clear, key, rules), before: clear, key };
  const beyond =
    behind.best && !rules.apart(behind.best.key, key) ? bestFar(key, earlier, behind.passed, rules.apart) : behind.best;
  const far = beyond && { cost: joined(beyond, key, rules), before: beyond, key };
  return near && far ? (compareCosts(near.cost, far.cost) <= 0 ? near : far) : (near ?? far);
}

/** The best to come from among those within `most` and no nearer than `least` that stand clear. */
function bestNear(
  key: Candidate,
  earlier: readonly Best[],
  from: number,
  least: number,
  apart: RowRules['apart'],
): Best | null {
  let [before, value] = [null as Best | null, Infinity];
  for (let i = from; i < earlier.length; i++) {
    const each = earlier[i] as Best;
    if (key.s - each.key.s < least - ALIKE) break;
    const grown = each.cost.value + (key.u - each.key.u) ** 2;
    if (before && comparedWith(each.cost, grown, before.cost, value) >= 0) continue;
    if (apart(each.key, key)) [before, value] = [each, grown];
  }
  return before;
}

/** The best to come from among the first so many, which lie beyond `most`, that stand clear. */
function bestFar(key: Candidate, earlier: readonly Best[], passed: number, apart: RowRules['apart']): Best | null {
  let best: Best | null = null;
  for (let i = passed - 1; i >= 0; i--) {
    const each = earlier[i] as Best;
    if (best && compareCosts(fromHere(best), fromHere(each)) <= 0) continue;
    if (apart(each.key, key)) best = each;
  }
  return best;
}

const joined = (before: Best, key: Candidate, rules: RowRules): Cost =>
  addCosts(addCosts(before.cost, keyCost(key)), gapCost(before.key, key, rules));

/** `compareCosts` of two costs with values of their own. */
function comparedWith(a: Cost, aValue: number, b: Cost, bValue: number): number {
  if (Math.abs(a.over - b.over) > ALIKE) return a.over - b.over;
  if (a.misfit !== b.misfit) return a.misfit - b.misfit;
  if (Math.abs(a.shift - b.shift) > ALIKE) return a.shift - b.shift;
  if (a.count !== b.count) return a.count - b.count;
  return aValue - bValue;
}

const fromHere = ({ cost, key }: Best): Cost => ({ ...cost, over: cost.over - key.s });

function chain(last: Best): Candidate[] {
  const keys: Candidate[] = [];
  for (let at: Best | null = last; at; at = at.before) keys.unshift(at.key);
  return keys;
}
