import type { Bounds, Point } from '../geometry';
import type { Control } from '../search';
import type { Bench } from './set-bench';
import type { Sheet, SlotJoint } from './set-slots';
import { bestAmong, type Judged, polished } from './window-polish';
import { type Lay, type Task, WindowReads, within } from './window-reads';

/** Coarse layouts of a sheet that are refined. */
const KEPT = 3;
/** Of them so many are polished; they begin this far apart, mm. */
const POLISHED = 3;
const APART = [10, 6] as const;
const STEPS = [8, 4, 2, 1] as const;
/**
 * Grids on which all places of all leaves are looked at together, mm along and across, the finest first that is not too much work: so many pairs of places at a
 * joint, or so many places a leaf where joints close to a ring. Looks are read every 5 mm along.
 */
const GRIDS = [
  [1, 1],
  [2, 1],
  [5, 1],
  [10, 1],
  [10, 2],
  [20, 2],
  [20, 4],
] as const;
const MOST_PAIRS = 200_000;
/** Grids as fine as this need no coarse look beside them. */
const FINE = 2;
const MOST_IN_RING = 120;

/**
 * Windows of one sheet in given leaves whose joints meet best: a coarse look over all places of all its leaves at once, by which sheets are compared; then all
 * places on as fine a grid as may be, the joints measured exactly, by the shortest path in a row and by taking slots out one by one in a ring; then to 1 mm.
 * The drift that is measured from leaf to leaf (`drift`) is not asked for: of nine book matches of drawn leaves, 6 mm back to 14 mm forth, every mirror is found
 * within 1 mm of it without, since all places are looked at; what one slipped leaf shows beside another no drift foretells.
 */
export class WindowSearch {
  readonly #reads: WindowReads;

  /** @param taken wood of a leaf that locked fronts have, in the leaf's frame, the saw's kerf round it */
  constructor(
    bench: Bench,
    readonly taken: (leaf: number) => readonly Bounds[],
    control: Control,
  ) {
    this.#reads = new WindowReads(bench, taken, control);
  }

  /** Whether a leaf has any place for a slot. */
  able(task: Pick<Task, 'sheet' | 'lane'>, slot: number, leaf: number): boolean {
    return this.#reads.statesOf(task, slot, leaf).length > 0;
  }

