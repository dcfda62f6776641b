import { type Point, ribbon, type WideLine } from '../geometry';
import type { Defect } from '../job';
import { type Element, ring } from './drawing';
import { hatch } from './linework';
import { onPaper, type View } from './view';

/** A thin crack still shows at this width on paper, mm. */
const LEAST_CRACK = 0.5;

/** A defect hatched by its kind; a crack as the width that it has, or as much as can be seen. */
export function drawDefect<F extends 'face' | 'top'>(
  defect: {
    readonly kind: Defect['kind'];
    readonly line?: WideLine | undefined;
    readonly polygon?: readonly Point<F>[] | undefined;
  },
  view: View<F>,
): Element[] {
  if (defect.polygon) return hatch(onPaper(view, defect.polygon), defect.kind);
  if (!defect.line) return [];
  const wide = defect.line.map(([x, y, width]) => [x, y, Math.max(width, LEAST_CRACK * view.scale)] as const);
  return [ring(onPaper(view, ribbon<F>(wide)), 'defect', 'ink')];
}
