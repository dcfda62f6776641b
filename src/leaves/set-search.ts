import type { ReadyLeaf } from './set-bench';
import type { Stack } from './set-lanes';
import type { Sheet } from './set-slots';

/** What a sheet that cannot be had costs, in joints: more than any set of joints. */
const MISSED = 1000;
/** A leaf length passed over, one more leaf begun, and a sheet from another board than the one before, in joints of uncut wood. */
const PASSED = 0.02;
const BEGUN = 0.05;
const OTHER_BOARD = 0.25;
/** Steps that are looked at for one sheet, about; with more ways of having come so far than that, the dearest are given up. */
const STEPS = 40_000;

/** More leaves than any stack has. */
const MANY = 65_536;

/** A sheet laid on a run of leaves of a stack. */
export interface Option {
  /** Its place among the set's sheets, and which of its two ways of beginning. */
  readonly sheet: number;
  readonly way: number;
  readonly stack: number;
  /** By their place in the stack. */
  readonly run: readonly number[];
}

/** What a search of a set is told. */
export interface Asked {
  /** The ordered sheets in sequence, each in its ways of beginning. */
  readonly sheets: readonly (readonly Sheet[])[];
  readonly stacks: readonly Stack[];
  readonly leaves: readonly ReadyLeaf[];
  /** Whether a slot has a place in a leaf of a stack. */
  readonly able: (sheet: Sheet, slot: number, stack: Stack, leaf: number) => boolean;
  /** What an option's joints come to, or could come to at best; Infinity where it cannot be. */
  readonly cost: (option: Option) => number;
  /** Places in their stacks that locked sheets have, by where in the sequence they stand. */
  readonly fixed?: readonly {
    readonly before: number;
    readonly stack: number;
    readonly from: number;
    readonly to: number;
  }[];
}

/** A choice of options for all sheets. */
export interface Chosen {
  readonly options: readonly Option[];
  readonly missed: readonly number[];
  readonly cost: number;
  /** Whether every way was followed. */
  readonly whole: boolean;
}

interface Way {
  readonly cost: number;
  readonly next: readonly number[];
  readonly board: string | null;
  readonly flitches: Readonly<Record<string, string>>;
  readonly option: Option | null;
  readonly missed: number | null;
  readonly before: Way | null;
}

/**
 * The choice of runs of leaves for all sheets of a set that costs least: sheet after sheet, keeping for each state of the stacks the cheapest way to it. Within a
 * stack later sheets take later leaves, so the set stands in sawing order; sheets of one flitch come from one board.
 */
export function searchSet(asked: Asked): Chosen {
  const { sheets, stacks } = asked;
  let ways: Way[] = [
    { cost: 0, next: stacks.map(() => 0), board: null, flitches: {}, option: null, missed: null, before: null },
  ];
  let whole = true;
  const most = Math.max(20, Math.ceil(STEPS / stacks.reduce((sum, { leaves }) => sum + leaves.length, 1)));
  for (const [i, variants] of sheets.entries()) {
    const runs = new Runs(asked, i, variants);
    const reached = new Map<string, Way>();
    const keep = (way: Way) => {
      const key = `${way.next.join(' ')}|${way.board}|${Object.values(way.flitches).join(' ')}`;
      const have = reached.get(key);
      if (!have || way.cost < have.cost) reached.set(key, way);
    };
    for (const came of ways) {
      const at = passFixed(asked, i, came);
      if (!at) continue;
      keep({
        ...at,
        cost: at.cost + MISSED * (variants[0] as Sheet).fronts.length,
        option: null,
        missed: i,
        before: at,
      });
      for (const next of runs.from(at)) keep(next);
    }
    ways = [...reached.values()].sort((a, b) => a.cost - b.cost);
    if (ways.length > most) {
      whole = false;
      ways.length = most;
    }
  }
  const [best] = ways as [Way];
  const options: Option[] = [];
  const missed: number[] = [];
  for (let way: Way | null = best; way; way = way.before) {
    if (way.option) options.unshift(way.option);
    if (way.missed !== null) missed.unshift(way.missed);
  }
  return { options, missed, cost: best.cost, whole };
}

/** The same way behind what locked sheets hold that stand before sheet i; null where it has passed them already. */
function passFixed({ fixed = [] }: Asked, i: number, way: Way): Way | null {
  const here = fixed.filter(({ before }) => before === i);
  if (here.some(({ stack, from }) => (way.next[stack] as number) > from)) return null;
  if (here.length === 0) return way;
  const next = way.next.map((at, s) => Math.max(at, ...here.filter(({ stack }) => stack === s).map(({ to }) => to)));
  return { ...way, next, option: null, missed: null, before: way };
}

/** Every run of leaves that one sheet can be laid on. */
class Runs {
  readonly #costs = new Map<string, { cost: number; way: number }>();
  readonly #runs = new Map<number, number[] | null>();

  constructor(
    readonly asked: Asked,
    readonly sheet: number,
    readonly variants: readonly Sheet[],
  ) {}

  *from(way: Way): Generator<Way> {
    const { stacks } = this.asked;
    const [{ flitch, slots }] = this.variants as readonly [Sheet];
    for (const [s, stack] of stacks.entries()) {
      const bound = flitch === null ? undefined : way.flitches[flitch];
      if (bound !== undefined && bound !== stack.board) continue;
      const other = way.board !== null && way.board !== stack.board ? OTHER_BOARD : 0;
      for (let first = way.next[s] as number; first + slots.length <= stack.leaves.length; first++) {
        const run = this.#run(s, first);
        if (!run || run[0] !== first) continue;
        const best = this.#best(s, run);
        if (!Number.isFinite(best.cost)) continue;
        const passed = first - (way.next[s] as number) + (run.at(-1) as number) + 1 - first - run.length;
        yield {
          cost: way.cost + best.cost + passed * PASSED + run.length * BEGUN + other,
          next: way.next.map((at, k) => (k === s ? (run.at(-1) as number) + 1 : at)),
          board: stack.board,
          flitches: flitch === null ? way.flitches : { ...way.flitches, [flitch]: stack.board },
          option: { sheet: this.sheet, way: best.way, stack: s, run },
          missed: null,
          before: way,
        };
      }
    }
  }

  /** The leaves from a place on that can take the slots one after the other, unfit ones left out; null where they do not suffice. */
  #run(s: number, first: number): number[] | null {
    const key = s * MANY + first;
    let run = this.#runs.get(key);
    if (run === undefined) {
      run = this.#found(s, first);
      this.#runs.set(key, run);
    }
    return run;
  }

  #found(s: number, first: number): number[] | null {
    const stack = this.asked.stacks[s] as Stack;
    const [sheet] = this.variants as readonly [Sheet];
    const run: number[] = [];
    for (let k = first; k < stack.leaves.length && run.length < sheet.slots.length; k++) {
      const leaf = stack.leaves[k] as number;
      if (this.variants.some((variant) => this.asked.able(variant, run.length, stack, leaf))) run.push(k);
    }
    return run.length === sheet.slots.length ? run : null;
  }

  #best(s: number, run: readonly number[]): { cost: number; way: number } {
    const key = `${s} ${run.join(' ')}`;
    let best = this.#costs.get(key);
    if (!best) {
      best = { cost: Infinity, way: 0 };
      for (const way of this.variants.keys()) {
        const cost = this.asked.cost({ sheet: this.sheet, way, stack: s, run });
        if (cost < best.cost) best = { cost, way };
      }
      this.#costs.set(key, best);
    }
    return best;
  }
}
