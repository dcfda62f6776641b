import { type ReadonlySignal, signal } from '@preact/signals';
import type { CheckedMove } from '../../../../workers/solver.worker';
import { distance } from '../../../geometry';
import { type Stretch, seamWord } from '../../../grain';
import { type Job, type Placement, type Plan, wantedTop } from '../../../job';
import type { JointMove } from '../../../layout';
import { plansWithKeys } from '../../../plan';
import { formatLength } from '../../../units';
import { announce } from '../../announce';
import { troubleOf } from '../../parts/problem';
import { type PlanView, storedFaces } from '../../plan-view';
import { solverWork } from '../../work';

/** An end of a joint that moved by less than this, mm, is where it was. */
const STAYS = 0.1;
const QUIET = () => {};
const call = <T>(send: Parameters<typeof solverWork.call<T>>[2]) =>
  solverWork.call(new AbortController().signal, QUIET, send);

/** Seams as they are, stretch by stretch, by their placement; null where a face has no picture. */
type Alongs = ReadonlyMap<Placement, readonly Stretch[] | null>;

/** Taps not yet measured. */
interface Tapped {
  readonly planId: string;
  readonly top: string;
  move: JointMove;
}

const added = (a: JointMove, b: JointMove): JointMove => ({
  side: a.side,
  by: a.by + b.by,
  turn: a.turn + b.turn,
  slide: a.slide + b.slide,
});

/** A joint line in the hand: each move is measured as it goes, the last one asked for next; what is dropped becomes part of the plan. */
export class JointDrag {
  private readonly sayAlongs = signal<Alongs>(new Map());
  private takenJob: Job | null = null;
  private laying: Promise<void> = Promise.resolve();
  private taken: Promise<unknown> | null = null;
  private takenFrom: Placement | null = null;
  private wanted: JointMove | null = null;
  private moving: Promise<void> | null = null;
  private tapping: Promise<void> = Promise.resolve();
  private tapped: Tapped | null = null;

  constructor(private readonly view: PlanView) {}

  get alongs(): ReadonlySignal<Alongs> {
    return this.sayAlongs;
  }

  /** Looks along the seams of a plan; what is known already is not looked at again. */
  async look(plan: Plan): Promise<void> {
    const seamed = Object.values(plan.placements).filter(({ strips }) => strips.length === 2);
    const known = this.sayAlongs.peek();
    const next = new Map([...known].filter(([placement]) => seamed.includes(placement)));
    try {
      for (const placement of seamed.filter((one) => !next.has(one))) {
        await this.layReady(placement);
        next.set(placement, await call((api, id, tell) => api.along(id, placement, tell)));
      }
      if (this.view.plan.peek() === plan) this.sayAlongs.value = next;
    } catch (error) {
      this.takenJob = null;
      this.view.trouble.value = troubleOf(error);
    }
  }

  /** Moves the joint of a placement from where the plan has it. */
  move(plan: Plan, placement: Placement, move: JointMove): void {
    if (this.takenFrom !== placement) {
      this.takenFrom = placement;
      this.taken = this.take(plan, placement);
    }
    this.wanted = move;
    this.moving ??= this.follow();
  }

  /** Lets the joint go back to where the plan has it. */
  async cancel(): Promise<void> {
    await this.moving;
    this.view.dragged.value = null;
  }

  /** Lets the joint stay where it was moved to last, as one step that can be undone. */
  async drop(plan: Plan): Promise<void> {
    await this.moving;
    const moved = this.view.dragged.peek();
    try {
      if (!moved) return;
      const job = this.view.store.job.peek();
      const put = await call((api, id, tell) => api.put(id, job, plan, moved, tell));
      const [changed, words] = withKeysOf(job, plan, put);
      this.view.store.edit('Move the joint', (draft) => {
        draft.plans[plan.id] = changed;
      });
      if (words.length > 0) announce(words.join(' '));
      const placement = changed.placements[moved.placement.top];
      if (placement) this.sayAlongs.value = new Map([...this.sayAlongs.peek(), [placement, moved.along]]);
    } catch (error) {
      this.view.trouble.value = troubleOf(error);
    } finally {
      this.view.dragged.value = null;
    }
  }

  /**
   * Finds the joint of a placement again near where it is, for pictures of its flat faces, and makes what was found part of the plan.
   * @returns what came of it, in words
   */
  async again(plan: Plan, placement: Placement): Promise<string> {
    const stopper = new AbortController();
    const tell = (fraction: number, note = '') => {
      this.view.running.value = { label: 'Finding the joint again', fraction, note, stop: () => stopper.abort() };
    };
    tell(0);
    try {
      await this.take(plan, placement);
      const made = await solverWork.call(stopper.signal, tell, (api, id, report) => api.again(id, report));
      if (!made) return 'Near where it is, no joint can be sawn: the plan needs another look first.';
      const before = placement.joints[0]?.blend ?? null;
      const after = made.placement.joints[0]?.blend ?? null;
      const off = movedBy(placement, made.placement);
      this.view.dragged.value = made;
      await this.drop(plan);
      return foundWords(off, before, after, this.view.store.job.peek());
    } catch (error) {
      if (!stopper.signal.aborted) this.view.trouble.value = troubleOf(error);
      return '';
    } finally {
      this.view.running.value = null;
    }
  }

