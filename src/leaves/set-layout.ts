import type { Bounds } from '../geometry';
import type { FaceName, PanelSet, SetMiss } from '../job';
import { type Control, pause } from '../search';
import { backsOf, WoodLeft } from './backer';
import { gapBlend } from './cell-blend';
import { type Bench, breadthOf, type ReadyLeaf } from './set-bench';
import { frontsLaid, sparesOf } from './set-build';
import type { Columns } from './set-columns';
import { lockedSheets } from './set-locks';
import { backMiss, faceMisses, soundFor } from './set-misses';
import { isBetter, type RunResult, RunSearch } from './set-rounds';
import { keyOfRun, sheetsOf, sized } from './set-sheets';
import type { Sheet, Slot } from './set-slots';
import type { SetRequest } from './set-types';
import { WindowSearch } from './window-search';

export interface LayOutOptions {
  /** Hears sets as they come, each better than the one before, the first within a second or two of the leaves being read. */
  readonly heard?: (set: PanelSet) => void;
  /** Ways in which a match may begin: with its first leaf's top face shown, or its bottom face. Both where left out. */
  readonly begin?: readonly FaceName[];
}

/** Leaves side by side in one bay, at most (as a door may ask for). */
const MOST_LEAVES = 32;
/** A sheet that has no leaves is tried with so many leaves more. */
const MORE_LEAVES = 4;

/**
 * Lays fronts on the leaves of a bench: which leaves, the window in each, joints that meet best, backs from the poorer leaves, what is left over, and what
 * cannot be had and why. In sequence: later fronts take later leaves of a board. Deterministic unless the control's budget is one of time.
 * @throws InputProblem where fronts of one run do not go together
 * @throws Cancelled when it is stopped before the first set; after that it gives what it has
 */
