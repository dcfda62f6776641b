import { type Point, ribbon, type WideLine } from '../geometry';
import type { Defect } from '../job';
import { type Element, ring } from './drawing';
import { hatch } from './linework';
import { onPaper, type View } from './view';

/** A thin crack still shows at this width on paper, mm. */
const LEAST_CRACK = 0.5;

interface Drawable<F extends 'face' | 'top'> {
  readonly kind: Defect['kind'];
  readonly line?: WideLine | undefined;
  readonly polygon?: readonly Point<F>[] | undefined;
}

/** A defect hatched by its kind; a crack as the width that it has, or as much as can be seen. */
export function drawDefect<F extends 'face' | 'top'>(defect: Drawable<F>, view: View<F>): Element[] {
  if (defect.polygon) return hatch(onPaper(view, defect.polygon), defect.kind);
  if (!defect.line) return [];
  return [ring(onPaper(view, crackRing<F>(defect.line, view)), 'defect', 'ink')];
}

/** A defect of the other face: its edge, dashed, with nothing in it. */
export function drawFarDefect(defect: Drawable<'face'>, view: View<'face'>): Element[] {
  const edge = defect.polygon ?? (defect.line && crackRing<'face'>(defect.line, view));
  return edge ? [ring(onPaper(view, edge), 'below')] : [];
}

const crackRing = <F extends 'face' | 'top'>(line: WideLine, view: View<F>): readonly Point<F>[] =>
  ribbon<F>(line.map(([x, y, width]) => [x, y, Math.max(width, LEAST_CRACK * view.scale)] as const));
