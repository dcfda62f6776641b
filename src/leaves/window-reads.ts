import type { Bounds, Point } from '../geometry';
import type { FaceName } from '../job';
import type { Control } from '../search';
import type { Bench, ReadyLeaf } from './set-bench';
import type { Look, Placed } from './set-meter';
import type { Sheet, Slot, SlotJoint } from './set-slots';
import { densePlaces, type Lane, laneFits, statesOf } from './window-states';

/**
 * How far neighbouring windows may lie apart, mm along and across: figure drifts by a median of 3 over a kerf, nine in ten under 11, and over kerf and leaf, as at
 * every other joint of a book match, by several times that.
 */
const DRIFT = [20, 36] as const;
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
  readonly sides: Map<number, readonly Look[]>;
}

/** Costs of a step from a place of one leaf to a place of the next, those within the drift. */
export interface Step {
  readonly to: Int32Array;
  readonly cost: Float32Array;
}

export const within = (p: Point<'face'>, q: Point<'face'>): boolean =>
  Math.abs(p[0] - q[0]) <= DRIFT[0] && Math.abs(p[1] - q[1]) <= DRIFT[1];

/** Looks and costs of windows on the leaves of a bench, each read once and remembered for other sheets of the kind. */
export class WindowReads {
  readonly #states = new Map<number, States>();
  readonly #slots = new Numbers<Slot>(({ key }) => key);
  readonly #lanes = new Numbers<Lane>(({ from, to }) => `${from} ${to}`);
  readonly #joints = new Numbers<SlotJoint>(({ key }) => key);
  readonly #steps = new Map<string, readonly Step[]>();
  readonly #dense = new Map<string, readonly Point<'face'>[]>();
  readonly #tables = new WeakMap<
    readonly Point<'face'>[],
    WeakMap<readonly Point<'face'>[], Map<number, Float32Array>>
  >();

  /** @param taken wood of a leaf that locked fronts have, in the leaf's frame, the saw's kerf round it */
  constructor(
    readonly bench: Bench,
    readonly taken: (leaf: number) => readonly Bounds[],
    readonly control: Control,
  ) {}

  leaf(leaf: number): ReadyLeaf {
    return this.bench.leaves[leaf] as ReadyLeaf;
  }

  /** Whether a slot may lie at a place of its leaf. */
  fits({ sheet, leaves, lane }: Task, slot: number, at: Point<'face'>): boolean {
    const leaf = leaves[slot] as number;
    return laneFits(this.leaf(leaf), sheet.slots[slot] as Slot, at, lane, this.taken(leaf));
  }

  /** Places of a leaf for a coarse look at a slot. */
  statesOf(task: Pick<Task, 'sheet' | 'lane'>, slot: number, leaf: number): readonly Point<'face'>[] {
    return this.#stateOf(task, slot, leaf).at;
  }