export async function layOutSet(
  request: SetRequest,
  bench: Bench,
  control: Control,
  options: LayOutOptions = {},
): Promise<PanelSet> {
  await pause(control, 0, 'Sharing out the leaves');
  const out = new Set(request.without ?? []);
  const usable = bench.leaves.flatMap(({ name }, k) => (out.has(name) ? [] : [k]));
  const all = request.fronts.map(sized);
  const locked = lockedSheets(request, all, bench);
  const open = all.filter(({ id }) => !locked.fronts.has(id));
  const sequence = new Map(all.map(({ id }, i) => [id, i + 1]));
  const begin = options.begin ?? ['top', 'bottom'];
  const more = new Map<string, number>();
  const soundIn = soundFor(bench, usable);
  /** Sheets that have no place, as they were first tried: that is what is spoken of. */
  const first = new Map<string, Sheet>();

  /** A whole set from laid sheets: backs, spares and misses among it. */
  const whole = ({ laid, missed, gap }: RunResult): PanelSet => {
    const left = new WoodLeft(bench, usable);
    const { fronts, joints } = frontsLaid(bench, laid, sequence);
    for (const [id, front] of locked.fronts) fronts.set(id, { ...front, sequence: sequence.get(id) ?? front.sequence });
    const place = new Map(bench.leaves.map(({ name }, k) => [name, k]));
    for (const { cells } of fronts.values()) {
      for (const { board, leaf, window } of cells) left.take(place.get(`${board} ${leaf}`) ?? -1, window);
    }
    for (const { backer } of locked.fronts.values()) {
      for (const { board, leaf, window } of backer) left.take(place.get(`${board} ${leaf}`) ?? -1, window);
    }
    const misses: SetMiss[] = missed.flatMap((sheet) =>
      faceMisses(first.get(keyOfRun(sheet.fronts)) ?? sheet, left, soundIn),
    );
    const faced = open.filter(({ id, door }) => fronts.has(id) && door.backed);
    const counts = new Map(faced.map(({ id }) => [id, fronts.get(id)?.cells.length ?? 1]));
    const backs = backsOf(faced, counts, left);
    for (const front of faced) {
      const face = fronts.get(front.id);
      const short = backs.short.get(front.id);
      if (face) fronts.set(front.id, { ...face, backer: backs.cells.get(front.id) ?? [] });
      if (short) misses.push(backMiss(front, short.want, short.have));
    }
    const heights = all.map(({ sizes }) => sizes.pressed.height);
    return {
      id: request.id,
      name: request.name,
      fronts: Object.fromEntries([...fronts].sort((a, b) => a[1].sequence - b[1].sequence)),
      joints: [...joints, ...locked.joints],
      misses,
      spares: sparesOf(left, Math.min(...heights)),
      locked: [...(request.before?.locked ?? [])].filter((id) => locked.fronts.has(id)),
      without: [...out],
      cost: laid.reduce((sum, { cost }) => sum + cost, 0),
      gap,
    };
  };

  let shown: PanelSet | null = null;
  const judged = (result: RunResult): PanelSet => {
    const set = whole(result);
    if (options.heard && (!shown || isBetter(set, shown))) options.heard(set);
    if (!shown || isBetter(set, shown)) shown = set;
    return set;
  };
  const taken = (leaf: number): readonly Bounds[] => locked.taken.get(leaf) ?? [];
  const windows = new WindowSearch(bench, taken, control);
  for (let round = 0; ; round++) {
    const columns = columnsFor(bench, usable, more);
    const longest = Math.max(0, ...usable.map((k) => (bench.leaves[k] as ReadyLeaf).length));
    const variants = begin.map((face) => sheetsOf(open, face, longest, columns, bench.rules));
    const sheets = (variants[0] ?? []).map((_, i) => variants.map((of) => of[i] as Sheet));
    const search = new RunSearch({ bench, usable, sheets, windows, fixed: locked.fixed, order: sequence });
    const result = await search.run(control, judged);
    for (const sheet of result.missed) {
      const key = keyOfRun(sheet.fronts);
      if (!first.has(key)) first.set(key, sheet);
    }
    // Where too few leaves are sound over the whole width, more and narrower ones are tried.
    const again = result.missed.filter(
      ({ fronts, slots }) =>
        round < MORE_LEAVES &&
        fronts.every(({ door }) => door.leaves === null) &&
        slots.length <= usable.length &&
        soundIn(slots[0] as Slot) < slots.length,
    );
    if (again.length === 0 || control.budget.left === 0) {
      const set = whole(result);
      const joints = set.joints.map((joint) =>
        joint.blend === null ? { ...joint, blend: gapBlend(bench, (id) => set.fronts[id], joint) } : joint,
      );
      control.progress(1);
      return { ...set, joints };
    }
    for (const { fronts } of again) more.set(keyOfRun(fronts), (more.get(keyOfRun(fronts)) ?? 0) + 1);
  }
}

/** How many leaves side by side a width takes, by how wide the leaves are; `more` than that for some runs. */
function columnsFor(
  bench: Bench,
  usable: readonly number[],
  more: ReadonlyMap<string, number>,
): (run: string) => Columns {
  const breadths = new Map<number, number[]>();
  const at = (height: number): number[] => {
    let have = breadths.get(height);
    if (!have) {
      have = usable
        .flatMap((k) => {
          const leaf = bench.leaves[k] as ReadyLeaf;
          const breadth = breadthOf(leaf, height);
          const lengths = Math.floor((leaf.length + bench.rules.crosscut) / (height + bench.rules.crosscut));
          return Array.from({ length: lengths }, () => breadth);
        })
        .sort((a, b) => b - a);
      breadths.set(height, have);
    }
    return have;
  };
  const jointing = 2 * bench.rules.jointing;
  return (run) => ({
    fewest: (width, height, bays) => {
      const have = at(height);
      for (let n = 1; n <= MOST_LEAVES; n++) {
        const edges = n * bays > 1 ? jointing : 0;
        if ((have[n * bays - 1] ?? 0) >= width / n + edges) return n + (more.get(run) ?? 0);
      }
      const widest = have[0] ?? Math.max(0, ...usable.map((k) => (bench.leaves[k] as ReadyLeaf).width));
      if (widest <= jointing) return 1;
      return Math.min(MOST_LEAVES, Math.ceil(width / (widest - jointing))) + (more.get(run) ?? 0);
    },
    broad: (height) => {
      const have = at(height);
      const common = have[Math.floor(have.length / 2)] ?? bench.leaves[usable[0] ?? -1]?.width ?? 0;
      return Math.max(20, common - jointing);
    },
  });
}