  /** The best coarse layouts, the best first; none where a leaf has no place that follows the one before. */
  rough(task: Task): Lay[] {
    if (!this.#toMatch(task)) return this.#middles(task);
    const lays = chained(task.sheet) ? this.#paths(task) : this.#together(task);
    return lays.sort((a, b) => a.cost - b.cost).slice(0, KEPT);
  }

  /** The best layout to 1 mm; null where there is none. */
  fine(task: Task): Lay | null {
    if (!this.#toMatch(task)) return this.rough(task)[0] ?? null;
    const judged = this.#judged(task);
    const { starts: all, whole } = this.#everywhere(task, judged);
    const starts = whole ? all : [...all, ...this.rough(task).map(({ at }) => at)];
    const lays = starts.map((at) => this.downhill(task, { at, cost: 0 })).sort((a, b) => a.cost - b.cost);
    const better = lays
      .slice(0, POLISHED)
      .map(({ at }) => this.downhill(task, { at: polished(at, judged, !whole), cost: 0 }));
    return [...lays, ...better].reduce<Lay | null>((a, b) => (a && a.cost <= b.cost ? a : b), null);
  }

  /** Moves one window, all that follow one, or all, by ever smaller steps while that betters the joints. */
  downhill(task: Task, start: Lay): Lay {
    if (!this.#toMatch(task)) return start;
    const { sheet } = task;
    const at = start.at.map((p) => p);
    const own = (k: number) => this.#reads.offCentre(task, k, at[k] as Point<'face'>);
    const joint = (j: SlotJoint) =>
      this.#reads.exact(task, j, at[j.slots[0]] as Point<'face'>, at[j.slots[1]] as Point<'face'>);
    const joints = sheet.joints.filter(({ weight }) => weight > 0);
    const costs = joints.map(joint);
    const centres = at.map((_, k) => own(k));
    const n = at.length;
    const groups = [at.map((_, k) => k), ...(n > 1 ? at.map((_, k) => [k]) : [])];
    for (let k = 1; k < n - 1; k++) groups.push(Array.from({ length: n - k }, (_, i) => k + i));
    const near = (j: SlotJoint) => within(at[j.slots[0]] as Point<'face'>, at[j.slots[1]] as Point<'face'>);
    for (const step of STEPS) {
      for (let better = true; better; ) {
        better = false;
        for (const group of groups) {
          for (const [du, dv] of [
            [step, 0],
            [-step, 0],
            [0, step],
            [0, -step],
          ] as const) {
            const before = group.map((k) => at[k] as Point<'face'>);
            for (const k of group) at[k] = [(at[k] as Point<'face'>)[0] + du, (at[k] as Point<'face'>)[1] + dv];
            const back = () => {
              for (const [i, k] of group.entries()) at[k] = before[i] as Point<'face'>;
            };
            const sound = group.every((k) => this.#reads.fits(task, k, at[k] as Point<'face'>));
            const touched = joints.map((_, j) => j).filter((j) => joints[j]?.slots.some((k) => group.includes(k)));
            if (!sound || !touched.every((j) => near(joints[j] as SlotJoint))) {
              back();
              continue;
            }
            const now = touched.map((j) => joint(joints[j] as SlotJoint));
            const off = group.map(own);
            const gain =
              touched.reduce((sum, j, i) => sum + (costs[j] as number) - (now[i] as number), 0) +
              group.reduce((sum, k, i) => sum + (centres[k] as number) - (off[i] as number), 0);
            if (gain <= 1e-9) {
              back();
              continue;
            }
            for (const [i, j] of touched.entries()) costs[j] = now[i] as number;
            for (const [i, k] of group.entries()) centres[k] = off[i] as number;
            better = true;
          }
        }
      }
    }
    const cost = [...costs, ...centres].reduce((sum, x) => sum + x, 0);
    return { at, cost };
  }

  /** What a layout of a sheet comes to, measured exactly. */
  exact(task: Task, at: readonly Point<'face'>[]): number {
    const joints = task.sheet.joints.reduce(
      (sum, joint) =>
        sum + this.#reads.exact(task, joint, at[joint.slots[0]] as Point<'face'>, at[joint.slots[1]] as Point<'face'>),
      0,
    );
    return at.reduce((sum, place, k) => sum + this.#reads.offCentre(task, k, place), joints);
  }

  /** Whether pictures have a say in where a sheet lies. */
  #toMatch({ sheet, leaves }: Task): boolean {
    const { meter } = this.#reads.bench;
    const told = sheet.joints.some(
      ({ slots: [a, b], weight }) => weight > 0 && meter.knows(leaves[a] as number, leaves[b] as number),
    );
    return told || sheet.centred.length > 0;
  }

  /** Each slot as near the middle of its leaf as may be. */
  #middles(task: Task): Lay[] {
    const at = task.leaves.map((leaf, k) => {
      const states = this.#reads.statesOf(task, k, leaf);
      return states[states.length >> 1];
    });
    const sound = at.filter((place) => place !== undefined);
    const cost = task.sheet.joints.reduce((sum, { weight }) => sum + weight, 0);
    return sound.length === at.length ? [{ at: sound, cost }] : [];
  }

  #judged(task: Task): Judged {
    const joints = task.sheet.joints.filter(({ weight }) => weight > 0);
    return {
      fits: (k, p) => this.#reads.fits(task, k, p),
      own: (k, p) => this.#reads.offCentre(task, k, p),
      meetings: joints.map((joint) => ({
        slots: joint.slots,
        costs: (a, b) => this.#reads.table(task, joint, a, b),
      })),
    };
  }

  /** The best layouts on a grid over the whole leaves that begin in different places, and whether that grid was fine; none where there is none. */
  #everywhere(task: Task, judged: Judged): { starts: Point<'face'>[][]; whole: boolean } {
    const ring = !chained(task.sheet);
    for (const [i, step] of GRIDS.entries()) {
      const places = task.leaves.map((_, k) => this.#reads.densePlaces(task, k, step));
      const counts = places.map(({ length }) => length);
      if (counts.includes(0)) break;
      const pairs = Math.max(0, ...judged.meetings.map(({ slots: [a, b] }) => (counts[a] ?? 0) * (counts[b] ?? 0)));
      if (pairs > MOST_PAIRS || (ring && Math.max(...counts) > MOST_IN_RING)) continue;
      const starts: Point<'face'>[][] = [];
      const other = (k: number, at: Point<'face'>) =>
        k > 0 || starts.every(([p]) => !beside(p as Point<'face'>, at)) ? judged.own(k, at) : Infinity;
      // On a grid of 1 mm the best is found at once.
      for (let n = i === 0 ? 1 : KEPT; n > 0; n--) {
        const at = bestAmong(places, { ...judged, own: other });
        const stands = judged.meetings.every(({ slots: [a, b] }) =>
          within(at[a] as Point<'face'>, at[b] as Point<'face'>),
        );
        if (!stands || !Number.isFinite(other(0, at[0] as Point<'face'>))) break;
        starts.push(at);
      }
      return { starts, whole: i <= FINE && starts.length > 0 };
    }
    return { starts: [], whole: false };
  }

  /** Shortest paths through the coarse places of all leaves, one to each of the best ends. */
  #paths(task: Task): Lay[] {
    const n = task.leaves.length;
    const states = task.leaves.map((leaf, k) => this.#reads.statesOf(task, k, leaf));
    if (states.some((at) => at.length === 0)) return [];
    let costs = Float64Array.from(states[0] as Point<'face'>[], (place) => this.#reads.offCentre(task, 0, place));
    const from: Int32Array[] = [];
    for (let k = 0; k + 1 < n; k++) {
      const next = states[k + 1] as Point<'face'>[];
      const sums = new Float64Array(next.length).fill(Infinity);
      const came = new Int32Array(next.length).fill(-1);
      for (const [i, { to, cost }] of this.#reads.stepsFrom(task, k).entries()) {
        for (let t = 0; t < to.length; t++) {
          const sum = (costs[i] as number) + (cost[t] as number);
          if (sum < (sums[to[t] as number] as number)) {
            sums[to[t] as number] = sum;
            came[to[t] as number] = i;
          }
        }
      }
      for (let t = 0; t < next.length; t++)
        sums[t] = (sums[t] as number) + this.#reads.offCentre(task, k + 1, next[t] as Point<'face'>);
      costs = sums;
      from.push(came);
    }
    const ends = [...costs.keys()]
      .filter((i) => Number.isFinite(costs[i]))
      .sort((a, b) => (costs[a] as number) - (costs[b] as number));
    return apart(
      ends.map((end) => {
        const path = [end];
        for (let k = n - 2; k >= 0; k--) path.unshift((from[k] as Int32Array)[path[0] as number] as number);
        return {
          at: path.map((s, k) => (states[k] as Point<'face'>[])[s] as Point<'face'>),
          cost: costs[end] as number,
        };
      }),
    );
  }

  /** All slots at one place of their leaves. */
  #together(task: Task): Lay[] {
    const starts = this.#reads.statesOf(task, 0, task.leaves[0] as number);
    const lays = starts.flatMap((place): Lay[] => {
      const all = task.leaves.map(() => place);
      return all.every((at, k) => this.#reads.fits(task, k, at)) ? [{ at: all, cost: this.exact(task, all) }] : [];
    });
    return apart(lays.sort((a, b) => a.cost - b.cost));
  }
}

/** Whether each slot meets the next alone. */
const chained = ({ joints }: Sheet): boolean => joints.every(({ slots: [a, b] }) => b === a + 1);

/** Whether two layouts that begin so are the same but for a little. */
const beside = (p: Point<'face'>, q: Point<'face'>): boolean =>
  Math.abs(p[0] - q[0]) <= APART[0] && Math.abs(p[1] - q[1]) <= APART[1];

/** The best few layouts that begin in different places. */
function apart(lays: readonly Lay[]): Lay[] {
  const kept: Lay[] = [];
  for (const lay of lays) {
    if (kept.length === KEPT) break;
    const near = kept.some(({ at: [p] }) => beside(p as Point<'face'>, lay.at[0] as Point<'face'>));
    if (!near) kept.push(lay);
  }
  return kept;
}
