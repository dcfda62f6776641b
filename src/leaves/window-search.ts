import type { Bounds, Point } from '../geometry';
import type { JointSide } from '../grain';
import type { Control } from '../search';
import type { Bench, ReadyLeaf } from './set-bench';
import type { Placed } from './set-meter';
import type { Sheet, Slot, SlotJoint } from './set-slots';
import { polished } from './window-polish';
import { type Lane, laneFits, statesOf } from './window-states';

/**
 * How far neighbouring windows may lie apart, mm along and across: figure drifts by a median of 3 over a kerf, nine in ten under 11, and over kerf and leaf, as at
 * every other joint of a book match, by several times that.
 */
const DRIFT = [20, 36] as const;
/** Coarse layouts of a sheet that are refined. */
const KEPT = 3;
/** Of them so many are polished; they begin this far apart, mm. */
const POLISHED = 2;
const APART = [10, 6] as const;
const STEPS = [8, 4, 2, 1] as const;
/** What a window costs that stands this far off the middle of its leaf's figure, in joints of uncut wood: as much as one. */
const OFF_CENTRE = 40;

/** More leaves, or lanes, than any bench has. */
const MANY = 65_536;

/** Where the slots of a sheet lie, off their leaves' origins, and what its joints come to: 1 a whole joint of uncut wood. */
export interface Lay {
  readonly at: readonly Point<'face'>[];
  readonly cost: number;
}

/** A sheet on given leaves, one a slot, by their place on the bench. */
export interface Task {
  readonly sheet: Sheet;
  readonly leaves: readonly number[];
  readonly lane: Lane;
}

/** Places of one leaf and, for each joint that the slot takes part in, what that side looks like there. */
interface States {
  readonly at: readonly Point<'face'>[];
  readonly sides: Map<number, readonly JointSide['edge'][]>;
}

/** Costs of a step from a place of one leaf to a place of the next, those within the drift. */
interface Step {
  readonly to: Int32Array;
  readonly cost: Float32Array;
}

/**
 * Windows of one sheet in given leaves whose joints meet best: a coarse look over all places of all its leaves at once (shortest path where each slot meets
 * the next alone, all slots at one place otherwise), then the best few refined to 1 mm. What leaves look like is remembered for other sheets of the kind.
 */
export class WindowSearch {
  readonly #states = new Map<number, States>();
  readonly #slots = new Numbers<Slot>(({ key }) => key);
  readonly #lanes = new Numbers<Lane>(({ from, to }) => `${from} ${to}`);
  readonly #joints = new Numbers<SlotJoint>(({ key }) => key);
  readonly #steps = new Map<string, readonly Step[]>();

  /** @param taken wood of a leaf that locked fronts have, in the leaf's frame, the saw's kerf round it */
  constructor(
    readonly bench: Bench,
    readonly taken: (leaf: number) => readonly Bounds[],
    readonly control: Control,
  ) {}

  /** Whether a leaf has any place for a slot. */
  able(task: Pick<Task, 'sheet' | 'lane'>, slot: number, leaf: number): boolean {
    return this.#statesOf(task, slot, leaf).at.length > 0;
  }

