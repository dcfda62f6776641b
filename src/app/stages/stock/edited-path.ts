import { letters } from './face-items';
import { type Path, type PathPoint, xy } from './path';
import type { StockView } from './view';

/** The path that is edited now: a ring of the outline, the chosen defect, or the one that is being drawn. */
export function editedPath(view: StockView): Path | null {
  const panel = view.panel.value;
  if (panel === 'outline') return outlinePath(view);
  if (panel === 'defects') return drawnPath(view) ?? defectPath(view);
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
      }),
  };
}

function defectPath(view: StockView): Path | null {
  const face = view.face.value;
  const defect = view.defectId.value ? face?.defects[view.defectId.value] : undefined;
  if (!face || !defect) return null;
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

function drawnPath(view: StockView): Path | null {
  const drawn = view.drawn.value;
  if (!drawn) return null;
  return {
    key: 'drawn',
    name: drawn.shape,
    points: drawn.points,
    closed: drawn.shape === 'area',
    wide: drawn.shape === 'crack',
    least: 0,
    set: (_step, points: PathPoint[]) => {
      view.drawn.value = { ...drawn, points };
    },
  };
}
