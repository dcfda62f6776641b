import type { Point, Polygon } from '../../../geometry';
import { type Top, wantedTop } from '../../../job';
import { limitsOf } from '../../../layout';
import type { Handle, Item, XY } from '../../canvas/items';
import { ZONE_NAMES, type Zone, zonesOf } from './zones';

/** How far a dimension's line stands off, mm on the sheet. */
export const OFF = 70;

/** A wanted top on the sheet, its back at y0: front below, as one stands before it. A half turn of the top's frame, never a mirror. */
export interface LaidTop {
  readonly top: Top;
  readonly y0: number;
  /** The size that it is laid by, which stays while a corner is dragged beyond it. */
  readonly frame: Pick<Top, 'length' | 'depth'>;
}

/** The top as its shape says, so that what is drawn is what is laid out. */
export const drawnTop = (top: Top): Top => wantedTop({ tops: { [top.id]: { ...top, count: 1 } } }, top.id) ?? top;

export const lay =
  ({ frame, y0 }: LaidTop) =>
  ([x, y]: Point<'top'>): XY => [frame.length - x, y0 + frame.depth[1] - y];

export const unlay =
  ({ frame, y0 }: LaidTop) =>
  ([x, y]: XY): Point<'top'> => [frame.length - x, y0 + frame.depth[1] - y];

/** A wavy edge between two depths stands for a live edge that nobody knows yet: how far it lies from the outermost, 0..1 at share t of its length. */
const wave = (t: number): number => 0.5 + 0.3 * Math.sin(t * 22) + 0.18 * Math.sin(t * 52);

/** The outline of the top with its live edges wavy. */
function outlineOf(top: Top): Polygon<'top'> {
  const { length, depth, front, back, ends } = top;
  const limits = limitsOf(
    { ...top, front: 'straight', back: 'straight', scribe: NONE, wallBow: 0, ends: straightOf(top) },
    depth[1],
  );
  if (top.shape) return limits;
  const [a, b, c, d] = limits as [Point<'top'>, Point<'top'>, Point<'top'>, Point<'top'>];
  const band = depth[1] - depth[0];
  const along = (p: Point<'top'>, q: Point<'top'>, off: (t: number) => Point<'top'>, live: boolean): Point<'top'>[] =>
    !live
      ? [p]
      : Array.from({ length: 41 }, (_, i): Point<'top'> => {
          const t = i / 40;
          const [dx, dy] = off(t);
          return [p[0] + (q[0] - p[0]) * t + dx, p[1] + (q[1] - p[1]) * t + dy];
        });
  const half = front === 'live' && back === 'live' ? band / 2 : band;
  return [
    ...along(a, b, (t) => [0, half * (1 - wave((t * length) / 2200))], front === 'live'),
    ...along(b, c, (t) => [-ends.left.short * (1 - wave(t / 3)), 0], ends.left.edge === 'live'),
    ...along(c, d, (t) => [0, -half * (1 - wave((t * length) / 2200 + 0.3))], back === 'live'),
    ...along(d, a, (t) => [ends.right.short * (1 - wave(t / 3 + 0.2)), 0], ends.right.edge === 'live'),
  ];
}

const NONE = { back: 0, right: 0, left: 0 };
/** A live end is drawn along the line that it may reach. */
const straightOf = ({ ends }: Top): Top['ends'] => ({
  right: ends.right.edge === 'live' ? { ...ends.right, edge: 'straight', degrees: 90 } : ends.right,
  left: ends.left.edge === 'live' ? { ...ends.left, edge: 'straight', degrees: 90 } : ends.left,
});

const HATCHES = { covered: 'covered', noSeam: 'doubt', cutOuts: 'void' } as const;

function zoneItems(laid: LaidTop, { kind, id, polygon }: Zone): Item[] {
  const points = polygon.map(lay(laid));
  const [x, y] = [0, 1].map((k) => points.reduce((sum, p) => sum + (p[k] as number), 0) / points.length) as [
    number,
    number,
  ];
  const name = kind === 'cutOuts' ? (laid.top.cutOuts[id]?.name ?? '') : ZONE_NAMES[kind];
  return [
    {
      kind: 'area',
      id: `${laid.top.id}-zone-${id}`,
      points,
      hatch: HATCHES[kind],
      pen: kind === 'cutOuts' ? 'cut' : 'faint',
    },
    { kind: 'text', id: `${laid.top.id}-zone-name-${id}`, at: [x, y], text: name, pen: 'ink', shape: 'bare' },
  ];
}