  /** The best coarse layouts, the best first; none where a leaf has no place that follows the one before. */
  rough(task: Task): Lay[] {
    if (!this.#toMatch(task)) return this.#middles(task);
    const lays = chained(task.sheet) ? this.#paths(task) : this.#together(task);
    return lays.sort((a, b) => a.cost - b.cost).slice(0, KEPT);
  }

  /** The best layout to 1 mm; null where there is none. */
  fine(task: Task): Lay | null {
    const lays = this.rough(task).map((start) => this.downhill(task, start));
    const best = lays.sort((a, b) => a.cost - b.cost)[0];
    if (!best || !this.#toMatch(task) || !chained(task.sheet)) return best ?? null;
    const { sheet, leaves, lane } = task;
    const chain = {
      fits: (k: number, p: Point<'face'>) =>
        laneFits(this.#leaf(leaves[k] as number), sheet.slots[k] as Slot, p, lane, this.taken(leaves[k] as number)),
      pair: (k: number, a: Point<'face'>, b: Point<'face'>) => (within(a, b) ? this.#between(task, k, a, b) : Infinity),
      own: (k: number, p: Point<'face'>) => this.#offCentre(task, k, p),
    };
    return lays
      .slice(0, POLISHED)
      .map(({ at }) => this.downhill(task, { at: polished(at, chain), cost: 0 }))
      .reduce((a, b) => (b.cost < a.cost ? b : a));
  }

  /** Moves one window, all that follow one, or all, by ever smaller steps while that betters the joints. */
  downhill(task: Task, start: Lay): Lay {
    if (!this.#toMatch(task)) return start;
    const { sheet, leaves, lane } = task;
    const at = start.at.map((p) => p);
    const ready = leaves.map((leaf) => this.#leaf(leaf));
    const own = (k: number) => this.#offCentre(task, k, at[k] as Point<'face'>);
    const joint = (j: SlotJoint) =>
      this.#exact(task, j, at[j.slots[0]] as Point<'face'>, at[j.slots[1]] as Point<'face'>);
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
            const sound = group.every((k) =>
              laneFits(
                ready[k] as ReadyLeaf,
                sheet.slots[k] as Slot,
                at[k] as Point<'face'>,
                lane,
                this.taken(leaves[k] as number),
              ),
            );
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
        sum + this.#exact(task, joint, at[joint.slots[0]] as Point<'face'>, at[joint.slots[1]] as Point<'face'>),
      0,
    );
    return at.reduce((sum, place, k) => sum + this.#offCentre(task, k, place), joints);
  }

  /** Whether pictures have a say in where a sheet lies. */
  #toMatch({ sheet, leaves }: Task): boolean {
    const told = sheet.joints.some(
      ({ slots: [a, b], weight }) => weight > 0 && this.bench.meter.knows(leaves[a] as number, leaves[b] as number),
    );
    return told || sheet.centred.length > 0;
  }

  /** Each slot as near the middle of its leaf as may be. */
  #middles(task: Task): Lay[] {
    const at = task.leaves.map((leaf, k) => {
      const { at: states } = this.#statesOf(task, k, leaf);
      return states[states.length >> 1];
    });
    const sound = at.filter((place) => place !== undefined);
    const cost = task.sheet.joints.reduce((sum, { weight }) => sum + weight, 0);
    return sound.length === at.length ? [{ at: sound, cost }] : [];
  }

  #leaf(leaf: number): ReadyLeaf {
    return this.bench.leaves[leaf] as ReadyLeaf;
  }

  #placed(leaf: number, [u, v]: Point<'face'>): Placed {
    const { origin } = this.#leaf(leaf);
    return { leaf, at: [origin[0] + u, origin[1] + v] };
  }

  /** All joints between a slot and the next. */
  #between(task: Task, k: number, a: Point<'face'>, b: Point<'face'>): number {
    let sum = 0;
    for (const joint of task.sheet.joints) if (joint.slots[0] === k) sum += this.#exact(task, joint, a, b);
    return sum;
  }

  #exact({ sheet, leaves }: Task, joint: SlotJoint, one: Point<'face'>, other: Point<'face'>): number {
    const [i, j] = joint.slots;
    const [a, b] = [leaves[i] as number, leaves[j] as number];
    if (joint.weight === 0) return 0;
    if (!this.bench.meter.knows(a, b)) return joint.weight;
    this.control.budget.spend();
    const faces = [(sheet.slots[i] as Slot).face, (sheet.slots[j] as Slot).face] as const;
    const [p, q] = [this.#placed(a, one), this.#placed(b, other)];
    return joint.weight * this.bench.meter.cost(joint, faces, p, q);
  }

  /** How far a window that is to be centred stands off its leaf's middle, as a cost. */
  #offCentre({ sheet, leaves }: Task, slot: number, [, v]: Point<'face'>): number {
    if (!sheet.centred.includes(slot)) return 0;
    const leaf = this.#leaf(leaves[slot] as number);
    const axis = leaf.axis();
    if (axis === null) return 0;
    const { minY, maxY } = (sheet.slots[slot] as Slot).box;
    return Math.min(2, Math.abs(leaf.origin[1] + v + (minY + maxY) / 2 - axis) / OFF_CENTRE);
  }

