/** Choosing one of several for each of a few things at once, where pairs of them cost something together. */

/** What a pair of things costs: [choice of the first][choice of the second]. */
export interface PairCosts {
  readonly of: readonly [number, number];
  readonly costs: Float32Array;
}

interface Gone {
  readonly thing: number;
  /** Which choice of it is best, by the choices of those that it met: [first][second]. */
  readonly best: Int32Array;
  readonly met: readonly number[];
}

/**
 * The choice for all things that costs least: things that meet no more than two others are taken out one after the other, what they cost at best told to
 * those two (nonserial dynamic programming: Bertelè and Brioschi 1972). Exact for chains, rings and ladders; where everything left meets three and more, one
 * is held at its choice of before, and the rest is best for that.
 * @param own costs of each thing's choices, none of them empty
 * @param held choices of before
 */
export function leastTogether(
  own: readonly Float64Array[],
  pairs: readonly PairCosts[],
  held: readonly number[],
): number[] {
  const costs = own.map((of) => of.slice());
  const size = (thing: number): number => (costs[thing] as Float64Array).length;
  /** By both things, the lesser first: [lesser][greater]. */
  const between = new Map<string, Float32Array>();
  const meets = own.map(() => new Set<number>());
  const add = (a: number, b: number, table: Float32Array) => {
    const key = `${a} ${b}`;
    const have = between.get(key);
    if (have) for (let i = 0; i < have.length; i++) have[i] = (have[i] as number) + (table[i] as number);
    else between.set(key, table);
    meets[a]?.add(b);
    meets[b]?.add(a);
  };
  for (const { of, costs: table } of pairs) {
    const [a, b] = of;
    add(Math.min(a, b), Math.max(a, b), a < b ? table.slice() : turned(table, size(a), size(b)));
  }
  /** Costs of two things as seen from the first of them. */
  const seen = (a: number, b: number): Float32Array =>
    a < b
      ? (between.get(`${a} ${b}`) as Float32Array)
      : turned(between.get(`${b} ${a}`) as Float32Array, size(b), size(a));
  const chosen = own.map((_, i) => held[i] ?? 0);
  const gone: Gone[] = [];
  const left = new Set(own.keys());
  while (left.size > 0) {
    const thing = fewestMet(left, meets);
    const met = [...(meets[thing] as Set<number>)];
    const [a, b] = met;
    const mine = costs[thing] as Float64Array;
    if (met.length > 2) {
      const at = chosen[thing] as number;
      for (const other of met) {
        const table = seen(other, thing);
        const theirs = costs[other] as Float64Array;
        for (let i = 0; i < theirs.length; i++)
          theirs[i] = (theirs[i] as number) + (table[i * mine.length + at] as number);
      }
    } else if (a === undefined) {
      gone.push({ thing, met, best: Int32Array.of(least(mine)) });
    } else {
      const first = seen(a, thing);
      const second = b === undefined ? null : seen(b, thing);
      const rows = b === undefined ? 1 : size(b);
      const best = new Int32Array(size(a) * rows);
      const told = new Float32Array(size(a) * rows);
      for (let i = 0; i < size(a); i++) {
        for (let j = 0; j < rows; j++) {
          let [min, at] = [Infinity, 0];
          for (let k = 0; k < mine.length; k++) {
            const sum =
              (mine[k] as number) +
              (first[i * mine.length + k] as number) +
              (second ? (second[j * mine.length + k] as number) : 0);
            if (sum < min) [min, at] = [sum, k];
          }
          told[i * rows + j] = min;
          best[i * rows + j] = at;
        }
      }
      gone.push({ thing, met, best });
      if (b === undefined) {
        const theirs = costs[a] as Float64Array;
        for (let i = 0; i < theirs.length; i++) theirs[i] = (theirs[i] as number) + (told[i] as number);
      } else add(Math.min(a, b), Math.max(a, b), a < b ? told : turned(told, size(a), size(b)));
    }
    left.delete(thing);
    for (const other of met) meets[other]?.delete(thing);
  }
  for (const { thing, best, met } of gone.reverse()) {
    const [a, b] = met.map((other) => chosen[other] as number);
    const rows = met[1] === undefined ? 1 : size(met[1]);
    chosen[thing] = best[(a ?? 0) * rows + (b ?? 0)] as number;
  }
  return chosen;
}

/** The thing that meets fewest; where all meet three and more, the one that meets most, since it parts the others. */
function fewestMet(left: ReadonlySet<number>, meets: readonly ReadonlySet<number>[]): number {
  const count = (thing: number): number => (meets[thing] as ReadonlySet<number>).size;
  const order = [...left].sort((a, b) => count(a) - count(b) || a - b);
  const few = order[0] as number;
  return count(few) <= 2 ? few : (order.at(-1) as number);
}

function least(of: Float64Array): number {
  let at = 0;
  for (let i = 1; i < of.length; i++) if ((of[i] as number) < (of[at] as number)) at = i;
  return at;
}

/** [rows][columns] as [columns][rows]. */
function turned(table: Float32Array, rows: number, columns: number): Float32Array {
  const out = new Float32Array(table.length);
  for (let i = 0; i < rows; i++) for (let j = 0; j < columns; j++) out[j * rows + i] = table[i * columns + j] as number;
  return out;
}
