import type { PanelSet } from '../job';
import { Cancelled, type Control, pause } from '../search';
import { WoodLeft } from './backer';
import type { Bench } from './set-bench';
import type { LaidSheet } from './set-build';
import { type Stack, stacksOf } from './set-lanes';
import type { HeldLeaves } from './set-locks';
import { laidAtRandom, takeSlot } from './set-random';
import { type Asked, type Option, searchSet } from './set-search';
import { alongOf, type Sheet } from './set-slots';
import type { Lay } from './window-reads';
import type { WindowSearch } from './window-search';

/** Ways of sharing out the leaves' lengths that are followed to the end. */
const WAYS = 2;
/** What refining a layout is taken to gain until more is seen, as a share of its joints; it is never taken to gain more than half. */
const GAIN = 0.05;
const MOST_GAIN = 0.5;
/** Choices that are refined before the search stops without proof. */
const ROUNDS = 24;

export interface RunTask {
  readonly bench: Bench;
  readonly usable: readonly number[];
  /** In sequence, each in its ways of beginning. */
  readonly sheets: readonly (readonly Sheet[])[];
  readonly windows: WindowSearch;
  readonly fixed: readonly HeldLeaves[];
  /** Fronts' places in the sequence. */
  readonly order: ReadonlyMap<string, number>;
}

/** Sheets laid, sheets that cannot be, and by what share the joints could still be better. */
export interface RunResult {
  readonly laid: readonly LaidSheet[];
  readonly missed: readonly Sheet[];
  readonly gap: number;
}

/** What an option is known to come to. */
interface Known {
  rough: readonly Lay[];
  fine: Lay | null;
}

/** Lays sheets on runs of leaves: all runs by a coarse look, then, round by round, those of the best choice to the millimetre, until no other could be better. */
export class RunSearch {
  readonly #known = new Map<string, Known>();
  readonly #kinds = new Map<string, number>();
  #gain = GAIN;

  constructor(readonly task: RunTask) {}

  /** @param judge makes a whole set of a result, to be compared and shown */
  async run(control: Control, judge: (result: RunResult) => PanelSet): Promise<RunResult> {
    let best: { result: RunResult; set: PanelSet } | null = null;
    const offer = (result: RunResult) => {
      const set = judge(result);
      if (!best || isBetter(set, best.set)) best = { result, set };
    };
    try {
      const ways = this.#ways();
      for (const [i, stacks] of ways.entries()) {
        const from = i / ways.length;
        await this.#rounds(stacks, control, (share) => from + share / ways.length, offer);
      }
    } catch (error) {
      if (!(error instanceof Cancelled) || !best) throw error;
    }
    return (
      (best as { result: RunResult } | null)?.result ?? {
        laid: [],
        missed: this.task.sheets.map(([sheet]) => sheet as Sheet),
        gap: 0,
      }
    );
  }

