import { signal } from '@preact/signals';
import type { HandKey } from '../../../keys';
import type { PlanView } from '../../plan-view';

/** A key that follows the hand: the keys as they would be, and which of them is held. */
interface Held {
  readonly keys: readonly HandKey[];
  readonly i: number;
}

/** A place on a crack at which no key stands. */
interface Spot {
  readonly crack: number;
  readonly along: number;
}

/** No crack was turned to yet: the first that matters is shown. */
export const NONE = -1;

/** What of the keys is looked at and held. Not saved, not undone. */
export class KeysHand {
  readonly top = signal('');
  /** Place of the crack in the top's list; NONE until one was turned to. */
  readonly crack = signal(NONE);
  /** Place of the chosen key in the list. */
  readonly chosen = signal<number | null>(null);
  /** The place that was tapped on a crack, for a key to be added there. */
  readonly spot = signal<Spot | null>(null);
  readonly held = signal<Held | null>(null);
  /** Size of a key that is added; the first that suits the crack where none is said. */
  readonly size = signal('');
  /** What a narrow screen shows: all of the top, or the crack. */
  readonly whole = signal(false);

  choose(i: number | null, crack?: number): void {
    this.chosen.value = i;
    this.spot.value = null;
    if (crack !== undefined) this.crack.value = crack;
  }

  /** Looks at another crack or top. */
  turnTo(top: string, crack: number = NONE): void {
    this.top.value = top;
    this.crack.value = crack;
    this.chosen.value = null;
    this.spot.value = null;
    this.held.value = null;
  }
}

const hands = new WeakMap<PlanView, KeysHand>();

/** The hand on the keys of a view's plans. */
export function keysHand(view: PlanView): KeysHand {
  const known = hands.get(view) ?? new KeysHand();
  hands.set(view, known);
  return known;
}
