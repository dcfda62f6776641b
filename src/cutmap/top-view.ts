import type { Bounds } from '../geometry';
import type { TopReport } from '../plan';
import { drawDefect } from './defect-view';
import { type Group, path, ring } from './drawing';
import { dimension } from './linework';
import { lengthsOf, type SheetRequest } from './request';
import { textBounds } from './text';
import { laid, onPaper, type View, viewOf } from './view';

/** A finished top as one stands before it, its front at the bottom: picture, outline, seams, cracks and sizes. */
export function drawTop(
  request: SheetRequest,
  top: TopReport,
  area: Bounds,
  opacity: number,
): { groups: Group[]; view: View<'top'>; taken: Bounds[] } {
  const lengths = lengthsOf(request.report);
  const inner = { minX: area.minX + 4, maxX: area.maxX - 16, minY: area.minY + 10, maxY: area.maxY - 4 };
  const view = viewOf(top.outline, inner, true);
  const outline = onPaper(view, top.outline);
  const picture = request.tops.get(top.id);
  const [left, right] = [Math.min(...outline.map(([x]) => x)), Math.max(...outline.map(([x]) => x))];
  const [back, front] = [Math.min(...outline.map(([, y]) => y)), Math.max(...outline.map(([, y]) => y))];
  const [least, most] = top.size.depth;
  const depth =
    lengths.size(least) === lengths.size(most) ? lengths.size(most) : `${lengths.size(least)} – ${lengths.size(most)}`;
  const dimensions = [
    ...dimension([left, back], [right, back], 5, lengths.size(top.size.length)),
    ...dimension([right, back], [right, front], 8, depth),
  ];
  const groups: Group[] = [
    ...(picture
      ? [{ layer: 'PHOTO' as const, name: 'picture', clip: outline, elements: [laid(picture, view, opacity)] }]
      : []),
    { layer: 'OUTLINE', name: 'outline', elements: [ring(outline, 'outline')] },
    {
      layer: 'DEFECT',
      name: 'cracks',
      elements: top.cracks.flatMap(({ line }) =>
        drawDefect({ kind: 'crack', line: [...line.map(([x, y, w]) => [x, y, w] as [number, number, number])] }, view),
      ),
    },
    { layer: 'JOINT', name: 'seams', elements: top.seams.map(({ line }) => path(onPaper(view, line), 'joint')) },
    { layer: 'MEASURE', name: 'sizes', elements: dimensions },
  ];
  const taken = dimensions.flatMap((element) => (element.is === 'text' ? [textBounds(element, request.typeface)] : []));
  return { groups: groups.filter((group) => group.elements.length > 0), view, taken };
}