  /** One move at once, for a key or a button. Taps that come while the last one is still measured add up to one move. */
  nudge(planId: string, top: string, move: JointMove): Promise<void> {
    const { tapped } = this;
    if (tapped?.planId === planId && tapped.top === top && tapped.move.side === move.side) {
      tapped.move = added(tapped.move, move);
      return this.tapping;
    }
    const tap: Tapped = { planId, top, move };
    this.tapped = tap;
    this.tapping = this.tapping.then(() => this.tap(tap));
    return this.tapping;
  }

  /** A tap moves the joint from where the taps before it have left it. */
  private async tap(tap: Tapped): Promise<void> {
    if (this.tapped === tap) this.tapped = null;
    const plan = this.view.store.job.peek().plans[tap.planId];
    const placement = plan?.placements[tap.top];
    if (!plan || !placement) return;
    this.move(plan, placement, tap.move);
    await this.moving;
    const moved = this.view.dragged.peek();
    announce(movedWords(moved, this.view.store.job.peek()));
    await this.drop(plan);
  }

  /** Has the worker look at the photos, only where slabs, tops or allowances have changed since: it takes seconds. */
  private layReady(placement: Placement): Promise<void> {
    const lay = async () => {
      const job = this.view.store.job.peek();
      const last = this.takenJob;
      if (last && last.flitches === job.flitches && last.tops === job.tops && last.shop === job.shop) return;
      const faces = await storedFaces(this.view.store);
      await call((api, id, tell) => api.take(id, job, placement, faces, tell));
      this.takenJob = job;
      this.takenFrom = null;
    };
    this.laying = this.laying.then(lay, lay);
    return this.laying;
  }

  private async take(plan: Plan, placement: Placement): Promise<void> {
    await this.layReady(placement);
    await call((api, id, tell) => api.retake(id, plan, placement, tell));
    this.takenFrom = placement;
  }

  private async follow(): Promise<void> {
    try {
      await this.taken;
      while (this.wanted) {
        const move = this.wanted;
        this.wanted = null;
        const made = await call((api, id, tell) => api.move(id, move, tell));
        if (made) this.view.dragged.value = made;
      }
    } catch (error) {
      this.takenFrom = null;
      this.takenJob = null;
      this.view.trouble.value = troubleOf(error);
    } finally {
      this.moving = null;
    }
  }
}

/** What a move by a tap came to, for those who hear it. */
function movedWords(moved: CheckedMove | null, job: Job): string {
  if (!moved) return 'The joint would leave the wood there.';
  const [first] = moved.faults;
  const done = first ? `The joint was moved, and cannot be sawn there. ${first.message}` : 'The joint was moved.';
  return [done, movedAlong(moved, job)].join(' ').trim();
}

/** What moves along with a joint in the hand, as a sentence; empty where nothing does. */
export function movedAlong({ placement, others }: CheckedMove, job: Job): string {
  const names = others.map(({ placement: { top } }) => wantedTop(job, top)?.name ?? top);
  if (names.length > 0) return `The joint of ${names.join(' and ')} moves along: the grain goes on.`;
  const made = placement.joints[0]?.made;
  if (made === 'book') return 'The other half moves along as its mirror image.';
  return made === 'reglued' ? 'Both edges of the rip turn together.' : '';
}

/** A changed plan with the keys that were set by hand: on tops that moved they keep their places in the wood; what is lost, in words. */
function withKeysOf(job: Job, before: Plan, changed: Plan): [Plan, words: string[]] {
  const placements = Object.values(changed.placements).map((placement): Placement => {
    const { keys: _, ...moved } = placement;
    const stays = JSON.stringify(placement.strips) === JSON.stringify(before.placements[placement.top]?.strips);
    return stays ? placement : moved;
  });
  const bare = { ...changed, placements: Object.fromEntries(placements.map((each) => [each.top, each])) };
  const { plans, words } = plansWithKeys(job, before.id, [bare]);
  return [plans[0] ?? changed, words];
}

/** How far the farthest end of a joint line lies from where it was, mm. */
function movedBy(before: Placement, after: Placement): number {
  const endsOf = ({ strips }: Placement) => [...(strips[0]?.jointBack ?? []), ...(strips[1]?.jointFront ?? [])];
  const now = endsOf(after);
  return Math.max(0, ...endsOf(before).map((p, i) => distance(p, now[i] ?? p)));
}

/** What finding a joint again came to. */
function foundWords(off: number, before: number | null, after: number | null, { units }: Job): string {
  const looks = (blend: number | null) => (blend === null ? 'not known' : seamWord(blend));
  if (off < STAYS) return `The joint is best where it is: ${looks(after)}.`;
  const same = looks(before) === looks(after) ? `still ${looks(after)}` : `${looks(before)} there, ${looks(after)} now`;
  return `The joint has moved by up to ${formatLength(off, units, { unit: true, decimals: 1 })}: ${same}.`;
}

const drags = new WeakMap<PlanView, JointDrag>();

/** The hand on the joints of a view's plans. */
export function jointDrag(view: PlanView): JointDrag {
  const known = drags.get(view) ?? new JointDrag(view);
  drags.set(view, known);
  return known;
}
