import { type Signal, signal } from '@preact/signals';
import { bareSlab, type MarkTrouble, type MeasuredSlab, type SlabMeasures } from '../../../cutmap';
import type { Point } from '../../../geometry';
import { type Face, type FaceName, faceKey, type Job, type Slab, slabsInOrder } from '../../../job';
import { marksOn, type PlanReport } from '../../../plan';
import type { JobStore } from '../../store';

/** The slabs that marks are put on, and which of them is in view. */

/** A face with its marks: as the plan cuts it, else as it lies there. */
export interface MarkedSlab {
  readonly key: string;
  readonly flitch: string;
  readonly slab: Slab;
  readonly face: FaceName;
  readonly own: Face;
  readonly measured: MeasuredSlab;
  /** A plan cuts it. */
  readonly planned: boolean;
}

/** What the screens of one slab's marks are given; null measures where two marks have no place. */
export interface MarksProps {
  readonly store: JobStore;
  readonly marked: MarkedSlab;
  readonly measures: SlabMeasures | null;
  /** What speaks against the marks, worst first. */
  readonly troubles: readonly MarkTrouble[];
}

/** Two marks, A and B. */
export type Marks = readonly [Point<'face'>, Point<'face'>];

/** Every slab that is traced, those that the plan cuts first. */
export function markedSlabs(job: Job, report: PlanReport | null): MarkedSlab[] {
  const cut = (report?.slabs ?? []).flatMap((reported): MarkedSlab[] => {
    const { flitch, face } = reported;
    const slab = job.flitches[flitch]?.slabs[reported.slab];
    if (!slab) return [];
    // Marks that were set just now need not wait for the plan to be computed anew.
    const marks = marksOn(slab, face);
    const measured = String(marks) === String(reported.marks) ? reported : { ...reported, marks };
    const key = faceKey(flitch, slab.id, face);
    return [{ key, flitch, slab, face, own: slab.faces[face], measured, planned: true }];
  });
  const others = Object.values(job.flitches).flatMap((flitch) =>
    slabsInOrder(flitch).flatMap((slab): MarkedSlab[] => {
      if (cut.some((one) => one.flitch === flitch.id && one.slab.id === slab.id)) return [];
      const face = slab.faces.top.outline ? 'top' : 'bottom';
      const measured = bareSlab(slab, face);
      const key = faceKey(flitch.id, slab.id, face);
      return measured ? [{ key, flitch: flitch.id, slab, face, own: slab.faces[face], measured, planned: false }] : [];
    }),
  );
  return [...cut, ...others];
}

/** Changes the slab, as one step. */
export function editMarked(
  store: JobStore,
  { flitch, slab }: MarkedSlab,
  step: string,
  change: (own: Slab) => void,
): void {
  store.edit(step, (draft) => {
    const own = draft.flitches[flitch]?.slabs[slab.id];
    if (own) change(own);
  });
}

/** Puts the marks there, in the frame of the face in view. */
export function setMarks(store: JobStore, marked: MarkedSlab, step: string, marks: Marks): void {
  const whole = marks.map(([x, y]) => [Math.round(x * 10) / 10, Math.round(y * 10) / 10] as const);
  editMarked(store, marked, step, (own) => {
    own.marks = whole as unknown as typeof own.marks;
    if (marked.face === 'top') delete own.marksFace;
    else own.marksFace = marked.face;
  });
}

/** What is looked at: not saved, not undone. */
interface MarksView {
  readonly slab: Signal<string>;
  /** The mark that is chosen: 'A', 'B' or none. */
  readonly chosen: Signal<string | null>;
  /** Marks while one is dragged. */
  readonly dragged: Signal<Marks | null>;
  /** Seen from the other face. */
  readonly turned: Signal<boolean>;
}

const views = new WeakMap<JobStore, MarksView>();

/** The view of a job's marks: the same one when the person comes back from another stage. */
export function marksView(store: JobStore): MarksView {
  const known = views.get(store) ?? {
    slab: signal(''),
    chosen: signal<string | null>(null),
    dragged: signal<Marks | null>(null),
    turned: signal(false),
  };
  views.set(store, known);
  return known;
}