  /** Places of a slot's leaf so many mm apart along and across, all over it. */
  densePlaces({ sheet, leaves, lane }: Task, slot: number, step: readonly [number, number]): readonly Point<'face'>[] {
    const leaf = leaves[slot] as number;
    const key = [this.#slots.of(sheet.slots[slot] as Slot), this.#lanes.of(lane), leaf, ...step].join(' ');
    let places = this.#dense.get(key);
    if (!places) {
      places = densePlaces(this.leaf(leaf), sheet.slots[slot] as Slot, lane, this.taken(leaf), step);
      this.#dense.set(key, places);
    }
    return places;
  }

  /** What a joint comes to. Exact. */
  exact({ sheet, leaves }: Task, joint: SlotJoint, one: Point<'face'>, other: Point<'face'>): number {
    const [i, j] = joint.slots;
    const [a, b] = [leaves[i] as number, leaves[j] as number];
    if (joint.weight === 0) return 0;
    if (!this.bench.meter.knows(a, b)) return joint.weight;
    this.control.budget.spend();
    const [p, q] = [this.#placed(a, one), this.#placed(b, other)];
    return joint.weight * this.bench.meter.cost(joint, facesOf(sheet, joint), p, q);
  }

  /** What a joint comes to for all places of its two slots, [first][second]; Infinity for those too far apart. Exact. */
  table(
    { sheet, leaves }: Task,
    joint: SlotJoint,
    one: readonly Point<'face'>[],
    other: readonly Point<'face'>[],
  ): Float32Array {
    const number = this.#joints.of(joint);
    const known = this.#tables.get(one)?.get(other)?.get(number);
    if (known) return known;
    const [a, b] = joint.slots.map((slot) => leaves[slot] as number) as [number, number];
    const { meter } = this.bench;
    const made = new Float32Array(one.length * other.length).fill(Infinity);
    const told = joint.weight > 0 && meter.knows(a, b);
    const faces = facesOf(sheet, joint);
    const looks = (which: 0 | 1, leaf: number, at: readonly Point<'face'>[]) =>
      told ? at.map((place) => meter.look(joint, faces, which, this.#placed(leaf, place))) : [];
    const [p, q] = [looks(0, a, one), looks(1, b, other)];
    const costs = told ? meter.costs(joint) : null;
    let spent = 0;
    for (const [i, from] of one.entries()) {
      for (const [k, to] of other.entries()) {
        if (!within(from, to)) continue;
        spent++;
        made[i * other.length + k] = joint.weight * (costs ? costs(p[i] as Look, q[k] as Look) : 1);
      }
    }
    if (told) this.control.budget.spend(spent);
    const of = this.#tables.get(one) ?? new WeakMap<readonly Point<'face'>[], Map<number, Float32Array>>();
    this.#tables.set(one, of);
    of.set(other, (of.get(other) ?? new Map<number, Float32Array>()).set(number, made));
    return made;
  }

  /** How far a window that is to be centred stands off its leaf's middle, as a cost. */
  offCentre({ sheet, leaves }: Task, slot: number, [, v]: Point<'face'>): number {
    if (!sheet.centred.includes(slot)) return 0;
    const leaf = this.leaf(leaves[slot] as number);
    const axis = leaf.axis();
    if (axis === null) return 0;
    const { minY, maxY } = (sheet.slots[slot] as Slot).box;
    return Math.min(2, Math.abs(leaf.origin[1] + v + (minY + maxY) / 2 - axis) / OFF_CENTRE);
  }

  /** Steps from every coarse place of slot k's leaf to those of the next one's, near enough to lead a search. */
  stepsFrom(task: Task, k: number): readonly Step[] {
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
    const [from, to] = [this.statesOf(task, k, a), this.statesOf(task, k + 1, b)];
    const known = this.bench.meter.knows(a, b);
    const looks = known
      ? joints.map((joint) => {
          const sides = [this.#sides(task, joint, 0), this.#sides(task, joint, 1)] as const;
          return { weight: joint.weight, costs: this.bench.meter.costs(joint), sides };
        })
      : [];
    const flat = known ? 0 : joints.reduce((sum, { weight }) => sum + weight, 0);
    const made = from.map((p, i): Step => {
      const near: number[] = [];
      for (const [t, q] of to.entries()) if (within(p, q)) near.push(t);
      const cost = Float32Array.from(near, (t) =>
        looks.reduce(
          (sum, { weight, costs, sides: [one, other] }) => sum + weight * costs(one[i] as Look, other[t] as Look),
          flat,
        ),
      );
      return { to: Int32Array.from(near), cost };
    });
    this.control.budget.spend(made.reduce((sum, { to: many }) => sum + many.length * looks.length, 0));
    this.#steps.set(key, made);
    return made;
  }

  #placed(leaf: number, [u, v]: Point<'face'>): Placed {
    const { origin } = this.leaf(leaf);
    return { leaf, at: [origin[0] + u, origin[1] + v] };
  }

  #stateOf({ sheet, lane }: Pick<Task, 'sheet' | 'lane'>, slot: number, leaf: number): States {
    const key = (this.#slots.of(sheet.slots[slot] as Slot) * MANY + this.#lanes.of(lane)) * MANY + leaf;
    let states = this.#states.get(key);
    if (!states) {
      const at = statesOf(this.leaf(leaf), sheet.slots[slot] as Slot, lane, this.taken(leaf));
      states = { at, sides: new Map() };
      this.#states.set(key, states);
    }
    return states;
  }

  #sides(task: Task, joint: SlotJoint, which: 0 | 1): readonly Look[] {
    const { sheet, leaves } = task;
    const slot = joint.slots[which];
    const leaf = leaves[slot] as number;
    const states = this.#stateOf(task, slot, leaf);
    const faces = facesOf(sheet, joint);
    const key = this.#joints.of(joint) * 2 + which;
    let sides = states.sides.get(key);
    if (!sides) {
      sides = states.at.map((place) => this.bench.meter.side(joint, faces, which, this.#placed(leaf, place)));
      states.sides.set(key, sides);
    }
    return sides;
  }
}

const facesOf = ({ slots }: Sheet, { slots: [i, j] }: SlotJoint): readonly [FaceName, FaceName] => [
  (slots[i] as Slot).face,
  (slots[j] as Slot).face,
];

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
