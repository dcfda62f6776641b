import { signal } from '@preact/signals';
import type { PlanView } from '../../plan-view';

/** How the layout is looked at. Not saved, not undone. */
export class LayoutLook {
  /** Whether seams, keys and dimensions are drawn on the finished top. */
  readonly marks = signal(true);
  /** The tops as they will be, or the blanks before they are flattened and jointed. */
  readonly stage = signal<'finished' | 'rough'>('finished');
  /** What a narrow screen shows. */
  readonly pane = signal<'top' | 'slabs'>('top');
  /** A stretch of a seam that is looked at closely, mm from the left-hand end of its top. */
  readonly close = signal<{ readonly top: string; readonly from: number; readonly to: number } | null>(null);
  /** The plan that the one in view is compared with. */
  readonly comparedId = signal<string | null>(null);

  /** Shows the seams if they are hidden and hides them if they are shown. */
  toggleMarks(): void {
    this.marks.value = !this.marks.peek();
  }
}

const looks = new WeakMap<PlanView, LayoutLook>();

/** How the plans of a view are looked at. */
export function layoutLook(view: PlanView): LayoutLook {
  const known = looks.get(view) ?? new LayoutLook();
  looks.set(view, known);
  return known;
}
