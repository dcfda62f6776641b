import { type Defect, type Face, nextDefectId } from '../../../job';
import { usualPermit } from '../../../plan';
import { xy } from './path';
import { sapwoodFrom } from './sapwood-edge';
import type { Drawn, StockView } from './view';

/** What can be drawn on a face, from nothing. */
interface Shape {
  /** What it is called while it is drawn. */
  readonly name: string;
  readonly title: string;
  readonly hint: string;
  readonly closed: boolean;
  /** Fewest points that make one. */
  readonly least: number;
}

export const SHAPES: Record<Drawn['shape'], Shape> = {
  crack: {
    name: 'crack',
    title: 'Draw a crack',
    hint: 'Tap along the crack, from one tip to the other.',
    closed: false,
    least: 2,
  },
  area: { name: 'area', title: 'Draw a knot or void', hint: 'Tap around it.', closed: true, least: 3 },
  sapwood: {
    name: 'sapwood edge',
    title: 'Draw a sapwood edge',
    hint: 'Tap along the line where sapwood meets heart, from one end to the other.',
    closed: false,
    least: 2,
  },
  pith: {
    name: 'pith',
    title: 'Draw the pith',
    hint: 'Tap along the pith, from one end of the slab to the other.',
    closed: false,
    least: 2,
  },
  grain: {
    name: 'line along the grain',
    title: 'Draw along the grain',
    hint: 'Tap along one line of the grain where the strokes run wrong.',
    closed: false,
    least: 2,
  },
};

/** Begins to draw. */
export function draw(view: StockView, shape: Drawn['shape']): void {
  view.handle.value = null;
  view.defectId.value = null;
  view.woodLine.value = null;
  view.measuring.value = false;
  view.spots.value = [];
  view.drawn.value = { shape, points: [], width: 2 };
}

/** Puts what was drawn into the job, as one step that can be undone, and leaves it chosen. */
export function finishDrawn(view: StockView): void {
  const drawn = view.drawn.peek();
  const face = view.face.peek();
  if (!drawn || !face) return;
  const { title } = SHAPES[drawn.shape];
  const line = drawn.points.map(xy);
  const id = nextDefectId(Object.values(face.defects));
  view.editFace(title, (draft) => {
    switch (drawn.shape) {
      case 'sapwood':
        if (face.outline) draft.sapwood.push(...sapwoodFrom(line, face.outline));
        return;
      case 'pith':
        draft.pith = line;
        return;
      case 'grain':
        draft.grainLines.push(line);
        return;
      default:
        draft.defects[id] = drawnDefect(id, drawn);
    }
  });
  view.drawn.value = null;
  view.handle.value = null;
  if (drawn.shape === 'crack' || drawn.shape === 'area') view.defectId.value = id;
}

function drawnDefect(id: string, { shape, points }: Drawn): Defect {
  const kind = shape === 'crack' ? 'crack' : 'knot';
  const form: Pick<Defect, 'line' | 'polygon'> =
    shape === 'crack'
      ? { line: points.map(([x, y, width = 0]): [number, number, number] => [x, y, width]) }
      : { polygon: points.map(xy) };
  return { id, kind, permit: usualPermit({ kind, ...form }), ...form };
}

/** A first place in the middle of the wood, and each next one a step further, for those who type. */
export function addByNumber(view: StockView, face: Face): void {
  const drawn = view.drawn.peek();
  if (!drawn) return;
  const { closed } = SHAPES[drawn.shape];
  const last = drawn.points.at(-1);
  const outer = face.outline?.outer ?? [[0, 0] as const];
  const middle = (axis: 0 | 1) => {
    const all = outer.map((p) => p[axis]);
    return Math.round((Math.min(...all) + Math.max(...all)) / 2);
  };
  const turn = drawn.points.length % 2 === 0 ? 0 : 50;
  const [x, y] = last ? [last[0] + 50, closed ? last[1] + turn : last[1]] : [middle(0), middle(1)];
  const next = drawn.shape === 'crack' ? ([x, y, drawn.width] as const) : ([x, y] as const);
  view.drawn.value = { ...drawn, points: [...drawn.points, next] };
}