  #ordered(): (readonly Sheet[])[] {
    return this.task.sheets.filter(([sheet]) => sheet?.ordered);
  }

  #asked(stacks: readonly Stack[], cost: Asked['cost']): Asked {
    const { bench, windows, fixed, order } = this.task;
    const sheets = this.#ordered();
    const sequenceOf = (sheet: Sheet) => Math.min(...sheet.fronts.map(({ id }) => order.get(id) ?? 0));
    const held = fixed.flatMap(({ sequence, leaves }) => {
      const before = sheets.filter(([sheet]) => sequenceOf(sheet as Sheet) < sequence).length;
      return stacks.flatMap((stack, s) => {
        const here = leaves.filter(
          ({ from, to }) => Math.min(to, stack.lane.to) - Math.max(from, stack.lane.from) > (to - from) / 2,
        );
        const places = here.map(({ leaf }) => stack.leaves.indexOf(leaf)).filter((at) => at >= 0);
        return places.length === 0
          ? []
          : [{ before, stack: s, from: Math.min(...places), to: Math.max(...places) + 1 }];
      });
    });
    return {
      sheets,
      stacks,
      leaves: bench.leaves,
      able: (sheet, slot, { lane }, leaf) => windows.able({ sheet, lane }, slot, leaf),
      cost,
      fixed: held,
    };
  }

  /** The most promising ways of sharing out lengths: those that place most, of them the ones that begin fewest leaves and leave most choice. */
  #ways(): Stack[][] {
    const { bench, usable, sheets } = this.task;
    const heights = sheets.map(([sheet]) => alongOf(sheet as Sheet));
    const all = stacksOf(bench.leaves, usable, heights, bench.rules.crosscut);
    const tried = all.map((stacks) => ({ stacks, missed: searchSet(this.#asked(stacks, () => 0)).missed.length }));
    const least = Math.min(...tried.map(({ missed }) => missed));
    const good = tried.filter(({ missed }) => missed === least).map(({ stacks }) => stacks);
    const fewest = [...good].sort((a, b) => a.length - b.length)[0];
    return [...new Set([good[0], fewest])].flatMap((stacks) => (stacks ? [stacks] : [])).slice(0, WAYS);
  }

  async #rounds(
    stacks: readonly Stack[],
    control: Control,
    progress: (share: number) => number,
    offer: (result: RunResult) => void,
  ): Promise<void> {
    let best = Infinity;
    let last: Omit<RunResult, 'gap'> | null = null;
    for (let round = 0; round < ROUNDS; round++) {
      await pause(
        control,
        progress(round / ROUNDS),
        round === 0 ? 'Looking at all leaves' : 'Moving joints to where leaves meet best',
      );
      const chosen = searchSet(this.#asked(stacks, (option) => this.#estimate(stacks, option)));
      const open = chosen.options.filter((option) => !this.#known.get(this.#key(stacks, option))?.fine);
      if (round === 0) offer({ ...this.#made(stacks, chosen), gap: 1 });
      for (const option of open) {
        await pause(control, progress(round / ROUNDS));
        this.#refine(stacks, option);
      }
      const exact = searchSet(
        this.#asked(stacks, (option) => this.#known.get(this.#key(stacks, option))?.fine?.cost ?? Infinity),
      );
      const bound = open.length === 0 && chosen.whole ? exact.cost : Math.min(chosen.cost, exact.cost);
      const joints = Math.max(
        1e-9,
        exact.options.reduce((sum, option) => sum + this.#estimate(stacks, option), 0),
      );
      const gap = Math.max(0, (exact.cost - bound) / joints);
      if (exact.cost < best - 1e-9 || open.length === 0) {
        best = Math.min(best, exact.cost);
        last = this.#made(stacks, exact);
      }
      if (last) offer({ ...last, gap });
      if (open.length === 0 || control.budget.left === 0) return;
    }
  }

  #taskOf(stacks: readonly Stack[], { sheet, way, stack, run }: Option) {
    const of = stacks[stack] as Stack;
    return {
      sheet: this.#ordered()[sheet]?.[way] as Sheet,
      leaves: run.map((k) => of.leaves[k] as number),
      lane: of.lane,
    };
  }

  #key(stacks: readonly Stack[], option: Option): string {
    const { sheet, leaves, lane } = this.#taskOf(stacks, option);
    return `${lane.from} ${lane.to} ${leaves.join(' ')} ${this.#kind(sheet)}`;
  }

  /** A number for sheets that are alike. */
  #kind(sheet: Sheet): number {
    const kind = this.#kinds.get(sheet.key) ?? this.#kinds.size;
    this.#kinds.set(sheet.key, kind);
    return kind;
  }

  /** What an option comes to, or could come to at best once it is refined. */
  #estimate(stacks: readonly Stack[], option: Option): number {
    const key = this.#key(stacks, option);
    let known = this.#known.get(key);
    if (!known) {
      known = { rough: this.task.windows.rough(this.#taskOf(stacks, option)), fine: null };
      this.#known.set(key, known);
    }
    return known.fine?.cost ?? (known.rough[0] ? known.rough[0].cost * (1 - this.#gain) : Infinity);
  }

  #refine(stacks: readonly Stack[], option: Option): void {
    const known = this.#known.get(this.#key(stacks, option)) as Known;
    const task = this.#taskOf(stacks, option);
    known.fine = this.task.windows.fine(task);
    if (!known.fine) return;
    const rough = known.rough[0]?.cost ?? 0;
    if (rough > 0) this.#gain = Math.min(MOST_GAIN, Math.max(this.#gain, 1 - known.fine.cost / rough));
  }

  /** A choice with its windows, and with the sheets that match at random laid on what it leaves. */
  #made(stacks: readonly Stack[], { options, missed }: ReturnType<typeof searchSet>): Omit<RunResult, 'gap'> {
    const { bench, usable, windows, sheets } = this.task;
    const ordered = this.#ordered();
    const laid = options.map((option): LaidSheet => {
      const known = this.#known.get(this.#key(stacks, option)) as Known;
      const task = this.#taskOf(stacks, option);
      const { at } = known.fine ?? (known.rough[0] as Lay);
      return { sheet: task.sheet, leaves: task.leaves, at, cost: known.fine?.cost ?? windows.exact(task, at) };
    });
    const left = new WoodLeft(bench, usable);
    for (const k of usable) left.restore(k, windows.taken(k));
    for (const { sheet, leaves, at } of laid) {
      for (const [i, slot] of sheet.slots.entries())
        takeSlot(left, leaves[i] as number, slot, at[i] as readonly [number, number]);
    }
    const gone = missed.map((i) => ordered[i]?.[0] as Sheet);
    for (const [sheet] of sheets) {
      if (!sheet || sheet.ordered) continue;
      const one = laidAtRandom(sheet, left);
      if (one) laid.push(one);
      else gone.push(sheet);
    }
    return { laid, missed: gone };
  }
}

/** Fewer misses first, then better joints. */
export const isBetter = (a: PanelSet, b: PanelSet): boolean =>
  a.misses.length !== b.misses.length ? a.misses.length < b.misses.length : a.cost <= b.cost + 1e-9;
