import { batch, computed, signal } from '@preact/signals';
import type { Point, Polygon } from '../../../geometry';
import {
  emptyFlitch,
  emptySlab,
  type FaceName,
  type Flitch,
  type Leaf,
  type Photo,
  type Picture,
  type ReferenceDraft,
  type Slab,
  slabsInOrder,
} from '../../../job';
import { tellProgress } from '../../announce';
import type { JobStore } from '../../store';
import type { GrainRead } from './grain-read';
import { HandTools } from './hand/tools';
import type { PathPoint } from './path';
import { draftOf, FIRST_DRAFT, nextDraft } from './reference/draft';
import type { Aim } from './reference/spots';

/** A leaf as a slab of its board, so that the tools for faces serve both: they change nothing but its faces. */
const leafAsSlab = (leaf: Leaf): Slab => ({
  ...emptySlab(leaf.id, leaf.place),
  name: `Leaf ${leaf.place}`,
  faces: leaf.faces,
});

/** What of a slab is worked on. */
export const PANELS = [
  ['photo', 'Photo'],
  ['outline', 'Outline'],
  ['defects', 'Defects'],
  ['layers', 'Layers'],
  ['readings', 'Readings'],
  ['slab', 'Slab'],
] as const;
export type Panel = (typeof PANELS)[number][0];

/** What of a leaf is worked on. */
export const LEAF_PANELS = [
  ['photo', 'Leaf'],
  ['outline', 'Outline'],
  ['defects', 'Defects'],
  ['layers', 'Layers'],
] as const satisfies readonly (readonly [Panel, string])[];

/** A photo of several leaves: its file, the face that was up, and the board. */
export interface LeafShotName {
  readonly board: string;
  readonly face: FaceName;
  readonly file: string;
}

/** What is being drawn, not yet in the job. */
export interface Drawn {
  shape: 'crack' | 'area' | 'sapwood' | 'pith' | 'grain';
  points: readonly PathPoint[];
  /** Width of the crack at the next place, mm. */
  width: number;
}

/** Which line of the wood is edited. */
export type WoodLine = { readonly kind: 'pith' } | { readonly kind: 'sapwood' | 'grain'; readonly place: number };

/** The two marks that tie the faces of a slab, while they are tapped: on each face, in its own frame. */
export interface Tying extends Record<FaceName, readonly PathPoint[]> {
  slabId: string;
}

/** A tape check whose ends are being clicked, px of the photo that they lie on. */
export interface TapeInHand {
  photoId: string;
  ends: readonly Point<'photo'>[];
}

/** A face that is still being read: seen from above, then with where its wood roughly is. */
export interface Preview {
  slabId: string;
  face: FaceName;
  picture: Blob;
  place: Omit<Picture, 'file'>;
  wood: Polygon<'face'>;
}

/** Long work on a photo. */
interface Reading {
  label: string;
  fraction: number;
  note: string;
  stop(): void;
}

/** Photos that came together, or to a face which was measured already: what they show is asked. */
export interface Arrivals {
  readonly files: readonly File[];
  /** Whether the face in view was measured already: else all of them are new. */
  readonly measured: boolean;
  /** What their marks say: parts of one face, or not; null while that is being found out. */
  readonly guess: boolean | null;
}

/** What is looked at in the stage of stock. It is no part of the job: it is not saved and not undone. */
export class StockView {
  readonly slabId = signal<string | null>(null);
  /** Whether slabs are looked at, or the boards and their leaves. */
  readonly stock = signal<'slabs' | 'boards'>('slabs');
  /** Among the boards: the leaf that is looked at, or the photo of several that is. */
  readonly leafId = signal<string | null>(null);
  readonly shot = signal<LeafShotName | null>(null);
  /** Leaves of the photo that were tapped so far, in order; null while nobody taps an order. */
  readonly tapped = signal<readonly string[] | null>(null);
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
  /** The tools for the outline, and what they hold. */
  readonly hand = new HandTools();
  /** Whether the shape of a proposed defect is being mended: until then its points would only hide it. */
  readonly mending = signal(false);
  readonly woodLine = signal<WoodLine | null>(null);
  readonly tying = signal<Tying | null>(null);
  /** What the pointer is over, mm on the face. */
  readonly hover = signal<Point<'face'> | null>(null);
  /** The place that is read out; while measuring, the two ends. */
  readonly spots = signal<readonly Point<'face'>[]>([]);
  readonly measuring = signal(false);
  readonly grain = signal<GrainRead | null>(null);
  /** Which photo of the face a person looks at. */
  readonly photoId = signal<string | null>(null);
  /** Whether a measured face is looked at from above, or as its photo shows it. */
  readonly lookAt = signal<'face' | 'photo'>('face');
  /** What the next tap on the photo sets. */
  readonly aim = signal<Aim | null>(null);
  /** A spot on the photo while it is dragged. */
  readonly moving = signal<{ id: string; to: Point<'photo'> } | null>(null);
  readonly tape = signal<TapeInHand | null>(null);
  /** What lies on the slab in the next photo, as far as it is as in the last one. */
  readonly next = signal<ReferenceDraft>(FIRST_DRAFT);
  /** What a photo that is being read shows so far. */
  readonly preview = signal<Preview | null>(null);
  /** A photo of a string before the slab's edge, and what was tapped on it: two points of known distance, the string's ends, the edge. */
  readonly stringPhoto = signal<{
    readonly image: HTMLImageElement;
    readonly points: readonly Point<'photo'>[];
  } | null>(null);
  /** New photos of which it is not known yet what they show. */
  readonly arrivals = signal<Arrivals | null>(null);
  /** Photos of one thing, of which the best is to be chosen. */
  readonly comparing = signal<readonly File[] | null>(null);
  readonly reading = signal<Reading | null>(null);
  /** `byHand`: points clicked by hand might help; `which`: the photo shows more than one slab. */
  readonly trouble = signal<{ message: string; mend: string; byHand: boolean; which?: boolean } | null>(null);
  /** The photo on which the slab that is meant is to be tapped, and where the cross stands that keys move over it (px). */
  readonly choosing = signal<{ readonly photoId: string; readonly cross: Point<'photo'> | null } | null>(null);
  /** The slab in view with its flitch: the chosen one, else the job's first; null in a job without slabs. */
  readonly place = computed((): { flitch: Flitch; slab: Slab } | null => {
    if (this.stock.value === 'boards') return this.leafPlace.value;
    const flitches = Object.values(this.store.job.value.flitches);
    const all = flitches.flatMap((flitch) => slabsInOrder(flitch).map((slab) => ({ flitch, slab })));
    return all.find(({ slab }) => slab.id === this.slabId.value) ?? all[0] ?? null;
  });

