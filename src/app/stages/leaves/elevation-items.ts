import { applyAll, bounds, compose, contains, intersection, largestRing, type Polygon } from '../../../geometry';
import type { Door } from '../../../job';
import type { Front } from '../../../leaves';
import { type FrontReport, type PieceReport, panelInElevation } from '../../../plan';
import type { Item, XY } from '../../canvas/items';
import { imageOf, type LeafImages } from './leaf-images';

/** A front as it stands in the elevation, laid or not. */
export interface Standing {
  readonly front: Front;
  readonly laid: FrontReport | null;
}

/** Corners of a finished front. */
export const cornersOf = ({ at: [x, y], door: { width, height } }: Front): Polygon<'elevation'> => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];

/** Every wanted front with what is laid for it; a front whose size was changed since is not laid any more. */
export function standing(fronts: readonly Front[], laid: readonly FrontReport[]): Standing[] {
  return fronts.map((front) => {
    const own = laid.find(({ id }) => id === front.id);
    const fits = own && own.finished.width === front.door.width && own.finished.height === front.door.height;
    return { front, laid: fits ? { ...own, ...moved(own, front) } : null };
  });
}

/** A front laid in one place stands where its door was put meanwhile. */
function moved({ at, origin }: FrontReport, front: Front): Pick<FrontReport, 'at' | 'origin'> {
  const [dx, dy] = [front.at[0] - at[0], front.at[1] - at[1]];
  return { at: front.at, origin: [origin[0] + dx, origin[1] + dy] };
}

/** The pieces of a front that are in view: of its back, as seen from behind, where it is the one that was turned round. */
const piecesInView = (laid: FrontReport, turned: string | null): readonly PieceReport[] =>
  laid.id === turned ? laid.back : laid.pieces;

/** What of a piece is seen in the elevation. */
function seen(front: FrontReport, { cell }: PieceReport): readonly XY[] {
  const region = (outer: Polygon<'panel'>) => [{ outer, holes: [] }];
  const ring = largestRing(intersection(region(cell), region(front.sight)));
  return ring ? applyAll(panelInElevation(front), ring) : [];
}

/** The pieces of a front as its leaves show them. */
function pieceItems(front: FrontReport, images: LeafImages, turned: string | null): Item[] {
  return piecesInView(front, turned).flatMap((piece): Item[] => {
    const clip = seen(front, piece);
    if (clip.length < 3) return [];
    const found = imageOf(images, piece);
    const id = `${front.id}-${piece.number}`;
    if (!found) return [{ kind: 'area', id: `plain-${id}`, points: clip, hatch: 'none', pen: 'faint' }];
    const { m } = compose(panelInElevation(front), compose({ m: piece.toPanel }, found.map));
    return [{ kind: 'picture', id: `wood-${id}`, image: found.image, map: m, clip }];
  });
}

/** Panel of a front that stands in rails and stiles, as it is wanted. */
function sightOf({ at: [x, y], door }: Front): readonly XY[] | null {
  const { frame, width, height }: Pick<Door, 'frame' | 'width' | 'height'> = door;
  if (!frame) return null;
  const [left, right] = [x + frame.stile, x + width - frame.stile];
  const [top, foot] = [y + frame.topRail, y + height - frame.bottomRail];
  return [
    [left, top],
    [right, top],
    [right, foot],
    [left, foot],
  ];
}

/** The wood of all fronts. @param turned the front that is seen from behind */
export const woodItems = (all: readonly Standing[], images: LeafImages, turned: string | null): Item[] =>
  all.flatMap(({ laid }) => (laid ? pieceItems(laid, images, turned) : []));

/** A front lower than this is a drawer's, mm. */
const LOW = 250;

interface Marks {
  readonly chosen: string | null;
  readonly cell: number;
  readonly marked: string | null;
  readonly turned: string | null;
}

/** Edges, joints and names of all fronts. */
export function frontItems(all: readonly Standing[], { chosen, cell, marked, turned }: Marks): Item[] {
  return all.flatMap(({ front, laid }, i): Item[] => {
    const isChosen = front.id === chosen;
    const corners = cornersOf(front);
    const sight = sightOf(front);
    // Near the foot, where it hides least of the figure; low fronts have it in their middle, or it would stand out of them.
    const down = front.door.height < LOW ? 0.5 : 0.85;
    const [x, y] = [front.at[0] + front.door.width / 2, front.at[1] + down * front.door.height];
    const number = laid?.number ?? i + 1;
    const isTurned = front.id === turned;
    const says = laid
      ? `${number}${laid.locked ? ' locked' : ''}${isTurned ? ' from behind' : ''}`
      : `${number}: no leaves`;
    const piece = isChosen && laid ? piecesInView(laid, turned)[cell] : undefined;
    return [
      { kind: 'line', id: `edge-${front.id}`, points: corners, closed: true, pen: 'ink' },
      ...(sight ? [{ kind: 'line', id: `sight-${front.id}`, points: sight, closed: true, pen: 'ink' } as const] : []),
      ...(isChosen && laid && !isTurned
        ? laid.joints.map(({ line }, k): Item => {
            const points = applyAll(panelInElevation(laid), line);
            return { kind: 'line', id: `joint-${front.id}-${k}`, points, pen: 'joint' };
          })
        : []),
      ...(piece && laid
        ? [{ kind: 'line', id: `piece-${front.id}`, points: seen(laid, piece), closed: true, pen: 'measured' } as const]
        : []),
      ...(isChosen
        ? [{ kind: 'line', id: `chosen-${front.id}`, points: corners, closed: true, pen: 'chosen' } as const]
        : []),
      {
        kind: 'text',
        id: `name-${front.id}`,
        at: [x, y],
        text: marked === front.id ? `${says}: to change` : says,
        pen: isChosen ? 'chosen' : 'ink',
        shape: 'box',
      },
    ];
  });
}

/** The front, and the piece of it, at a place of the elevation. */
export function frontAt(
  all: readonly Standing[],
  at: XY,
  turned: string | null,
): { front: string; cell: number } | null {
  for (const { front, laid } of all) {
    if (!contains(cornersOf(front), at)) continue;
    const pieces = laid ? piecesInView(laid, turned) : [];
    const cell = pieces.findIndex((piece) => laid && contains(seen(laid, piece) as Polygon<'elevation'>, at));
    return { front: front.id, cell: Math.max(0, cell) };
  }
  return null;
}

/** The part of the sheet that shows all fronts. */
export function extentOfFronts(all: readonly Standing[]) {
  const points = all.flatMap(({ front }) => cornersOf(front));
  if (points.length === 0) return null;
  const { minX, minY, maxX, maxY } = bounds(points);
  const pad = 0.04 * Math.max(maxX - minX, maxY - minY);
  return { minX: minX - pad, minY: minY - pad, maxX: maxX + pad, maxY: maxY + pad };
}
