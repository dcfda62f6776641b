import { signal } from '@preact/signals';
import type { Job, Placement, Plan } from '../../../job';
import type { JointMove, Refusal } from '../../../layout';
import { announce } from '../../announce';
import { troubleOf } from '../../parts/problem';
import { type PlanView, storedFaces } from '../../plan-view';
import { solverWork } from '../../work';

/** What a move would break, as one would say it. */
const REFUSED: Readonly<Record<Refusal, string>> = {
  depth: 'The top would leave the depths that are wanted.',
  strip: 'One of the strips would be narrower than the least that is wanted.',
  wood: 'The joint would leave the wood, or come nearer to its edge than the photo is sure of.',
  defect: 'A defect that is to be kept off would come into the top.',
  'far defect': 'A defect of the other face, which is to be kept off here, too, would come into the top.',
  sapwood: 'Sapwood, which is not wanted, would come into the top.',
};

const QUIET = () => {};

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
  /** Why the last move cannot be; null when it can. */
  readonly refused = signal<string | null>(null);
  private takenJob: Job | null = null;
  private taken: Promise<unknown> | null = null;
  private takenFrom: Placement | null = null;
  private wanted: JointMove | null = null;
  private moving: Promise<void> | null = null;
  private tapping: Promise<void> = Promise.resolve();
  private tapped: Tapped | null = null;

  constructor(private readonly view: PlanView) {}

  /** Moves the joint of a placement from where the plan has it. */
  move(placement: Placement, move: JointMove): void {
    if (this.takenFrom !== placement) {
      this.takenFrom = placement;
      this.taken = this.take(placement);
    }
    this.wanted = move;
    this.moving ??= this.follow();
  }

  /** Lets the joint stay where it was moved to last, as one step that can be undone. */
  async drop(plan: Plan): Promise<void> {
    await this.moving;
    const placement = this.view.dragged.peek();
    this.view.dragged.value = null;
    if (!placement) return;
    try {
      const job = this.view.store.job.peek();
      const changed = await solverWork.call(new AbortController().signal, QUIET, (api, id, tell) =>
        api.put(id, job, plan, placement, tell),
      );
      this.view.store.edit('Move the joint', (draft) => {
        draft.plans[plan.id] = changed;
      });
    } catch (error) {
      this.view.trouble.value = troubleOf(error);
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
    this.move(placement, tap.move);
    await this.drop(plan);
    announce(this.refused.peek() ?? 'The joint was moved.');
  }

  /** The photos are looked at anew only where slabs, tops or allowances have changed since: it takes seconds. */
  private async take(placement: Placement): Promise<void> {
    const job = this.view.store.job.peek();
    const { signal } = new AbortController();
    const last = this.takenJob;
    if (last && last.flitches === job.flitches && last.tops === job.tops && last.shop === job.shop) {
      await solverWork.call(signal, QUIET, (api, id, tell) => api.retake(id, placement, tell));
      return;
    }
    announce('Looking along the joint …');
    const faces = await storedFaces(this.view.store);
    await solverWork.call(signal, QUIET, (api, id, tell) => api.take(id, job, placement, faces, tell));
    this.takenJob = job;
  }

  private async follow(): Promise<void> {
    try {
      await this.taken;
      while (this.wanted) {
        const move = this.wanted;
        this.wanted = null;
        const made = await solverWork.call(new AbortController().signal, QUIET, (api, id, tell) =>
          api.move(id, move, tell),
        );
        this.refused.value = typeof made === 'string' ? REFUSED[made] : null;
        if (typeof made !== 'string') this.view.dragged.value = made;
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

const drags = new WeakMap<PlanView, JointDrag>();

/** The hand on the joints of a view's plans. */
export function jointDrag(view: PlanView): JointDrag {
  const known = drags.get(view) ?? new JointDrag(view);
  drags.set(view, known);
  return known;
}