  /** The leaf in view, with its board in the place of a flitch. */
  private readonly leafPlace = computed((): { flitch: Flitch; slab: Slab } | null => {
    const id = this.leafId.value ?? '';
    const board = Object.values(this.store.job.value.boards).find(({ leaves }) => leaves[id]);
    const leaf = board?.leaves[id];
    return board && leaf ? { flitch: emptyFlitch(board.id, board.name, board.species), slab: leafAsSlab(leaf) } : null;
  });

  readonly face = computed(() => this.place.value?.slab.faces[this.faceName.value] ?? null);

  /** The photo that is looked at; else one that the face was measured from, or else the first that waits to be. */
  readonly photo = computed(() => {
    const { photos: all = {} } = this.face.value ?? {};
    const photos = Object.values(all);
    const chosen = all[this.photoId.value ?? ''];
    return chosen ?? photos.findLast(({ calibration }) => calibration) ?? photos.at(-1) ?? null;
  });

  /** What lies on the slab in the photo in view, as far as it was typed; without a photo, in the next one. */
  readonly reference = computed((): ReferenceDraft => {
    const photo = this.photo.value;
    return photo ? (photo.draft ?? draftOf(photo.scale, this.next.value)) : this.next.value;
  });

  constructor(readonly store: JobStore) {
    tellProgress(this.reading);
    const flitches = Object.values(store.job.peek().flitches);
    const slabs = flitches.flatMap((flitch) => slabsInOrder(flitch));
    for (const { faces } of slabs)
      for (const { draft, scale } of Object.values(faces.top.photos))
        this.next.value = nextDraft(draft ?? draftOf(scale, this.next.value));
  }

  look(slabId: string, face: FaceName = 'top'): void {
    batch(() => {
      this.stock.value = 'slabs';
      this.slabId.value = slabId;
      this.faceName.value = face;
      this.photoId.value = null;
      this.letGo();
    });
  }

  /** Looks at the boards, at one leaf of them, or at a photo that shows several. */
  lookAtBoards(at: { leaf?: string; face?: FaceName; shot?: LeafShotName } = {}): void {
    batch(() => {
      this.stock.value = 'boards';
      this.leafId.value = at.leaf ?? null;
      this.shot.value = at.shot ?? null;
      this.tapped.value = null;
      if (at.face) this.faceName.value = at.face;
      if (at.leaf && !LEAF_PANELS.some(([panel]) => panel === this.panel.peek())) this.panel.value = 'photo';
      this.photoId.value = null;
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
    this.hand.letGo();
    this.mending.value = false;
    this.woodLine.value = null;
    this.spots.value = [];
    this.hover.value = null;
    this.aim.value = null;
    this.moving.value = null;
    this.trouble.value = null;
    this.choosing.value = null;
  }

  /** Changes the face in view, as one step that can be undone. */
  editFace(name: string, change: (face: Slab['faces']['top']) => void): void {
    const { place } = this;
    const faceName = this.faceName.peek();
    this.editSlab(place.peek()?.slab.id ?? '', name, (slab) => change(slab.faces[faceName]));
  }

  /** Types or clicks on what lies on the slab, as one step that can be undone; without a photo, for the next one. */
  editReference(name: string, change: (reference: ReferenceDraft) => void): void {
    const photo = this.photo.peek();
    const from = structuredClone(this.reference.peek());
    if (!photo) {
      change(from);
      this.next.value = from;
      return;
    }
    this.editPhoto(name, photo.id, (own) => {
      own.draft ??= from;
      change(own.draft as ReferenceDraft);
    });
  }

  /** Changes a photo of the face in view, as one step that can be undone. */
  editPhoto(name: string, photoId: string, change: (photo: Photo) => void): void {
    this.editFace(name, (face) => {
      const photo = face.photos[photoId];
      if (photo) change(photo);
    });
  }

  /** Changes a slab, as one step that can be undone. */
  editSlab(slabId: string, name: string, change: (slab: Slab) => void): void {
    this.store.edit(name, (draft) => {
      for (const flitch of Object.values(draft.flitches)) {
        const slab = flitch.slabs[slabId];
        if (slab) change(slab);
      }
      for (const board of Object.values(draft.boards)) {
        const leaf = board.leaves[slabId];
        if (leaf) change(leafAsSlab(leaf));
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