/** Wood kept for scribing, outside the finished outline. */
function scribeItems(laid: LaidTop): Item[] {
  const { top } = laid;
  const behind = top.scribe.back + top.wallBow;
  if (behind + top.scribe.left + top.scribe.right === 0) return [];
  const sawn = limitsOf({ ...top, front: 'straight', back: 'straight', ends: straightOf(top) }, top.depth[1]);
  const [rightFront, leftFront, leftBack, rightBack] = sawn.map(lay(laid)) as [XY, XY, XY, XY];
  const sides = [
    ['left', top.scribe.left, [leftFront, leftBack]],
    ['back', behind, [leftBack, rightBack]],
    ['right', top.scribe.right, [rightBack, rightFront]],
  ] as const;
  return sides.flatMap(([side, kept, points]): Item[] =>
    kept > 0 ? [{ kind: 'line', id: `${top.id}-scribe-${side}`, points, pen: 'rough' }] : [],
  );
}

/** Everything that is drawn of one top. */
export function topItems(laid: LaidTop, say: (mm: number) => string): Item[] {
  const { top, y0 } = laid;
  const { id, length, depth, front, shape, ends } = top;
  const [least, most] = depth;
  const line = (name: string, points: readonly XY[], pen: 'ink' | 'faint' | 'measured', closed = false): Item => ({
    kind: 'line',
    id: `${id}-${name}`,
    points,
    pen,
    closed,
  });
  const text = (name: string, at: XY, words: string, turn = 0): Item => ({
    kind: 'text',
    id: `${id}-${name}`,
    at,
    text: words,
    pen: 'measured',
    shape: 'bare',
    turn,
  });
  const level = (y: number): XY[] => [
    [0, y],
    [length, y],
  ];
  // An end's angle stands by its front corner, inside.
  const angles = (['left', 'right'] as const).flatMap((side) => {
    const { edge, degrees } = ends[side];
    if (edge === 'live' || degrees === 90 || shape) return [];
    const x = side === 'left' ? 1.6 * OFF : length - 1.6 * OFF;
    const lean = degrees > 90 ? depth[1] / Math.abs(Math.tan((degrees * Math.PI) / 180)) : 0;
    return [text(`angle-${side}`, [side === 'left' ? x + lean : x - lean, y0 + most - 0.6 * OFF], `${degrees}°`)];
  });
  return [
    line('shape', outlineOf(top).map(lay(laid)), 'ink', true),
    ...(front === 'live' && !shape
      ? [line('least', level(y0 + least), 'faint'), line('most', level(y0 + most), 'faint')]
      : []),
    ...scribeItems(laid),
    ...zonesOf(top).flatMap((zone) => zoneItems(laid, zone)),
    ...angles,
    line('along', level(y0 - OFF), 'measured'),
    text('length', [length / 2, y0 - OFF], say(length)),
    line(
      'deep',
      [
        [length + OFF, y0],
        [length + OFF, y0 + most],
      ],
      'measured',
    ),
    text('depth', [length + OFF, y0 + most / 2], least === most ? say(most) : `${say(least)}–${say(most)}`, -90),
    {
      kind: 'text',
      id: `${id}-name`,
      at: [length / 2, y0 + most + 0.8 * OFF],
      text: `${top.name}, ${say(top.thickness)} thick`,
      pen: 'ink',
      shape: 'bare',
    },
  ];
}

/** What of a drawing can be taken hold of: a zone as a whole, its far corner, and the corners of a drawn shape. */
export interface Hold {
  readonly handle: Handle;
  readonly top: string;
  readonly what:
    | { readonly is: 'zone' | 'size'; readonly zone: Zone }
    | { readonly is: 'corner'; readonly index: number };
}

export function holdsOf(laid: LaidTop): Hold[] {
  const { top } = laid;
  const at = lay(laid);
  const zones = zonesOf(top).flatMap((zone): Hold[] => {
    const points = zone.polygon.map(at);
    const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
    const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    const name = `${top.id}/${zone.kind}/${zone.id}`;
    return [
      { top: top.id, what: { is: 'zone', zone }, handle: { id: `${name}/zone`, at: [x0, y1] } },
      { top: top.id, what: { is: 'size', zone }, handle: { id: `${name}/size`, at: [x1, y0] } },
    ];
  });
  const corners =
    top.shape?.kind === 'polygon'
      ? top.shape.outline.map(
          (p, index): Hold => ({
            top: top.id,
            what: { is: 'corner', index },
            handle: { id: `${top.id}/corner/${index}`, at: at(p) },
          }),
        )
      : [];
  return [...zones, ...corners];
}
