import type { BoardToBuy, BudgetLine, Look, NextLeaf, ReadyBoard, Resawn, RestUse, Way } from '../leaves';

/** A board and the leaves that it gives. */
export interface BoardReport {
  readonly id: string;
  readonly name: string;
  /** Of all strips together. */
  readonly leaves: number;
  /** What is left of a strip. */
  readonly remnant: number;
  /** Where each cut of a strip begins, from the outer face as it was once flat. */
  readonly cuts: readonly number[];
  /** Panel faces that the doors want of it, and what it gives. */
  readonly wanted: number;
  readonly given: number;
  readonly warning: string | null;
  readonly way: Way;
  readonly ready: ReadyBoard;
  /** One strip, by that way. */
  readonly sawn: Resawn;
  readonly budget: readonly BudgetLine[];
  /** Every way of working: leaves of all strips, and panel faces that they give. */
  readonly ways: readonly WayCount[];
  /** Where the next leaf begins; null where there is not enough wood for the planing. */
  readonly next: NextLeaf | null;
  /** What the rest is good for; null where there is none. */
  readonly rest: RestUse | null;
  /** The look of a leaf from edge to edge; null where the end grain was not read. */
  readonly look: readonly Look[] | null;
  /** Leaves over when the doors have theirs, and doors that fail if one of its leaves is spoilt. */
  readonly spare: number;
  readonly lost: number;
  /** What would give a leaf more, one sentence each. */
  readonly help: readonly string[];
  /** What to mind of this board. */
  readonly mind: readonly string[];
  /** Boards that would do for what is short; none where nothing is. */
  readonly toBuy: readonly BoardToBuy[];
}

/** What one way of working gives. */
export interface WayCount {
  readonly way: Way;
  readonly leaves: number;
  readonly given: number;
}