  #statesOf({ sheet, lane }: Pick<Task, 'sheet' | 'lane'>, slot: number, leaf: number): States {
    const key = (this.#slots.of(sheet.slots[slot] as Slot) * MANY + this.#lanes.of(lane)) * MANY + leaf;
    let states = this.#states.get(key);
    if (!states) {
      const at = statesOf(this.#leaf(leaf), sheet.slots[slot] as Slot, lane, this.taken(leaf));
      states = { at, sides: new Map() };
      this.#states.set(key, states);
    }
    return states;
  }

  #sides(task: Task, joint: SlotJoint, which: 0 | 1): readonly JointSide['edge'][] {
    const { sheet, leaves } = task;
    const slot = joint.slots[which];
    const leaf = leaves[slot] as number;
    const states = this.#statesOf(task, slot, leaf);
    const [i, j] = joint.slots;
    const faces = [(sheet.slots[i] as Slot).face, (sheet.slots[j] as Slot).face] as const;
    const key = this.#joints.of(joint) * 2 + which;
    let sides = states.sides.get(key);
    if (!sides) {
      sides = states.at.map((place) => this.bench.meter.side(joint, faces, which, this.#placed(leaf, place)));
      states.sides.set(key, sides);
    }
    return sides;
  }

  /** Steps from every place of slot k's leaf to those of the next one's. */
  #stepsFrom(task: Task, k: number): readonly Step[] {
    const { sheet, leaves, lane } = task;
    const [a, b] = [leaves[k] as number, leaves[k + 1] as number];
    const joints = sheet.joints.filter(({ slots, weight }) => slots[0] === k && weight > 0);
    const asked = [
      ...sheet.slots.slice(k, k + 2).map((slot) => this.#slots.of(slot)),
      ...joints.map((joint) => this.#joints.of(joint)),
    ];
    const key = [this.#lanes.of(lane), a, b, ...asked].join(' ');
    const have = this.#steps.get(key);
    if (have) return have;
    const [from, to] = [this.#statesOf(task, k, a).at, this.#statesOf(task, k + 1, b).at];
    const known = this.bench.meter.knows(a, b);
    const looks = known
      ? joints.map((joint) => [joint, this.#sides(task, joint, 0), this.#sides(task, joint, 1)] as const)
      : [];
    const flat = known ? 0 : joints.reduce((sum, { weight }) => sum + weight, 0);
    const made = from.map((p, i): Step => {
      const near: number[] = [];
      for (const [t, q] of to.entries()) if (within(p, q)) near.push(t);
      const cost = Float32Array.from(near, (t) =>
        looks.reduce(
          (sum, [joint, one, other]) =>
            sum +
            joint.weight * this.bench.meter.costOf(joint, one[i] as JointSide['edge'], other[t] as JointSide['edge']),
          flat,
        ),
      );
      return { to: Int32Array.from(near), cost };
    });
    this.control.budget.spend(made.reduce((sum, { to: many }) => sum + many.length * looks.length, 0));
    this.#steps.set(key, made);
    return made;
  }

  /** Shortest paths through the places of all leaves, one to each of the best ends. */
  #paths(task: Task): Lay[] {
    const n = task.leaves.length;
    const states = task.leaves.map((leaf, k) => this.#statesOf(task, k, leaf).at);
    if (states.some((at) => at.length === 0)) return [];
    let costs = Float64Array.from(states[0] as Point<'face'>[], (place) => this.#offCentre(task, 0, place));
    const from: Int32Array[] = [];
    for (let k = 0; k + 1 < n; k++) {
      const next = states[k + 1] as Point<'face'>[];
      const sums = new Float64Array(next.length).fill(Infinity);
      const came = new Int32Array(next.length).fill(-1);
      for (const [i, { to, cost }] of this.#stepsFrom(task, k).entries()) {
        for (let t = 0; t < to.length; t++) {
          const sum = (costs[i] as number) + (cost[t] as number);
          if (sum < (sums[to[t] as number] as number)) {
            sums[to[t] as number] = sum;
            came[to[t] as number] = i;
          }
        }
      }
      for (let t = 0; t < next.length; t++)
        sums[t] = (sums[t] as number) + this.#offCentre(task, k + 1, next[t] as Point<'face'>);
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
    const { sheet, leaves, lane } = task;
    const starts = this.#statesOf(task, 0, leaves[0] as number).at;
    const lays = starts.flatMap((place): Lay[] => {
      const all = leaves.map(() => place);
      const sound = leaves.every((leaf, k) =>
        laneFits(this.#leaf(leaf), sheet.slots[k] as Slot, place, lane, this.taken(leaf)),
      );
      return sound ? [{ at: all, cost: this.exact(task, all) }] : [];
    });
    return apart(lays.sort((a, b) => a.cost - b.cost));
  }
}

/** Numbers for things that are alike, so that what is remembered of them is found quickly. */
class Numbers<T extends object> {
  readonly #seen = new WeakMap<T, number>();
  readonly #alike = new Map<string, number>();

  constructor(readonly keyOf: (one: T) => string) {}

  of(one: T): number {
    let number = this.#seen.get(one);
    if (number === undefined) {
      const key = this.keyOf(one);
      number = this.#alike.get(key) ?? this.#alike.size;
      this.#alike.set(key, number);
      this.#seen.set(one, number);
    }
    return number;
  }
}

/** Whether each slot meets the next alone. */
const chained = ({ joints }: Sheet): boolean => joints.every(({ slots: [a, b] }) => b === a + 1);

const within = (p: Point<'face'>, q: Point<'face'>): boolean =>
  Math.abs(p[0] - q[0]) <= DRIFT[0] && Math.abs(p[1] - q[1]) <= DRIFT[1];

/** The best few layouts that begin in different places. */
function apart(lays: readonly Lay[]): Lay[] {
  const kept: Lay[] = [];
  for (const lay of lays) {
    if (kept.length === KEPT) break;
    const [u, v] = lay.at[0] as Point<'face'>;
    const near = kept.some(({ at: [p] }) => p && Math.abs(p[0] - u) <= APART[0] && Math.abs(p[1] - v) <= APART[1]);
    if (!near) kept.push(lay);
  }
  return kept;
}
