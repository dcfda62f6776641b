import { applyAll, type Bounds, bounds, centroid, compose, type Polygon } from '../geometry';
import { type FrontReport, type PieceReport, panelInElevation, type SetReport, type Towards } from '../plan';
import { box, type Element, type Group, path, ring, text } from './drawing';
import { dimension } from './linework';
import { lengthsOf, type SheetRequest } from './request';
import { laid, onPaper, pointOnPaper, type View, viewOf } from './view';

/** Directions on a sheet. */
const WAYS: Readonly<Record<Towards, readonly [number, number]>> = {
  up: [0, -1],
  down: [0, 1],
  left: [-1, 0],
  right: [1, 0],
};

/** Half the length of an arrow of sequence, mm. */
const ARROW = 4;

/** The arrow of sequence: it points at the leaf's marked end; full where the face towards the board's outer face shows, open where the other does. */
export function sequenceArrow(at: readonly [number, number], way: readonly [number, number], full: boolean): Element[] {
  const [x, y] = at;
  const [dx, dy] = way;
  const tip = [x + dx * ARROW, y + dy * ARROW] as const;
  const neck = [x + dx * (ARROW - 2.4), y + dy * (ARROW - 2.4)] as const;
  const head = [tip, [neck[0] - dy * 1.1, neck[1] + dx * 1.1], [neck[0] + dy * 1.1, neck[1] - dx * 1.1]] as const;
  return [path([[x - dx * ARROW, y - dy * ARROW], neck], 'pocket'), ring(head, 'pocket', full ? 'ink' : 'paper')];
}

/** A piece's number and arrow in its panel. */
function pieceMark(view: View<'panel'>, { cell, place, end, face, number }: PieceReport): Element[] {
  const [x, y] = pointOnPaper(view, centroid(cell));
  const words = `${number}: ${place === null ? '?' : `L${place}`}`;
  const half = words.length * 0.85 + 0.8;
  return [
    ring(
      [
        [x - half, y - 7.6],
        [x + half, y - 7.6],
        [x + half, y - 3.6],
        [x - half, y - 3.6],
      ],
      null,
      'paper',
    ),
    text([x, y - 4.4], words, { bold: true, anchor: 'middle' }),
    ...sequenceArrow([x, y + 1.6], WAYS[end], face === 'top'),
  ];
}

/** A panel's face or back as it is laid up: its pieces, joints, the line it is trimmed at, and what is seen between rails and stiles. */
export function drawPanel(
  request: SheetRequest,
  front: FrontReport,
  area: Bounds,
  side: 'face' | 'back' = 'face',
): { groups: Group[]; scale: number } {
  const lengths = lengthsOf(request.report);
  const { width, height } = front.pressed;
  const whole: Polygon<'panel'> = [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ];
  const view = viewOf(whole, { ...area, minX: area.minX + 10, minY: area.minY + 10 }, { paper: request.paper });
  const edge = onPaper(view, whole);
  const [a, b, , d] = edge as [(typeof edge)[0], (typeof edge)[0], (typeof edge)[0], (typeof edge)[0]];
  const pieces = side === 'face' ? front.pieces : front.back;
  const picture = side === 'face' ? request.panels?.get(front.id) : undefined;
  const groups: Group[] = [
    ...(picture
      ? [{ layer: 'PHOTO' as const, name: 'picture', clip: edge, elements: [laid(picture, view, 0.75)] }]
      : []),
    {
      layer: 'OUTLINE',
      name: 'panel as pressed, and its pieces',
      elements: [ring(edge, 'outline'), ...pieces.map(({ cell }) => ring(onPaper(view, cell), 'pocket'))],
    },
    {
      layer: 'JOINT',
      name: 'joints',
      elements: side === 'face' ? front.joints.map(({ line }) => path(onPaper(view, line), 'joint')) : [],
    },
    {
      layer: 'FINISHED',
      name: 'trimmed',
      elements: [
        ring(onPaper(view, front.trimmed), 'finished'),
        ...(front.framed ? [ring(onPaper(view, front.sight), 'rough')] : []),
      ],
    },
    {
      layer: 'MEASURE',
      name: 'sizes and pieces',
      elements: [
        ...dimension(a, b, 5, lengths.at(width)),
        ...dimension(d, a, 5, lengths.at(height)),
        ...pieces.flatMap((piece) => pieceMark(view, piece)),
      ],
    },
  ];
  return { groups: groups.filter(({ elements }) => elements.length > 0), scale: view.scale };
}

/** A front's number in its middle, on paper where a picture may lie under it. */
function numberOf(number: number, [x, y]: readonly [number, number], size: number, boxed: boolean): Element[] {
  const half = (0.45 * `${number}`.length + 0.35) * size;
  return [
    ...(boxed ? [box(x - half, y - 0.85 * size, 2 * half, 1.7 * size, null, 'paper')] : []),
    text([x, y + size / 2], `${number}`, { size, bold: true, anchor: 'middle' }),
  ];
}

/** The fronts of a set as one stands before them, each with its number; one of them may be shown dark. */
export function drawElevation(
  request: SheetRequest,
  set: SetReport,
  area: Bounds,
  shown: string | null = null,
): { groups: Group[]; scale: number } {
  const boxes = set.fronts.map((front) => {
    const [x, y] = front.at;
    const { width, height } = front.finished;
    const corners: Polygon<'elevation'> = [
      [x, y],
      [x + width, y],
      [x + width, y + height],
      [x, y + height],
    ];
    return { front, corners };
  });
  const view = viewOf(
    boxes.flatMap(({ corners }) => corners),
    area,
    { paper: request.paper },
  );
  const elements = boxes.flatMap(({ front, corners }): Element[] => {
    const edge = onPaper(view, corners);
    const { minX, maxX, minY, maxY } = bounds(edge);
    const size = Math.max(2.5, Math.min(4, (maxX - minX) / 4));
    return [
      ring(edge, 'outline', front.id === shown ? 'pale' : undefined),
      ...(front.framed ? [ring(onPaper(view, applyAll(panelInElevation(front), front.sight)), 'pocket')] : []),
      ...numberOf(front.number, [(minX + maxX) / 2, (minY + maxY) / 2], size, front.id !== shown),
    ];
  });
  const photos = set.fronts.flatMap((front): Group[] => {
    const picture = shown === null ? request.panels?.get(front.id) : undefined;
    if (!picture) return [];
    const onto: View<'panel'> = { map: compose(view.map, panelInElevation(front)), scale: view.scale };
    const elements = [laid(picture, onto, 1)];
    return [{ layer: 'PHOTO', name: front.id, clip: onPaper(onto, front.sight), elements }];
  });
  return { groups: [...photos, { layer: 'OUTLINE', name: 'elevation', elements }], scale: view.scale };
}
