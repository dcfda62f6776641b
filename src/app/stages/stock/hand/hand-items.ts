import { distance } from '../../../../geometry';
import type { Item, XY } from '../../../canvas/items';
import type { Path } from '../path';
import type { StockView } from '../view';
import { chosenRun, ringOf } from './outline';
import { pointsOf, type Run } from './ring';
import { type Smoothed, smoothRun } from './smooth';

/** What the tool in hand draws over the face. */
export function handItems(view: StockView, path: Path): Item[] {
  const { hand } = view;
  switch (hand.tool.value) {
    case 'points':
      return stretchItems(view, path);
    case 'smooth':
      return [...smoothItems(view, path), ...brushItems(view)];
    case 'follow':
      return followItems(view);
    case 'scribble':
      return scribbleItems(view);
  }
}

const line = (id: string, points: readonly XY[], pen: 'chosen' | 'ahead' | 'faint'): Item[] =>
  points.length < 2 ? [] : [{ kind: 'line', id, points, pen }];

function stretchItems(view: StockView, path: Path): Item[] {
  if (view.dragged.value) return [];
  const run = chosenRun(view, path);
  return run ? line('stretch', pointsOf(ringOf(path), run), 'chosen') : [];
}

/** The chosen stretch, and how it would be smoothed. */
function smoothItems(view: StockView, path: Path): Item[] {
  const run = view.dragged.value ? null : chosenRun(view, path);
  if (!run || run.first === run.last) return [];
  const smooth = smoothed(ringOf(path), run, view.hand.bump.value).line;
  return [...line('stretch', pointsOf(ringOf(path), run), 'faint'), ...line('smoothed', smooth, 'ahead')];
}

let last: { key: unknown[]; made: Smoothed } | null = null;

/** The chosen stretch smoothed: looked at by the drawing and by the card beside it, computed once. */
export function smoothed(ring: readonly XY[], run: Run, bump: number): Smoothed {
  const key = [run.first, run.last, bump, ...ring.flat()];
  if (!last || key.length !== last.key.length || key.some((v, i) => v !== last?.key[i]))
    last = { key, made: smoothRun(ring, run, bump) };
  return last.made;
}

/** The rim of the smoothing brush, true to size. */
function brushItems({ hand }: StockView): Item[] {
  const at = hand.brush.value;
  if (!at) return [];
  const points = Array.from({ length: 48 }, (_, i): XY => {
    const turn = (i * Math.PI) / 24;
    return [at[0] + hand.bump.value * Math.cos(turn), at[1] + hand.bump.value * Math.sin(turn)];
  });
  return [{ kind: 'line', id: 'brush', points, closed: true, pen: 'ahead' }];
}

function followItems({ hand }: StockView): Item[] {
  const held = hand.following.value;
  if (!held) return [];
  const start = held.line[0] as XY;
  return [
    ...line('ahead', hand.ahead.value ?? [], 'ahead'),
    ...line('following', held.line, 'chosen'),
    { kind: 'spot', id: 'line-start', at: start, pen: 'chosen' },
    ...held.set
      .slice(1)
      .map((count, i): Item => ({ kind: 'spot', id: `set-${i}`, at: held.line[count - 1] as XY, pen: 'chosen' })),
  ];
}

/** The strokes, each with its number, and the one that is being drawn. */
function scribbleItems({ hand, face }: StockView): Item[] {
  const strokes = face.value?.strokes ?? [];
  const drawn = hand.drawn.value;
  const kind = hand.kind.value;
  return [
    ...strokes.flatMap((stroke, i): Item[] => [
      { kind: 'line', id: `stroke-${i}`, points: stroke.line, pen: stroke.kind },
      {
        kind: 'text',
        id: `stroke-number-${i}`,
        at: middleOf(stroke.line),
        text: String(i + 1),
        pen: 'ink',
        shape: 'ring',
      },
    ]),
    ...line('stroke-ahead', hand.ahead.value ?? [], 'ahead'),
    ...(drawn && drawn.length > 1 ? [{ kind: 'line', id: 'stroke-drawn', points: drawn, pen: kind } as const] : []),
    ...(drawn?.length === 1 ? [{ kind: 'spot', id: 'stroke-start', at: drawn[0] as XY, pen: 'ink' } as const] : []),
  ];
}

/** The place halfway along a line. */
function middleOf(points: readonly XY[]): XY {
  const steps = points.slice(1).map((p, i) => distance<'face'>(points[i] as XY, p));
  let left = steps.reduce((sum, step) => sum + step, 0) / 2;
  for (const [i, step] of steps.entries()) {
    const [p, q] = [points[i] as XY, points[i + 1] as XY];
    if (step >= left && step > 0) return [p[0] + (left / step) * (q[0] - p[0]), p[1] + (left / step) * (q[1] - p[1])];
    left -= step;
  }
  return points[0] as XY;
}
