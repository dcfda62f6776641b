import { batch, computed, signal } from '@preact/signals';
import { type Flitch, type Slab, slabsInOrder } from '../../../job';
import type { JobStore } from '../../store';
import type { PathPoint } from './path';

/** What of a slab is worked on. */
export const PANELS = [
  ['photo', 'Photo'],
  ['outline', 'Outline'],
  ['defects', 'Defects'],
  ['readings', 'Readings'],
  ['slab', 'Slab'],
] as const;
export type Panel = (typeof PANELS)[number][0];

export type FaceName = 'top' | 'bottom';

/** A defect that is being drawn, not yet in the job. */
export interface Drawn {
  shape: 'crack' | 'area';
  points: readonly PathPoint[];
  /** Width of the crack at the next place, mm. */
  width: number;
}

/** A point placed by hand on a photo; what was not typed yet is null. */
export interface HandPoint {
  px: readonly [number, number];
  mm: readonly [number | null, number | null];
}

/** Long work on a photo. */
interface Reading {
  label: string;
  fraction: number;
  note: string;
  stop(): void;
}

/** What is looked at in the stage of stock. It is no part of the job: it is not saved and not undone. */
export class StockView {
  readonly slabId = signal<string | null>(null);
  readonly faceName = signal<FaceName>('top');
  readonly panel = signal<Panel>('photo');
  /** The chosen point on the sheet. */
  readonly handle = signal<string | null>(null);
  readonly defectId = signal<string | null>(null);
  /** Which ring of the outline is edited: -1 the outer one, else a hole. */
  readonly ring = signal(-1);
  /** A path while a point of it is dragged. */
  readonly dragged = signal<{ key: string; points: readonly PathPoint[] } | null>(null);
  readonly drawn = signal<Drawn | null>(null);
  /** Points placed by hand on the photo; null when the face is looked at instead. */
  readonly byHand = signal<readonly HandPoint[] | null>(null);
  readonly reading = signal<Reading | null>(null);
  readonly trouble = signal<{ message: string; mend: string; byHand: boolean } | null>(null);
  /** Side of the printed markers, for the next photo, mm. */
  readonly markerSide = signal(80);

  /** The slab in view with its flitch: the chosen one, else the job's first; null in a job without slabs. */
  readonly place = computed((): { flitch: Flitch; slab: Slab } | null => {
    const flitches = Object.values(this.store.job.value.flitches);
    const all = flitches.flatMap((flitch) => slabsInOrder(flitch).map((slab) => ({ flitch, slab })));
    return all.find(({ slab }) => slab.id === this.slabId.value) ?? all[0] ?? null;
  });

  readonly face = computed(() => this.place.value?.slab.faces[this.faceName.value] ?? null);

  /** The photo that the face was measured from, or else the first that waits to be. */
  readonly photo = computed(() => {
    const photos = Object.values(this.face.value?.photos ?? {});
    return photos.findLast(({ calibration }) => calibration) ?? photos.at(-1) ?? null;
  });

  constructor(readonly store: JobStore) {
    const job = store.job.peek();
    for (const flitch of Object.values(job.flitches))
      for (const slab of Object.values(flitch.slabs))
        for (const photo of Object.values(slab.faces.top.photos))
          if (photo.scale.kind === 'markers') this.markerSide.value = photo.scale.side;
  }

  look(slabId: string, face: FaceName = 'top'): void {
    batch(() => {
      this.slabId.value = slabId;
      this.faceName.value = face;
      this.letGo();
    });
  }

  open(panel: Panel): void {
    batch(() => {
      this.panel.value = panel;
      this.letGo();
    });
  }

  /** Forgets what was chosen and half drawn. */
  letGo(): void {
    this.handle.value = null;
    this.defectId.value = null;
    this.ring.value = -1;
    this.dragged.value = null;
    this.drawn.value = null;
    this.byHand.value = null;
    this.trouble.value = null;
  }

  /** Changes the face in view, as one step that can be undone. */
  editFace(name: string, change: (face: Slab['faces']['top']) => void): void {
    const { place } = this;
    const faceName = this.faceName.peek();
    this.editSlab(place.peek()?.slab.id ?? '', name, (slab) => change(slab.faces[faceName]));
  }

  /** Changes a slab, as one step that can be undone. */
  editSlab(slabId: string, name: string, change: (slab: Slab) => void): void {
    this.store.edit(name, (draft) => {
      for (const flitch of Object.values(draft.flitches)) {
        const slab = flitch.slabs[slabId];
        if (slab) change(slab);
      }
    });
  }
}

const views = new WeakMap<JobStore, StockView>();

/** The view of a job's stock: the same one when the person comes back from another stage. */
export function stockView(store: JobStore): StockView {
  const known = views.get(store);
  if (known) return known;
  const view = new StockView(store);
  views.set(store, view);
  return view;
}
