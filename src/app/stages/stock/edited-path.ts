import { distance } from '../../../geometry';
import { SHAPES } from './drawn-shapes';
import { letters } from './face-items';
import { handleOf, moved, type Path, type PathPoint, xy } from './path';
import type { StockView } from './view';

/** The path that is edited now: a ring of the outline, the chosen defect, a line of the wood, the marks of a tie, or what is being drawn. */
export function editedPath(view: StockView): Path | null {
  const panel = view.panel.value;
  if (panel === 'outline') return outlinePath(view);
  if (panel === 'defects') return drawnPath(view) ?? tiePath(view) ?? defectPath(view);
  if (panel === 'layers') return drawnPath(view) ?? woodPath(view);
  return null;
}

function outlinePath(view: StockView): Path | null {
  const outline = view.face.value?.outline;
  const ring = view.ring.value;
  const points = ring < 0 ? outline?.outer : outline?.holes[ring];
  if (!points) return null;
  return {
    key: `ring${ring}`,
    name: 'outline',
    points,
    closed: true,
    wide: false,
    least: 3,
    set: (step, next) =>
      view.editFace(step, (face) => {
        if (!face.outline) return;
        const flat = next.map(xy);
        const { outer, holes } = face.outline;
        face.outline =
          ring < 0 ? { outer: flat, holes } : { outer, holes: holes.map((hole, i) => (i === ring ? flat : hole)) };
        face.outlineByHand = true;
      }),
  };
}

function defectPath(view: StockView): Path | null {
  const face = view.face.value;
  const defect = view.defectId.value ? face?.defects[view.defectId.value] : undefined;
  // A proposal is looked at first; its points would hide it.
  if (!face || !defect || (defect.confidence !== undefined && !view.mending.value)) return null;
  const wide = defect.line !== undefined;
  return {
    key: `defect-${defect.id}`,
    name: `${defect.kind} ${letters(face).get(defect.id)}`,
    points: defect.line ?? defect.polygon ?? [],
    closed: !wide,
    wide,
    least: wide ? 2 : 3,
    set: (step, next) =>
      view.editFace(step, (draft) => {
        const own = draft.defects[defect.id];
        if (!own) return;
        if (wide) own.line = next.map(([x, y, width = 0]) => [x, y, width]);
        else own.polygon = next.map(xy);
        // What was mended by hand is no longer a proposal.
        delete own.confidence;
      }),
  };
}

/** A line of the wood: the rim of sapwood, the pith, or one that was drawn along the grain. */
function woodPath(view: StockView): Path | null {
  const face = view.face.value;
  const chosen = view.woodLine.value;
  if (!face || !chosen) return null;
  const { kind } = chosen;
  const points =
    chosen.kind === 'pith' ? face.pith : (chosen.kind === 'sapwood' ? face.sapwood : face.grainLines)[chosen.place];
  if (!points) return null;
  return {
    key: kind === 'pith' ? kind : `${kind}-${chosen.place}`,
    name: CALLED[kind],
    points,
    closed: kind === 'sapwood',
    wide: false,
    least: kind === 'sapwood' ? 3 : 2,
    set: (step, next) =>
      view.editFace(step, (draft) => {
        const flat = next.map(xy);
        if (chosen.kind === 'pith') draft.pith = flat;
        else (chosen.kind === 'sapwood' ? draft.sapwood : draft.grainLines)[chosen.place] = flat;
      }),
  };
}

const CALLED = { sapwood: 'sapwood', pith: 'pith', grain: 'line along the grain' } as const;

/** The two marks on the face in view, while the faces are tied. A third tap moves the nearer one. */
function tiePath(view: StockView): Path | null {
  const tying = view.tying.value;
  const face = view.faceName.value;
  if (tying?.slabId !== view.place.value?.slab.id || !tying) return null;
  const points = tying[face];
  const set = (next: readonly PathPoint[]) => {
    view.tying.value = { ...tying, [face]: next };
  };
  const path: Path = {
    key: `tie-${face}`,
    name: 'marks',
    points,
    closed: false,
    wide: false,
    least: 0,
    set: (_step, next) => set(next.slice(0, 2)),
    grow: (at) => {
      const away = points.map((p) => distance(xy(p), at));
      const place = points.length < 2 ? points.length : (away[0] ?? 0) <= (away[1] ?? 0) ? 0 : 1;
      set(points.length < 2 ? [...points, at] : moved(points, place, at));
      view.handle.value = handleOf(path, place);
    },
  };
  return path;
}

function drawnPath(view: StockView): Path | null {
  const drawn = view.drawn.value;
  if (!drawn) return null;
  const wide = drawn.shape === 'crack';
  const set = (points: readonly PathPoint[]) => {
    view.drawn.value = { ...drawn, points };
  };
  const path: Path = {
    key: 'drawn',
    name: SHAPES[drawn.shape].name,
    points: drawn.points,
    closed: SHAPES[drawn.shape].closed,
    wide,
    least: 0,
    set: (_step, points) => set(points),
    grow: (at) => {
      set([...drawn.points, wide ? [at[0], at[1], drawn.width] : at]);
      view.handle.value = handleOf(path, drawn.points.length);
    },
  };
  return path;
}
