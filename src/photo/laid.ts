import { offset, type Point, type Polygon } from '../geometry';
import type { Calibration } from '../job';
import { CARD_MARGIN } from './dictionary';
import { type Measure, measure } from './measure';
import type { SightedPhoto } from './sighted';
import type { Laid } from './trace-types';

/** A rod whose width is not given is about this wide, mm (a tape or a batten). */
const ROD_WIDTH = 40;

/** What the reference covers on the face. With a drop it lies beside the slab, not on it. */
export function laidOf({ scale, cards }: Pick<SightedPhoto, 'scale' | 'cards'>, calibration: Calibration): Laid[] {
  const view = measure(calibration);
  const onWood = !scale.drop;
  const ring = (corners: readonly Point<'photo'>[]): Polygon<'face'> | null => {
    const places = corners.map((px) => view.place(px));
    return places.every((place) => place !== null) ? places : null;
  };
  const laid = (corners: readonly Point<'photo'>[], wider: number): Laid[] => {
    const polygon = ring(corners);
    const grown = polygon && (wider > 0 ? offset([{ outer: polygon, holes: [] }], wider, 'mitre')[0]?.outer : polygon);
    return grown ? [{ polygon: grown, onWood }] : [];
  };
  switch (scale.kind) {
    case 'markers':
      return cards.flatMap(({ corners }) => laid(corners, CARD_MARGIN * scale.side));
    case 'paper':
      return cards.flatMap(({ corners }) => laid(corners, 0));
    case 'rods':
      return scale.rods.flatMap(({ px: [a, b], corners, width = ROD_WIDTH }) =>
        corners ? laid(corners, 0) : along(view, a, b, width).map((polygon) => ({ polygon, onWood })),
      );
    case 'points':
    case 'slab':
      return [];
  }
}

/** A rod of which only the ends were clicked. */
function along(view: Measure, from: Point<'photo'>, to: Point<'photo'>, width: number): Polygon<'face'>[] {
  const [a, b] = [view.place(from), view.place(to)];
  if (!a || !b) return [];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [nx, ny] = [(-(b[1] - a[1]) / length) * (width / 2), ((b[0] - a[0]) / length) * (width / 2)];
  return [
    [
      [a[0] + nx, a[1] + ny],
      [b[0] + nx, b[1] + ny],
      [b[0] - nx, b[1] - ny],
      [a[0] - nx, a[1] - ny],
    ],
  ];
}
