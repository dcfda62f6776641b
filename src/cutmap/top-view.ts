import type { Bounds, Point } from '../geometry';
import type { TopReport } from '../plan';
import { drawDefect } from './defect-view';
import { type Element, type Group, type Path, path, ring, text } from './drawing';
import { dimension } from './linework';
import { lengthsOf, type SheetRequest } from './request';
import { textBounds } from './text';
import { laid, onPaper, pointOnPaper, type View, viewOf } from './view';

/**
 * A finished top as one stands before it, its front at the bottom: picture, outline, seams, cracks and sizes.
 * @param as a picture that the eye is to judge, or a drawing over the ghost of one
 */
export function drawTop(
  request: SheetRequest,
  top: TopReport,
  area: Bounds,
  as: 'picture' | 'drawing',
): { groups: Group[]; view: View<'top'>; taken: Bounds[] } {
  const lengths = lengthsOf(request.report);
  const inner = { minX: area.minX + 4, maxX: area.maxX - 16, minY: area.minY + 10, maxY: area.maxY - 4 };
  const view = viewOf(top.outline, inner, { turned: true, paper: request.paper });
  const outline = onPaper(view, top.outline);
  const picture = request.tops.get(top.id);
  // On its picture cracks show by themselves, and a seam is only ticked at its ends.
  const bare = picture !== undefined && as === 'picture';
  const [left, right] = [Math.min(...outline.map(([x]) => x)), Math.max(...outline.map(([x]) => x))];
  const [back, front] = [Math.min(...outline.map(([, y]) => y)), Math.max(...outline.map(([, y]) => y))];
  const [least, most] = top.lines.finishedDepth ?? top.size.depth;
  const depth =
    lengths.size(least) === lengths.size(most) ? lengths.size(most) : `${lengths.size(least)} – ${lengths.size(most)}`;
  const dimensions = [
    ...dimension([left, back], [right, back], 5, lengths.size(top.size.length)),
    ...dimension([right, back], [right, front], 8, depth),
    ...top.lines.angles.flatMap(({ at, degrees, side }) => angleMark(view, at, degrees, side)),
  ];
  const groups: Group[] = [
    ...(picture
      ? [
          {
            layer: 'PHOTO' as const,
            name: 'picture',
            clip: outline,
            elements: [laid(picture, view, as === 'picture' ? 1 : 0.45)],
          },
        ]
      : []),
    { layer: 'OUTLINE', name: 'outline', elements: [ring(outline, 'outline')] },
    {
      layer: 'DEFECT',
      name: 'cracks',
      elements: bare
        ? []
        : top.cracks.flatMap((crack) => (crack.seam ? [] : drawDefect({ kind: 'crack', ...crack }, view))),
    },
    {
      layer: 'JOINT',
      name: 'seams',
      elements: top.seams.flatMap(({ line }) => seam(onPaper(view, line) as [Point<'paper'>, Point<'paper'>], bare)),
    },
    {
      layer: 'FINISHED',
      name: 'holes and scribe lines',
      elements: [
        ...top.lines.holes.map(({ polygon }) => ring(onPaper(view, polygon), 'finished')),
        ...top.lines.scribe.map((line) => path(onPaper(view, line), 'rough')),
      ],
    },
    { layer: 'MEASURE', name: 'sizes', elements: dimensions },
  ];
  const taken = dimensions.flatMap((element) => (element.is === 'text' ? [textBounds(element, request.typeface)] : []));
  return { groups: groups.filter((group) => group.elements.length > 0), view, taken };
}

/** The arc of an end's angle at its front corner, inside the top, with its figure. */
function angleMark(view: View<'top'>, at: Point<'top'>, degrees: number, side: 'right' | 'left'): Element[] {
  const centre = pointOnPaper(view, at);
  // The view is turned half about: the front runs from its right-hand corner to the left, from its left-hand one to the right.
  const [from, to] = side === 'right' ? [180, 180 + degrees] : [-degrees, 0];
  // The figure stands before the front, off the wood, where it can be read.
  return [
    { is: 'arc', centre, radius: ANGLE, from, to, line: 'measure' },
    text([centre[0], centre[1] + 3.6], `${degrees}°`, { size: 2.5, bold: true, ink: 'chalk', anchor: 'middle' }),
  ];
}

/** Radius of an angle's arc on the paper, mm. */
const ANGLE = 7;
const TICK = 3;

/** A seam's line, or only a tick outside each end of it. */
function seam([a, b]: readonly [Point<'paper'>, Point<'paper'>], ticks: boolean): Path[] {
  if (!ticks) return [path([a, b], 'joint')];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [dx, dy] = [((b[0] - a[0]) * TICK) / length, ((b[1] - a[1]) * TICK) / length];
  return [path([a, [a[0] - dx, a[1] - dy]], 'joint'), path([b, [b[0] + dx, b[1] + dy]], 'joint')];
}
